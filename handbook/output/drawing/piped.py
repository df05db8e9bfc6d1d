"""Pipes run to the symbols that stand at their ends, wherever these had to be moved, and no symbol
stands on a pipe that it is no part of: it would seem to be.

Symbols that do are moved one at a time to where they cause least trouble. What it costs to touch
another symbol, or to change places with one, rises from round to round, so that a crowd first
loosens and then settles; a way to stand in which symbols still touch is not taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise, product
from math import cos, hypot, inf, pi, sin

from handbook.output.drawing.moving import APART, Crowd, Leg
from handbook.output.drawing.sheet import Frame, Standing, gap
from handbook.pages.plan.shapes import GROUND, Mark, Pipe, Plan, Point
from handbook.tables import table

OFF = 0.8
"""Units that a symbol keeps off another's pipe, past half its width."""

SAME = 1.0
"""Inches within which a thing stands at a pipe's end."""

ON, TIE, ASTRAY = 10.0, 2.0, 0.5
"""What it costs to stand on another's pipe, or off one's own; on a tie; and each half side of a
symbol that it stands off its place, the more the more runs to it."""

LONG, TAPE = 60.0, 2.0
"""Units of pipe that make it twice as dear to move the symbol at its end; a tape, as so many."""

AWAY = 0.25
"""Square units: a line ends half a unit beyond another, at least, that it runs across."""

EASY, EVEN = 0.2, 0.05
"""What costs no more stays where it is; and what is as good as another place."""

CLASH = (1.0, 3.0, 8.0, 20.0, 60.0, 60.0, 60.0)
"""What it costs, from round to round, that two symbols touch or have changed their order."""

NEVER = 1000.0
"""What that costs when ways to stand are compared: more than all else together."""

STEPS, RINGS, TURNS = 3, 20, 24
"""How many rings of places round its own a symbol is offered to its half side, and in all; and how
many places on each."""


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


@dataclass
class Piped:
    """Symbols on their pipes: where they belong and reach, the lines and ties between them."""

    crowd: Crowd
    lines: Sequence[Line]
    ties: Sequence[Sequence[Leg]]
    taped: Sequence[int]
    fixed: frozenset[int]
    spots: list[Point] = field(default_factory=list)
    clash: float = CLASH[-1]
    outward: dict[int, list[Point]] = field(default_factory=dict)

    def settled(self, start: Sequence[Point]) -> list[Point]:
        """Return where the symbols stand, as they did at the start if that is no worse."""
        self.spots = [*start]
        if not any(self._amiss(i, at) for i, at in enumerate(start)):
            return self.spots
        order = [i for i in range(len(start)) if i not in self.fixed]
        begun = product((self.crowd.homes, start), (order, order[::-1]))
        return min(([*start], *(self._loosened(*one) for one in begun)), key=self._trouble)

    def _loosened(self, start: Sequence[Point], order: Sequence[int]) -> list[Point]:
        self.spots = [self.crowd.kept(i, at) for i, at in enumerate(start)]
        for self.clash in CLASH:
            for i in order:
                if self._cost(i, self.spots[i]) > EASY:
                    self.spots[i] = self._best(i)
        return self.spots

    def _trouble(self, spots: Sequence[Point]) -> float:
        """Return what a way to stand costs."""
        self.spots, self.clash = [*spots], NEVER
        return sum(self._cost(i, at) for i, at in enumerate(spots))

    def _best(self, i: int) -> Point:
        """Return the place round a symbol's own where it costs least, on its side of every wall."""
        (x, y), reach = self.crowd.homes[i], self.crowd.reaches[i]
        best, least = self.spots[i], self._cost(i, self.spots[i])
        for ring in range(RINGS + 1):
            if self._holds(i) * ring / STEPS >= least:
                break
            far = reach * ring / STEPS
            for across, down in self._outward(i) if ring else ((0.0, 0.0),):
                at = (x + far * across, y + far * down)
                cost = self._cost(i, at, least)
                if cost < least - EVEN and self.crowd.kept(i, at) == at:
                    best, least = at, cost
        return best

    def _outward(self, i: int) -> list[Point]:
        """Return the directions in which a symbol may move, first away from the middle of all, so
        that a mirrored house is drawn mirrored."""
        if i not in self.outward:
            xs, ys = zip(*self.crowd.homes, strict=True)
            x, y = self.crowd.homes[i]
            away = x - sum(xs) / len(xs), y - sum(ys) / len(ys)
            turns = [(cos(2 * pi * n / TURNS), sin(2 * pi * n / TURNS)) for n in range(TURNS)]
            self.outward[i] = sorted(turns, key=lambda way: -round(dot(way, away), 1))
        return self.outward[i]

    def _cost(self, i: int, at: Point, least: float = inf) -> float:
        """Return what a place costs a symbol; as soon as that is more than the least so far, no
        more of it."""
        cost = self._holds(i) * gap(at, self.crowd.homes[i]) / self.crowd.reaches[i]
        return cost + self._amiss(i, at, least - cost) if cost < least else cost

    def _holds(self, i: int) -> float:
        """Return how dear it is to move a symbol: the longer the pipes that it would tilt, and the
        more tapes run to it, the more."""
        tilted = sum(gap(*line.points) for line in self.lines if i in line.ends)
        return ASTRAY * (1 + tilted / LONG + TAPE * self.taped[i])

    def _amiss(self, i: int, at: Point, least: float = inf) -> float:
        """Return what it costs that a symbol at a place touches or leaves what it should not."""
        reach = self.crowd.reaches[i]
        cost = self.clash * sum(self._clash(i, j, at) for j in range(len(self.spots)) if j != i)
        if cost >= least:
            return cost
        cost += TIE * sum(met(*tie, at, reach + APART / 2) for tie in self.ties[i])
        was, self.spots[i] = self.spots[i], at
        for line in self.lines:
            if i in line.own:
                cost += ON * self._lost(i, line)
            elif i not in self.fixed | line.meets:
                cost += ON * self._on(i, line)
        self.spots[i] = was
        return cost

    def _lost(self, i: int, line: Line) -> int:
        """Return how much is amiss with a pipe that a symbol is part of: that the symbol has left
        it, or that the pipe, led to the symbol, runs into others."""
        if i in line.ends:
            others = {*range(len(self.spots))} - line.own - line.meets - self.fixed
            return sum(self._on(j, line) for j in others) + self._crossed(line)
        belongs = _touches(line.points, self.crowd.homes[i], self.crowd.reaches[i] / 2)
        on = _touches(line.drawn(self.spots), self.spots[i], self.crowd.reaches[i] / 2)
        return int(belongs and not on)

    def _crossed(self, line: Line) -> int:
        """Return how many other pipes a pipe runs across that it does not meet."""
        drawn = line.drawn(self.spots)
        return sum(
            _across(*one, *leg)
            for other in self.lines
            if not line.own & (other.own | other.meets)
            for one, leg in product(pairwise(drawn), pairwise(other.drawn(self.spots)))
        )

    def _on(self, i: int, line: Line) -> int:
        reach = self.crowd.reaches[i] + line.clear
        return int(_touches(line.drawn(self.spots), self.spots[i], reach))

    def _clash(self, i: int, j: int, at: Point) -> int:
        """Whether two symbols touch, or have changed their order."""
        (x, y), (qx, qy) = at, self.spots[j]
        clear = self.crowd.reaches[i] + self.crowd.reaches[j] + APART - 0.01
        if abs(x - qx) < clear and abs(y - qy) < clear:
            return 1
        (ax, ay), (bx, by) = self.crowd.homes[i], self.crowd.homes[j]
        return int((x - qx) * (ax - bx) + (y - qy) * (ay - by) < 0)


def _across(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether one straight line runs across another, rather than along or up to it."""
    return _side(a, b, c) * _side(a, b, d) < -AWAY and _side(c, d, a) * _side(c, d, b) < -AWAY


def _side(a: Point, b: Point, at: Point) -> float:
    """Return how far a point lies to one side of a line."""
    long = gap(a, b) or 1.0
    return ((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])) / long


def _touches(points: Sequence[Point], at: Point, reach: float) -> bool:
    return any(met(a, b, at, reach) for a, b in pairwise(points))


def dot(a: Point, b: Point) -> float:
    """Return how far two directions go the same way."""
    return a[0] * b[0] + a[1] * b[1]


def met(a: Point, b: Point, at: Point, reach: float) -> bool:
    """Whether a straight line runs through the square that reaches so far round a point."""
    (ax, ay), (bx, by) = (a[0] - at[0], a[1] - at[1]), (b[0] - at[0], b[1] - at[1])
    if min(ax, bx) > reach or max(ax, bx) < -reach or min(ay, by) > reach or max(ay, by) < -reach:
        return False
    long = hypot(bx - ax, by - ay)
    if not long:
        return True
    nx, ny = (ay - by) / long, (bx - ax) / long
    return abs(ax * nx + ay * ny) <= reach * (abs(nx) + abs(ny))
