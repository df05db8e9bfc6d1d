"""Whether a body fits at a point of the grid: in its zone, clear of every other body."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from handbook.output.drawing.iso_body import Body
from handbook.output.drawing.iso_grid import COLUMN, ROW, Box, Point
from handbook.output.drawing.iso_zones import Zones

GAP = 7.0
"""Points between two bodies."""

AWAY: Point = (-999, -999)
"""Where a body is that has not been placed yet."""


@dataclass(frozen=True)
class Pair:
    """Two bodies by the boxes that they take, and the room that they need between them."""

    boxes: tuple[Box, ...]
    others: tuple[Box, ...]
    gap: float
    known: dict[Point, bool] = field(default_factory=dict, compare=False)

    def clash(self, offset: Point) -> bool:
        """Whether the second, so far from the first, stands too near to it."""
        hit = self.known.get(offset)
        if hit is None:
            x, y = offset[0] * COLUMN, offset[1] * ROW
            moved = [other.moved(x, y) for other in self.others]
            grown = [box.grown(self.gap) for box in self.boxes]
            hit = any(mine.meets(other) for mine in grown for other in moved)
            self.known[offset] = hit
        return hit


_alike = lru_cache(maxsize=8192)(Pair)
"""Kept from one sheet to the next, which is tried with the same bodies."""


class Fit:
    """What two bodies need between them depends only on how they stand to each other, so that
    each pair is measured once for each way of standing."""

    def __init__(self, bodies: Sequence[Body], zones: Zones) -> None:
        self.bodies, self.zones = bodies, zones
        self.mates = [
            [m for m, z in enumerate(zones.of) if z == zone and m != n]
            for n, zone in enumerate(zones.of)
        ]
        self._boxes = [body.room for body in bodies]
        self._gaps = [_room(body) for body in bodies]
        self._limits = [self._limit(n) for n in range(len(bodies))]
        self._pairs = [{m: self._pair(n, m) for m in mates} for n, mates in enumerate(self.mates)]

    def free(self, n: int, spot: Point, at: Sequence[Point], gone: Collection[int] = ()) -> bool:
        """Whether body `n` fits here while the others are `at` their points, save the `gone`."""
        column, row = spot
        left, top, right, bottom = self._limits[n]
        x, y = column * COLUMN, row * ROW
        if x < left or x > right or y < top or y > bottom:
            return False
        for m, pair in self._pairs[n].items():
            other = at[m]
            if other == AWAY or m in gone:
                continue
            offset = (other[0] - column, other[1] - row)
            hit = pair.known.get(offset)
            if pair.clash(offset) if hit is None else hit:
                return False
        return True

    def clash(self, n: int, m: int, offset: Point) -> bool:
        """Whether body `m`, so far from body `n`, stands too near to it."""
        return self._pair(n, m).clash(offset)

    def _pair(self, n: int, m: int) -> Pair:
        return _alike(self._boxes[n], self._boxes[m], GAP + self._gaps[n] + self._gaps[m])

    def _limit(self, n: int) -> tuple[float, float, float, float]:
        """Return how far a body's point may lie left, up, right and down in its zone."""
        reach, inner = self.bodies[n].reach, self.zones.inner(n)
        return (
            inner.left - reach.left,
            inner.top - reach.top,
            inner.right - reach.right,
            inner.bottom - reach.bottom,
        )


def _room(body: Body) -> float:
    """Return what a body needs round it for the words that are placed later."""
    return 2.5 + 0.12 * body.label.wide if body.label else 0.0
