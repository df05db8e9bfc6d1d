"""Symbols that would touch are moved apart, as little as does it, and stay what they say.

Two neighbours keep their order: what lies on the house's side of a meter is drawn on that side. A
symbol stays on its thing's own side of every wall, lot line and edge of a walk. Where a place is
too tight for that along one axis, two symbols are moved apart along the other one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations
from math import hypot

from handbook.output.drawing.place import cross
from handbook.output.drawing.sheet import gap
from handbook.pages.plan.shapes import Point

APART = 1.2
"""Units that two symbols stay apart."""

ASTRAY = 1.5
"""Half sides of its symbol that a thing may be moved off a tie."""

INSIDE = 0.3
"""Units that a symbol's middle stays off a line that it must not cross."""

ROUNDS, TURNS = 200, 6
"""So often all pairs are gone through, and so often the axes of those that still touch change."""

SLACK = 0.01

Leg = tuple[Point, Point]
Pair = tuple[int, int]


def apart(
    homes: Sequence[Point],
    reaches: Sequence[float],
    sides: Sequence[Leg],
    ties: Sequence[Sequence[Leg]],
) -> list[Point]:
    """Return where symbols stand that belong at `homes`; off the ties, as far as that leaves each
    near where it stood. On a sheet too small to stay within the sides, at least none touches."""
    crowd = Crowd(homes, reaches, sides)
    before = crowd.settled(homes)
    if crowd.tight():
        crowd = Crowd(homes, reaches, ())
        before = crowd.settled(homes)
    moved = list(before)
    for i, reach in enumerate(reaches):
        for tie in ties[i]:
            moved[i] = _off(moved[i], tie, reach + APART / 2)
    if moved == before:
        return before
    settled = crowd.settled(moved)
    astray = any(
        gap(a, b) > ASTRAY * reach for a, b, reach in zip(before, settled, reaches, strict=True)
    )
    return before if astray else settled


@dataclass
class Crowd:
    """Symbols with their true places, and the lines that none of them crosses."""

    homes: Sequence[Point]
    reaches: Sequence[float]
    sides: Sequence[Leg]
    spots: list[Point] = field(default_factory=list)
    axes: dict[Pair, int] = field(default_factory=dict)
    walls: dict[int, list[tuple[Point, Point, Point, int]]] = field(default_factory=dict)
    """The lines that each must not cross: their ends, the way across, the side that is its own."""

    def settled(self, start: Sequence[Point]) -> list[Point]:
        """Return where all stand clear of one another, if they find room."""
        self.spots = [self.kept(i, at) for i, at in enumerate(start)]
        pairs = combinations(range(len(self.spots)), 2)
        self.axes = {pair: self._farther(*pair) for pair in pairs}
        for _ in range(TURNS):
            self._pushed()
            tight = self.tight()
            if not tight:
                break
            self.axes |= {pair: 1 - self.axes[pair] for pair in tight}
        return self.spots

    def tight(self) -> list[Pair]:
        """Return the pairs that still touch."""
        return [pair for pair in self.axes if self._touch(*pair)]

    def _pushed(self) -> None:
        for _ in range(ROUNDS):
            if not sum(self._push(*pair) for pair in self.axes):
                break

    def _farther(self, i: int, j: int) -> int:
        """Return the axis on which two things are farther apart: 0 across, 1 down. A tie goes one
        way, whichever way round the house is built."""
        (ax, ay), (bx, by) = self.homes[i], self.homes[j]
        return 0 if abs(ax - bx) > abs(ay - by) + 0.05 else 1

    def _touch(self, i: int, j: int) -> bool:
        """Whether two symbols touch."""
        clear = self.reaches[i] + self.reaches[j] + APART - SLACK
        (ax, ay), (bx, by) = self.spots[i], self.spots[j]
        return abs(ax - bx) < clear and abs(ay - by) < clear

    def _push(self, i: int, j: int) -> bool:
        """Move two symbols apart along their axis, or back into their order; whether it was
        needed."""
        if self._touch(i, j):
            axis = self.axes[i, j]
            way = 1 if self.homes[i][axis] > self.homes[j][axis] else -1
            clear = self.reaches[i] + self.reaches[j] + APART
            step = (clear - way * (self.spots[i][axis] - self.spots[j][axis])) / 2 * way
            by = (step, 0.0) if axis == 0 else (0.0, step)
        else:
            by = self._back(i, j)
            if by == (0.0, 0.0):
                return False
        self.spots[i] = self.kept(i, _moved(self.spots[i], by, 1))
        self.spots[j] = self.kept(j, _moved(self.spots[j], by, -1))
        return True

    def _back(self, i: int, j: int) -> Point:
        """Return by how much each of two has to move to be again in the order of their things."""
        (ax, ay), (bx, by) = self.homes[i], self.homes[j]
        dx, dy = ax - bx, ay - by
        long = hypot(dx, dy)
        if not long:
            return (0.0, 0.0)
        (px, py), (qx, qy) = self.spots[i], self.spots[j]
        ahead = ((px - qx) * dx + (py - qy) * dy) / long
        if ahead > SLACK:
            return (0.0, 0.0)
        step = (INSIDE - ahead) / 2 / long
        return (dx * step, dy * step)

    def kept(self, i: int, at: Point) -> Point:
        """Return a spot, moved back to its thing's side of the lines between the two."""
        home = self.homes[i]
        if i not in self.walls:
            found = ((a, b, _across(a, b), _beside(home, a, b)) for a, b in self.sides)
            self.walls[i] = [
                (a, b, across, 1 if own > 0 else -1)
                for a, b, across, own in found
                if abs(own) > INSIDE
            ]
        for _ in range(2):  # a corner has two sides
            for a, b, across, side in self.walls[i]:
                if cross(home, _moved(at, across, -side * INSIDE), a, b):
                    at = _moved(at, across, side * INSIDE - _beside(at, a, b))
        return at


def _moved(at: Point, by: Point, times: float) -> Point:
    return (at[0] + by[0] * times, at[1] + by[1] * times)


def _across(a: Point, b: Point) -> Point:
    """Return the direction square to a line."""
    long = gap(a, b) or 1.0
    return (-(b[1] - a[1]) / long, (b[0] - a[0]) / long)


def _beside(at: Point, a: Point, b: Point) -> float:
    """Return how far a point lies to one side of a line."""
    nx, ny = _across(a, b)
    return (at[0] - a[0]) * nx + (at[1] - a[1]) * ny


def _off(at: Point, tie: Leg, clear: float) -> Point:
    """Return a symbol's spot, moved sideways off a line that runs through it."""
    a, b = tie
    long = gap(a, b)
    nx, ny = _across(a, b)
    along = ((at[0] - a[0]) * ny - (at[1] - a[1]) * nx) if long else -clear
    if not -clear < along < long + clear:
        return at
    off = _beside(at, a, b)
    wanted = clear * (abs(nx) + abs(ny)) - abs(off)  # a square's reach across the line
    if wanted <= SLACK:
        return at
    side = 1 if off >= 0 else -1
    return (at[0] + nx * wanted * side, at[1] + ny * wanted * side)
