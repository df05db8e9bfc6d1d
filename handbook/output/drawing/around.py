"""What is amiss with a symbol at a place, while all others stand still: that it touches another,
a tie, or a pipe that it is no part of; or that it leaves or spoils its own pipe.

Many places are asked about round one symbol, so that what lies out of the reach of all of them is
left out once, when the symbol's surroundings are looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, inf

from handbook.output.drawing.moving import APART, Crowd, Leg
from handbook.output.drawing.piped import Line
from handbook.output.drawing.sheet import Box, gap
from handbook.pages.plan.shapes import Point

ON, TIE = 10.0, 2.0
"""What it costs to stand on another's pipe, or off one's own; and on a tie."""

AWAY = 0.25
"""Square units: a line ends half a unit beyond another, at least, that it runs across."""


@dataclass(frozen=True)
class Scene:
    """Symbols on their pipes: where they belong and reach, the lines and ties between them, and
    which of them stay where they are."""

    crowd: Crowd
    lines: Sequence[Line]
    ties: Sequence[Sequence[Leg]]
    fixed: frozenset[int]


@dataclass(frozen=True)
class Band:
    """A straight line with the reach of a symbol that must keep off it."""

    box: Box
    start: Point
    square_to: Point
    half: float

    @classmethod
    def near(cls, a: Point, b: Point, reach: float, near: Box) -> Band | None:
        """The band round a line from a to b, unless it lies off a box."""
        left, right = (a[0], b[0]) if a[0] < b[0] else (b[0], a[0])
        top, bottom = (a[1], b[1]) if a[1] < b[1] else (b[1], a[1])
        box = (left - reach, top - reach, right + reach, bottom + reach)
        if not _meet(box, near):
            return None
        long = gap(a, b) or 1.0
        nx, ny = (a[1] - b[1]) / long, (b[0] - a[0]) / long
        return cls(box, a, (nx, ny), reach * (abs(nx) + abs(ny)))

    def holds(self, x: float, y: float) -> bool:
        """Whether the line runs through the square that reaches so far round a point."""
        left, top, right, bottom = self.box
        if x < left or x > right or y < top or y > bottom:
            return False
        (ax, ay), (nx, ny) = self.start, self.square_to
        return abs((ax - x) * nx + (ay - y) * ny) <= self.half


@dataclass(frozen=True)
class Run:
    """A pipe that ends at the symbol: its points, which of them move with it, the squares of the
    symbols that it must not run into, and the pipes that it must not run across."""

    points: tuple[Point, ...]
    moving: tuple[int, ...]
    squares: Sequence[tuple[Point, float]]
    legs: Sequence[Leg]

    def spoilt(self, at: Point) -> int:
        """Return how many things the pipe, led to a place, runs into."""
        points = [*self.points]
        for end in self.moving:
            points[end] = at
        own = [*pairwise(points)]
        count = 0
        for square in self.squares:
            for a, b in own:
                if met(a, b, *square):
                    count += 1
                    break
        return count + len([1 for leg in self.legs for a, b in own if across(a, b, *leg)])


class Around:
    """What lies round a symbol that may be moved so far from its own place, or stay."""

    def __init__(self, scene: Scene, i: int, spots: Sequence[Point], far: float) -> None:
        (x, y), reach = scene.crowd.homes[i], scene.crowd.reaches[i]
        near = box_of(((x - far, y - far), (x + far, y + far), spots[i]))
        drawn = [line.drawn(spots) for line in scene.lines]
        self._others = [*_others(scene.crowd, i, spots, near)]
        self._ties = [[band] for band in _bands(scene.ties[i], reach + APART / 2, near)]
        self._pipes: list[list[Band]] = []
        self._own: list[list[Band]] = []
        self._runs: list[Run] = []
        for line, points in zip(scene.lines, drawn, strict=True):
            if i in line.ends:
                swept = box_of((*points, near[:2], near[2:]))
                squares, legs = (
                    _squares(scene, line, spots, swept),
                    _legs(scene, line, drawn, swept),
                )
                moving = tuple(end for end in (0, -1) if line.ends[end] == i)
                self._runs.append(Run(points, moving, squares, legs))
            elif i in line.own:
                if _on(line.points, (x, y), reach / 2):
                    self._own.append([*_bands(pairwise(points), reach / 2, near)])
            elif i not in line.meets and i not in scene.fixed:
                self._pipes.append([*_bands(pairwise(points), reach + line.clear, near)])
        self._pipes = [bands for bands in self._pipes if bands]

    def amiss(self, at: Point, clash: float, least: float = inf) -> float:
        """Return what a place costs, where `clash` is the price of touching another symbol or
        changing the order with one; as soon as that is no less than `least`, no more of it."""
        x, y = at
        cost = 0.0
        for qx, qy, clear, dx, dy in self._others:
            across, down = x - qx, y - qy
            if across * dx + down * dy < 0 or (abs(across) < clear and abs(down) < clear):
                cost += clash
                if cost >= least:
                    return cost
        cost += TIE * _held(self._ties, x, y)
        cost += ON * (_held(self._pipes, x, y) + len(self._own) - _held(self._own, x, y))
        for run in self._runs:
            if cost >= least:
                break
            cost += ON * run.spoilt(at)
        return cost

    def on_others(self, at: Point) -> int:
        """Return on how many pipes that it is no part of a symbol stands at a place."""
        return _held(self._pipes, *at)


def _others(
    crowd: Crowd, i: int, spots: Sequence[Point], near: Box
) -> Iterator[tuple[float, float, float, float, float]]:
    """Yield each other symbol that one may touch or change the order with: where it stands, how
    far both reach, and which way the one lies from it in truth."""
    (hx, hy), (left, top, right, bottom) = crowd.homes[i], near
    for j, ((qx, qy), (ox, oy)) in enumerate(zip(spots, crowd.homes, strict=True)):
        clear = crowd.reaches[i] + crowd.reaches[j] + APART - 0.01
        dx, dy = hx - ox, hy - oy
        lowest = ((left if dx > 0 else right) - qx) * dx + ((top if dy > 0 else bottom) - qy) * dy
        touched = _meet(near, (qx - clear, qy - clear, qx + clear, qy + clear))
        if j != i and (touched or lowest < 0):
            yield qx, qy, clear, dx, dy


def _squares(
    scene: Scene, line: Line, spots: Sequence[Point], swept: Box
) -> list[tuple[Point, float]]:
    """Return what a pipe must keep off that stays in a box: the middles of symbols that it is no
    part of, and how far off."""
    foreign = {*range(len(spots))} - line.own - line.meets - scene.fixed
    squares = ((spots[j], scene.crowd.reaches[j] + line.clear) for j in sorted(foreign))
    return [(at, reach) for at, reach in squares if _meet(swept, _square(at, reach))]


def _legs(scene: Scene, line: Line, drawn: Sequence[tuple[Point, ...]], swept: Box) -> list[Leg]:
    """Return the parts in a box of the pipes that a pipe does not meet."""
    return [
        leg
        for other, points in zip(scene.lines, drawn, strict=True)
        if not line.own & (other.own | other.meets)
        for leg in pairwise(points)
        if _meet(swept, box_of(leg))
    ]


def _bands(legs: Iterable[Leg], reach: float, near: Box) -> Iterator[Band]:
    """Yield the bands that come near round the parts of a line."""
    found = (Band.near(a, b, reach, near) for a, b in legs)
    return (band for band in found if band)


def _held(lines: Sequence[Sequence[Band]], x: float, y: float) -> int:
    """Return how many lines a symbol at a point stands on."""
    count = 0
    for bands in lines:
        for band in bands:
            if band.holds(x, y):
                count += 1
                break
    return count


def _on(points: Sequence[Point], at: Point, reach: float) -> bool:
    return any(met(a, b, at, reach) for a, b in pairwise(points))


def box_of(points: Sequence[Point]) -> Box:
    """Return the upright rectangle round some points."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _square(at: Point, reach: float) -> Box:
    return at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach


def _meet(a: Box, b: Box) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def across(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether one straight line runs across another, rather than along or up to it."""
    return _side(a, b, c) * _side(a, b, d) < -AWAY and _side(c, d, a) * _side(c, d, b) < -AWAY


def _side(a: Point, b: Point, at: Point) -> float:
    """Return how far a point lies to one side of a line."""
    long = gap(a, b) or 1.0
    return ((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])) / long


def met(a: Point, b: Point, at: Point, reach: float) -> bool:
    """Whether a straight line runs through the square that reaches so far round a point."""
    ax, ay, bx, by = a[0] - at[0], a[1] - at[1], b[0] - at[0], b[1] - at[1]
    if (ax > reach and bx > reach) or (ax < -reach and bx < -reach):
        return False
    if (ay > reach and by > reach) or (ay < -reach and by < -reach):
        return False
    long = hypot(bx - ax, by - ay)
    if not long:
        return True
    nx, ny = (ay - by) / long, (bx - ax) / long
    return abs(ax * nx + ay * ny) <= reach * (abs(nx) + abs(ny))
