"""A map's pipes as they lie on the sheet: run to the symbols that stand at their ends, wherever
these had to be moved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from handbook.output.drawing.sheet import Frame, Standing, gap
from handbook.pages.plan.shapes import GROUND, Mark, Pipe, Plan, Point
from handbook.tables import table

OFF = 0.8
"""Units that a symbol keeps off another's pipe, past half its width."""

SAME = 1.0
"""Inches within which a thing stands at a pipe's end."""


@dataclass(frozen=True)
class Line:
    """A pipe on the sheet: its points, the symbols at its two ends, all that are part of it, those
    that it only meets where pipes divide, and how far it keeps others off."""

    points: tuple[Point, ...]
    ends: tuple[int | None, int | None]
    own: frozenset[int]
    meets: frozenset[int]
    clear: float

    def drawn(self, spots: Sequence[Point]) -> tuple[Point, ...]:
        """Return its points, from the symbol at one end to that at the other."""
        first, last = self.ends
        start = self.points[0] if first is None else spots[first]
        end = self.points[-1] if last is None else spots[last]
        return (start, *self.points[1:-1], end)

    def bent(self, spots: Sequence[Point]) -> float:
        """Return how far it is turned from the way it runs: 1 by a right angle, 2 round about."""
        drawn = self.drawn(spots)
        (ax, ay), (bx, by) = self.points[0], self.points[-1]
        (cx, cy), (dx, dy) = drawn[0], drawn[-1]
        long = gap(self.points[0], self.points[-1]) * gap(drawn[0], drawn[-1])
        if not long:
            return 0.0
        aside = abs((bx - ax) * (dy - cy) - (by - ay) * (dx - cx)) / long
        return aside if (bx - ax) * (dx - cx) + (by - ay) * (dy - cy) > 0 else 2 - aside


def lines(plan: Plan, groups: Sequence[Sequence[Mark]], frame: Frame) -> list[Line]:
    """Return a plan's pipes, with the symbols, each of a group of marks, that are part of them."""
    widths = table("map_lines").values
    pipes = [pipe for pipe in plan.pipes if pipe.kind not in GROUND]
    marked = {one for group in groups for mark in group for one in mark.ids}
    parts = [{*pipe.ends, *pipe.on} for pipe in pipes]
    joints = [{*pipe.ends} - marked - {""} for pipe in pipes]
    found = []
    for pipe, names, joint in zip(pipes, parts, joints, strict=True):
        near = [part for part, other in zip(parts, joints, strict=True) if joint & other]
        ends = _at_end(pipe, 0, groups), _at_end(pipe, -1, groups)
        own, meets = _of(names, groups), _of({one for part in near for one in part}, groups)
        clear = widths[pipe.kind]["width"] / 2 + OFF
        found.append(Line(tuple(frame.line(pipe.points)), ends, own, meets - own, clear))
    return found


def _of(names: set[str], groups: Sequence[Sequence[Mark]]) -> frozenset[int]:
    """Return the symbols of some things."""
    return frozenset(n for n, group in enumerate(groups) for m in group if names & {*m.ids})


def led(plan: Plan, frame: Frame, stands: Sequence[Standing]) -> list[tuple[Point, ...]]:
    """Return where each line of a plan lies on the sheet, a pipe led to the symbols at its ends."""
    groups = [[m for m in plan.marks if {*m.ids} & {*stand.ids}] for stand in stands]
    spots = [stand.at for stand in stands]
    pipes = iter(lines(plan, groups, frame))
    return [
        tuple(frame.line(pipe.points)) if pipe.kind in GROUND else next(pipes).drawn(spots)
        for pipe in plan.pipes
    ]


def _at_end(pipe: Pipe, end: int, groups: Sequence[Sequence[Mark]]) -> int | None:
    """Return the symbol that stands at an end of a pipe."""
    name, at = pipe.ends[end], pipe.points[end]
    for n, group in enumerate(groups):
        if any(name in mark.ids and gap(mark.at, at) <= SAME for mark in group):
            return n
    return None
