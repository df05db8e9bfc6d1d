"""Where the name of a room may stand: anywhere inside it, or led from it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice
from math import hypot

from handbook.output.drawing.place import Candidate
from handbook.output.drawing.raster import Raster
from handbook.output.drawing.spots import NEAR, TURN, Spots
from handbook.output.drawing.words import Form
from handbook.pages.plan.shapes import Point

ELSEWHERE = 9.0
"""What it costs to set a room's name, or its number, outside it."""

AIR = 7.0
"""Units of free space round a room's name that set it apart, where there is room for them."""

PER_OFF = 0.03
"""What each unit costs that a room's name stands off the room's middle."""

SPREAD, STARTS = 9, 6
"""Far leader lines of a room start from one free spot in so many, and from so many spots."""

STEP, FINEST = 4.0, 36.0
OFFERS = 24
"""How finely a room is searched for a place for its name (in units, or in shares of its
diagonal), and how many places are offered."""


@dataclass
class Within(Spots):
    """The name of a room, anywhere inside it; if need be outside, led from a free spot in it."""

    free: Raster = field(default_factory=lambda: Raster(0, 0))
    outline: Sequence[Point] = ()
    _grid: list[Point] = field(default_factory=list)

    def close(self) -> Iterator[Candidate]:
        """Places inside the room, those nearest its middle first."""
        for form in self.forms:
            for air, dear in ((AIR, 0.0), (0.0, 1.2)):
                found = list(islice(self._fitting(form, air), OFFERS))
                for left, top, off in found:
                    cost = off * PER_OFF + dear + form.dear
                    yield Candidate(cost, form, round(left, 2), round(top, 2))
                if len(found) == OFFERS:
                    return

    def _fitting(self, form: Form, air: float) -> Iterator[tuple[float, float, float]]:
        """Yield where a form fits with some air round it: left, top, how far off the middle."""
        middle = self._middle()
        fits = self.free.fits(form.width + 2 * air, form.height + 2 * air)
        if not any(fits.rows):
            return
        for x, y in self._search(middle):
            left, top = x - form.width / 2, y - form.height / 2
            if fits.has((left - air, top - air)):
                yield left, top, hypot(x - middle[0], y - middle[1])

    def led(self, lengths: Iterable[float]) -> Iterator[Candidate]:
        """Places elsewhere, led from the free spot nearest the room's middle, or from there; far
        ones also from other free spots."""
        middle = self._middle()
        clear = (
            (x, y) for x, y in self._search(middle) if self.free.filled(x - 2, y - 2, x + 2, y + 2)
        )
        near = lengths is NEAR
        starts = list(islice(clear, 0, 1 if near else SPREAD * STARTS, SPREAD)) or [middle]
        for start in starts:
            for there in self.around(start, 0.0, lengths, TURN[::3] if near else TURN):
                yield replace(there, cost=there.cost + ELSEWHERE)

    def _middle(self) -> Point:
        xs, ys = zip(*self.outline, strict=True)
        return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)

    def _search(self, middle: Point) -> list[Point]:
        """Return the points of a grid over the room, nearest its middle first."""
        if not self._grid:
            xs, ys = zip(*self.outline, strict=True)
            step = max(STEP, hypot(max(xs) - min(xs), max(ys) - min(ys)) / FINEST)
            across = _steps(min(xs), max(xs), middle[0], step)
            down = _steps(min(ys), max(ys), middle[1], step)
            far = [(dx * dx + dy * dy, dx, dy) for dy in down for dx in across]
            self._grid = [(middle[0] + dx, middle[1] + dy) for _, dx, dy in sorted(far)]
        return self._grid


def _steps(low: float, high: float, through: float, step: float) -> list[float]:
    """Return how far steps from low to high, that fall on `through`, are from it."""
    back, on = int((through - low) / step), int((high - through) / step)
    return [i * step for i in range(-back, on + 1)]
