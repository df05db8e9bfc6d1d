"""A pipe on the sheet: its straight parts, and the marks that lie in them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from handbook.output.drawing.iso_grid import Box, Point, Spot, sheet
from handbook.output.drawing.iso_own import Named
from handbook.output.drawing.iso_own import along as laid_along
from handbook.output.drawing.iso_text import Text, around
from handbook.pages.riser.content import RiserMark

HALF = 5.0
"""Half of a symbol's length along its pipe."""

ACROSS = 4.2
"""Half of a symbol's breadth."""


@dataclass(frozen=True)
class Stretch:
    """A straight part of a way: its two ends on the sheet, and how far along the way it starts."""

    a: Spot
    b: Spot
    start: float

    @property
    def length(self) -> float:
        """Its length in points."""
        return math.dist(self.a, self.b)

    @property
    def unit(self) -> Spot:
        """Its direction."""
        n = self.length or 1.0
        return (self.b[0] - self.a[0]) / n, (self.b[1] - self.a[1]) / n

    def at(self, along: float) -> Spot:
        """Return the spot so far along the way."""
        (ux, uy), t = self.unit, along - self.start
        return self.a[0] + ux * t, self.a[1] + uy * t


@dataclass(frozen=True)
class Placed:
    """A mark in a pipe: where, which way the pipe runs there, how far along, its words."""

    mark: RiserMark
    spot: Spot
    unit: Spot
    along: float
    texts: tuple[Text, ...]

    @property
    def box(self) -> Box:
        """What its symbol takes."""
        return symbol_box(self.spot, self.unit)

    @property
    def named(self) -> Named:
        """Its symbol and its words."""
        return Named(laid_along(self.spot, self.unit), around(self.texts))


def symbol_box(spot: Spot, unit: Spot, half: float = HALF, across: float = ACROSS) -> Box:
    """Return the box of a symbol that lies along a pipe."""
    wide = abs(unit[0]) * half + abs(unit[1]) * across
    high = abs(unit[1]) * half + abs(unit[0]) * across
    return Box(spot[0] - wide, spot[1] - high, spot[0] + wide, spot[1] + high)


def stretches(line: Sequence[Spot]) -> tuple[Stretch, ...]:
    """Return the straight parts of a line of spots."""
    found, along = [], 0.0
    for a, b in itertools.pairwise(line):
        found.append(Stretch(a, b, along))
        along += math.dist(a, b)
    return tuple(found)


def line_of(way: Sequence[Point], into: Sequence[Box]) -> list[Spot]:
    """Return the corners of a way on the sheet, cut off where it enters the boxes at its ends."""
    corners = [sheet(way[0])]
    for a, p, b in zip(way, way[1:], way[2:], strict=False):
        if (p[0] - a[0], p[1] - a[1]) != (b[0] - p[0], b[1] - p[1]):
            corners.append(sheet(p))
    corners.append(sheet(way[-1]))
    for box in into:
        corners = _cut(corners, box)
        corners = _cut(corners[::-1], box)[::-1]
    return corners


def _cut(line: list[Spot], box: Box) -> list[Spot]:
    """Cut off the part of a line that lies in a box at its start."""
    if not _inside(line[0], box):
        return line
    for n, (a, b) in enumerate(itertools.pairwise(line)):
        if not _inside(b, box):
            return [_leaving(a, b, box), *line[n + 1 :]]
    return line


def _inside(spot: Spot, box: Box) -> bool:
    return box.left <= spot[0] <= box.right and box.top <= spot[1] <= box.bottom


def _leaving(a: Spot, b: Spot, box: Box) -> Spot:
    shares = [1.0]
    for p, q, low, high in ((a[0], b[0], box.left, box.right), (a[1], b[1], box.top, box.bottom)):
        if q > p:
            shares.append((high - p) / (q - p))
        elif q < p:
            shares.append((low - p) / (q - p))
    t = min(shares)
    return a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t
