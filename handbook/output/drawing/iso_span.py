"""The shortest way between two bodies of an isometric drawing that are joined by a pipe: between
which of their ports it runs, and what it costs that it is bent or runs against its direction."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from handbook.output.drawing.iso_body import Body
from handbook.output.drawing.iso_grid import Point, Spot, distance, sheet, straight


@dataclass(frozen=True)
class Join:
    """A pipe as the search sees it: two bodies, how long it has to be, which way it should go."""

    pipe: int
    a: int
    b: int
    need: float
    way: Spot | None
    """The direction on the sheet, of length one, from a to b; None where nothing says it."""
    depths: tuple[tuple[int, float, bool, float], ...] = ()
    """For a pipe from zone to zone: (body, border, whether upright, steps) the body keeps off."""
    falls: int = 0
    """1 where it may only fall (waste), -1 where it may only rise (a vent, from its lower end)."""


class Span(NamedTuple):
    """The two ends, from the first body's point, the steps between them, what its bend and its
    direction cost."""

    start: Point
    end: Point
    length: int
    cost: float


@dataclass(frozen=True)
class Spans:
    """The spans of pipes that are alike, by how the second body stands to the first."""

    starts: tuple[Point, ...]
    goals: tuple[Point, ...]
    stubbed: tuple[bool, bool]
    """Whether each body stands on stubs, so that pipes come to it from below."""
    way: Spot | None
    zoned: bool
    falls: int
    known: dict[Point, Span] = field(default_factory=dict, compare=False)

    def at(self, offset: Point) -> Span:
        """Return the span to a second body so far from the first; each is measured once."""
        found = self.known.get(offset)
        if found is None:
            found = self.known[offset] = self._measured(offset)
        return found

    def _measured(self, offset: Point) -> Span:
        pairs = [(a, (b[0] + offset[0], b[1] + offset[1])) for a in self.starts for b in self.goals]
        start, end = min(pairs, key=_apart) if len(pairs) > 1 else pairs[0]
        length = distance(start, end)
        cost = (5.0 if self.zoned else 3.0) if straight(start, end) is None else 0.0
        cost += self._turned(start, end) if length else 0.0
        return Span(
            start, end, length, cost + self._from_above(start, end) + self._against(start, end)
        )

    def _turned(self, start: Point, end: Point) -> float:
        """Return what it costs that a pipe runs another way than on the plan."""
        if self.way is None:
            return 0.0
        (sx, sy), (ex, ey) = sheet(start), sheet(end)
        size = max(1e-6, math.dist((sx, sy), (ex, ey)))
        along = ((ex - sx) * self.way[0] + (ey - sy) * self.way[1]) / size
        return (4.0 if self.zoned else 2.2) * (1 - along)

    def _from_above(self, start: Point, end: Point) -> float:
        """Return what it costs that a pipe would have to come to a stub's foot from above."""
        cost = 0.0
        for stubs, mine, other in zip(self.stubbed, (start, end), (end, start), strict=True):
            if stubs:
                short = abs(other[0] - mine[0]) - (other[1] - mine[1])
                cost += 1.5 + 0.3 * short if short > 0 else 0.0
        return cost

    def _against(self, start: Point, end: Point) -> float:
        """Return what it costs that waste would have to rise, or a vent to fall."""
        if not self.falls:
            return 0.0
        short = abs(end[0] - start[0]) * -1 - self.falls * (end[1] - start[1])
        return 2.0 + 0.5 * short if short > 0 else 0.0


def span_of(join: Join, a: Body, b: Body) -> Spans:
    """Return the spans of a pipe."""
    return _alike(
        a.ports[join.pipe].points,
        b.ports[join.pipe].points,
        (bool(a.stubs), bool(b.stubs)),
        join.way,
        bool(join.depths),
        join.falls,
    )


_alike = lru_cache(maxsize=1024)(Spans)
"""Kept from one sheet to the next, which is tried with the same pipes."""


def _apart(pair: tuple[Point, Point]) -> tuple[int, tuple[Point, Point]]:
    return distance(*pair) + (2 if straight(*pair) is None else 0), pair
