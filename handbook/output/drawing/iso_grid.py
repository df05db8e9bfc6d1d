"""The grid of an isometric drawing: its points lie along the two 30-degree axes and the vertical.

A point is (column, row) with an even sum. One step along any of the six directions is one UNIT
long, so what stands on the grid is drawn to the angles of ISO 6412-2 by itself. Measures are in
points (1/72 in), y downward, as in SVG.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from typing import NamedTuple

UNIT = 8.0
COLUMN = UNIT * math.sqrt(3) / 2
ROW = UNIT / 2

Point = tuple[int, int]
Spot = tuple[float, float]
Edge = tuple[Point, Point]

DIRECTIONS: tuple[Point, ...] = ((0, -2), (1, -1), (1, 1), (0, 2), (-1, 1), (-1, -1))
"""Up, then clockwise by 60 degrees."""

UP, UP_RIGHT, DOWN_RIGHT, DOWN, DOWN_LEFT, UP_LEFT = range(6)


class Box(NamedTuple):
    """A rectangle on the sheet."""

    left: float
    top: float
    right: float
    bottom: float

    def moved(self, x: float, y: float) -> Box:
        """Return it moved."""
        return Box(self.left + x, self.top + y, self.right + x, self.bottom + y)

    def grown(self, by: float) -> Box:
        """Return it grown on all four sides."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: Box) -> bool:
        """Return whether the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def holds(self, other: Box) -> bool:
        """Return whether the other lies within it."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.top <= other.top
            and other.bottom <= self.bottom
        )


def sheet(point: Point) -> Spot:
    """Return where a point is on the sheet."""
    return point[0] * COLUMN, point[1] * ROW


def nearest(x: float, y: float) -> Point:
    """Return a point of the grid near a spot on the sheet."""
    column, row = round(x / COLUMN), round(y / ROW)
    return column, row + (column + row) % 2


def step(point: Point, direction: int, steps: int = 1) -> Point:
    """Return the point so many steps further."""
    dx, dy = DIRECTIONS[direction]
    return point[0] + steps * dx, point[1] + steps * dy


def distance(a: Point, b: Point) -> int:
    """Return the steps of the shortest way between two points."""
    across, down = abs(a[0] - b[0]), abs(a[1] - b[1])
    return across + max(0, (down - across) // 2)


def straight(a: Point, b: Point) -> int | None:
    """Return the direction from a to b, or None where they are not in line."""
    across, down = b[0] - a[0], b[1] - a[1]
    if across == 0:
        return None if down == 0 else (DOWN if down > 0 else UP)
    if abs(across) != abs(down):
        return None
    if across > 0:
        return DOWN_RIGHT if down > 0 else UP_RIGHT
    return DOWN_LEFT if down > 0 else UP_LEFT


def edge(a: Point, b: Point) -> Edge:
    """Return the edge between two neighbours, the same whichever comes first."""
    return (a, b) if a < b else (b, a)


def edges_near(box: Box) -> Iterator[Edge]:
    """Yield each edge of the grid that runs through a box."""
    first, last = math.floor(box.left / COLUMN) - 1, math.ceil(box.right / COLUMN) + 1
    top, bottom = math.floor(box.top / ROW) - 2, math.ceil(box.bottom / ROW) + 2
    for column in range(first, last + 1):
        for row in range(top + (column + top) % 2, bottom + 1, 2):
            point = (column, row)
            for direction in (UP_RIGHT, DOWN_RIGHT, DOWN):
                other = step(point, direction)
                if crosses(sheet(point), sheet(other), box):
                    yield edge(point, other)


def crosses(a: Spot, b: Spot, box: Box) -> bool:
    """Return whether the line from a to b runs through a box (not merely along its edge)."""
    if max(a[0], b[0]) < box.left or min(a[0], b[0]) > box.right:
        return False
    if max(a[1], b[1]) < box.top or min(a[1], b[1]) > box.bottom:
        return False
    start, end = 0.0, 1.0
    for p, q, low, high in (
        (a[0], b[0], box.left, box.right),
        (a[1], b[1], box.top, box.bottom),
    ):
        if p == q:
            if not low < p < high:
                return False
            continue
        t, u = sorted(((low - p) / (q - p), (high - p) / (q - p)))
        start, end = max(start, t), min(end, u)
    return start < end


def covers(box: Box, line: Sequence[tuple[float, float]]) -> bool:
    """Return whether a line of spots runs through a box."""
    return any(crosses(a, b, box) for a, b in itertools.pairwise(line))


def edges_of(way: Sequence[Point]) -> Iterable[Edge]:
    """Yield the edges of a way."""
    for a, b in itertools.pairwise(way):
        yield edge(a, b)


def middle(box: Box) -> tuple[float, float]:
    """Return the middle of a box."""
    return (box.left + box.right) / 2, (box.top + box.bottom) / 2


def rings(centre: Point, radius: int) -> Iterator[Point]:
    """Yield the points round a centre, the nearest first."""
    yield centre
    for ring in range(1, radius + 1):
        p = step(centre, 4, ring)
        for direction in range(6):
            for _ in range(ring):
                yield p
                p = step(p, direction)


@cache
def spokes(*lengths: int) -> tuple[Point, ...]:
    """Return the points so far from a centre in each direction."""
    return tuple(step((0, 0), direction, length) for length in lengths for direction in range(6))
