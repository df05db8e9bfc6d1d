"""Where symbols stand when things are too close together for the map's scale.

Things of one kind and one room whose symbols would cover each other share one symbol, with all
their tags beside it. Different symbols that would touch are moved apart.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

from handbook.output.drawing.around import Scene
from handbook.output.drawing.moving import Crowd, Leg, apart
from handbook.output.drawing.piped import lines
from handbook.output.drawing.settling import Settling
from handbook.output.drawing.sheet import Box, Frame, Standing, gap
from handbook.output.drawing.symbols import extent
from handbook.pages.plan.geometry import edges
from handbook.pages.plan.shapes import GROUND, Mark, Plan, Point
from handbook.tables import table

SHARED = 0.75
"""Share of a symbol's side within which two things of one kind share a symbol."""

UNSEEN = "(?)"
"""Behind the tag of a thing whose place was only told or drawn."""

ASLANT = 1.12
"""How far a symbol that is turned aslant reaches, in half sides: the corners of a valve's do."""

RING = 1.7
"""How far the ring round the thing that a map is about reaches, in half sides of its symbol."""


@lru_cache(maxsize=4)
def standing(plan: Plan, frame: Frame, size: float) -> tuple[Standing, ...]:
    """Return a plan's marks as they stand on the sheet, none touching another, nor a tie or a pipe
    but its own. A map is laid out in one frame more than once."""
    groups = _groups(plan.marks, frame, size)
    homes = [_middle([frame.at(mark.at) for mark in group]) for group in groups]
    reaches = [_reach(group, size / 2) for group in groups]
    clear = [
        reach * (ASLANT if any(mark.turn % 90 for mark in group) else 1.0)
        for group, reach in zip(groups, reaches, strict=True)
    ]
    sides, ties = _sides(plan, frame), _foreign(groups, plan, frame)
    spots = apart(homes, clear, sides, ties)
    pipes = lines(plan, groups, frame)
    if pipes:
        fixed = frozenset(n for n, group in enumerate(groups) if group[0].kind == "corner")
        taped = [sum(tie.to in {m.at for m in group} for tie in plan.ties) for group in groups]
        scene = Scene(Crowd(homes, clear, sides), pipes, ties, fixed)
        spots = Settling(scene, taped).settled(spots)
    found = zip(groups, homes, spots, reaches, strict=True)
    return tuple(_standing(group, home, at, reach, size) for group, home, at, reach in found)


def _reach(group: Sequence[Mark], half: float) -> float:
    """Return how far a symbol reaches to its farthest side: a tee's dot less than others."""
    if any(mark.ringed for mark in group):
        return half * RING
    shape = table("map_marks").values[group[0].kind]["shape"]
    return half * max(abs(side) for side in extent(shape))


def by_number(tag: str) -> tuple[str, int, str]:
    """Return what sorts tags as people count them: W2 before W10."""
    letters, digits, rest = re.fullmatch(r"(\D*)(\d*)(.*)", tag, re.DOTALL).groups()  # type: ignore[union-attr]
    return letters, int(digits or 0), rest


def _groups(marks: Sequence[Mark], frame: Frame, size: float) -> list[list[Mark]]:
    """Gather marks of one kind that stand near one another, directly or through a third."""
    groups: list[list[Mark]] = []
    for mark in marks:
        near = [group for group in groups if any(_near(mark, o, frame, size) for o in group)]
        groups = [group for group in groups if group not in near]
        groups.append([*(other for group in near for other in group), mark])
    return groups


def _near(a: Mark, b: Mark, frame: Frame, size: float) -> bool:
    same = (a.kind, a.room) == (b.kind, b.room)
    return same and gap(frame.at(a.at), frame.at(b.at)) <= SHARED * size


def _middle(spots: list[Point]) -> Point:
    xs, ys = zip(*spots, strict=True)
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _sides(plan: Plan, frame: Frame) -> list[Leg]:
    """Return the lines of which each thing stays on its own side: outlines of rooms and of the
    building, the lot's line, edges of decks, drives and walks."""
    legs = [edge for room in plan.rooms for edge in edges(frame.line(room.outline))]
    ground = (pipe for pipe in plan.pipes if pipe.kind in GROUND)
    return legs + [leg for pipe in ground for leg in pairwise(frame.line(pipe.points))]


def _foreign(groups: list[list[Mark]], plan: Plan, frame: Frame) -> list[list[Leg]]:
    """Return for each symbol the ties that neither start nor end at it."""
    return [
        [
            (frame.at(tie.corner), frame.at(tie.to))
            for tie in plan.ties
            if not {tie.corner, tie.to} & {mark.at for mark in group}
        ]
        for group in groups
    ]


def _standing(group: list[Mark], home: Point, at: Point, reach: float, size: float) -> Standing:
    ordered = sorted(group, key=lambda mark: (-mark.rank, by_number(mark.tag), mark.words))
    entries = tuple(dict.fromkeys(_said(m) for m in ordered if m.tag or m.words))
    ids = tuple(one for mark in ordered for one in mark.ids)
    first, at = ordered[0], (round(at[0], 2), round(at[1], 2))
    return Standing(first, at, reach, _body(first, at, reach, size), entries, ids, home)


def _said(mark: Mark) -> tuple[str, str]:
    """Return a mark's tag and words, with the sign of what nobody saw behind the first."""
    if not mark.unseen:
        return mark.tag, mark.words
    return (f"{mark.tag} {UNSEEN}", mark.words) if mark.tag else ("", f"{mark.words} {UNSEEN}")


def _body(mark: Mark, at: Point, reach: float, size: float) -> Box:
    """Return what a symbol covers; with a ring round it, the ring's square."""
    (x, y), half = at, size / 2
    if mark.ringed:
        return (x - reach, y - reach, x + reach, y + reach)
    left, top, right, bottom = extent(table("map_marks").values[mark.kind]["shape"], mark.turn)
    return (x + left * half, y + top * half, x + right * half, y + bottom * half)
