"""Whose words are whose on an isometric drawing: words are read as the nearest symbol's, so each
stand nearer to their own than to any other."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import cached_property

from handbook.output.drawing.iso_grid import Box, Spot
from handbook.output.drawing.iso_pen import LONG, WIDE

CLEARLY = 0.5
"""Points that another symbol is farther off than its own, so that it is seen at a glance. Symbols
are measured as the rectangles round them, which their own waists fall short of."""

BLANK_ABOVE, BLANK_BELOW = 0.7, 1.2
"""Points that a line of text leaves empty over its letters and under its base line."""


@dataclass(frozen=True)
class Named:
    """A symbol by the corners of its outline, and the box of its words where it has some."""

    own: tuple[Spot, ...]
    words: Box | None = None

    @cached_property
    def ink(self) -> Box | None:
        """What the letters of its words take."""
        if self.words is None:
            return None
        left, top, right, bottom = self.words
        return Box(left, top + BLANK_ABOVE, right, bottom - BLANK_BELOW)

    @cached_property
    def far(self) -> float:
        """How far off another symbol must be from its words."""
        return apart(self.ink, self.own) + CLEARLY if self.ink else 0.0

    @cached_property
    def reach(self) -> Box:
        """The box outside of which nothing is of concern to it."""
        across, down = zip(*self.own, strict=True)
        box = Box(min(across), min(down), max(across), max(down))
        if self.ink is None:
            return box
        near = self.ink.grown(self.far)
        return Box(
            min(box.left, near.left),
            min(box.top, near.top),
            max(box.right, near.right),
            max(box.bottom, near.bottom),
        )

    def moved(self, x: float, y: float) -> Named:
        """Return it moved."""
        own = tuple((a + x, b + y) for a, b in self.own)
        return Named(own, self.words.moved(x, y) if self.words else None)

    def mistaken(self, other: Named) -> bool:
        """Whether the words of one of the two would be read as the other one's."""
        if self.own == other.own or not self.reach.grown(0.01).meets(other.reach.grown(0.01)):
            return False
        return self._takes(other) or other._takes(self)

    def _takes(self, other: Named) -> bool:
        return other.ink is not None and apart(other.ink, self.own) < other.far


def along(spot: Spot, unit: Spot) -> tuple[Spot, ...]:
    """Return the corners of a symbol that lies along a pipe."""
    (x, y), (ux, uy) = spot, unit
    return tuple(
        (x + s * LONG * ux - t * WIDE * uy, y + s * LONG * uy + t * WIDE * ux)
        for s, t in ((1, 1), (1, -1), (-1, -1), (-1, 1))
    )


def square(box: Box) -> tuple[Spot, ...]:
    """Return the corners of a box."""
    return (
        (box.left, box.top),
        (box.right, box.top),
        (box.right, box.bottom),
        (box.left, box.bottom),
    )


def apart(box: Box, corners: tuple[Spot, ...]) -> float:
    """Return how far a box lies from an outline that it does not cover."""
    sides = list(itertools.pairwise((*corners, corners[0])))
    nearest = min(_from_box(box, spot) for spot in corners)
    return min(nearest, *(_from_side(spot, *side) for spot in square(box) for side in sides))


def _from_box(box: Box, spot: Spot) -> float:
    x, y = spot
    return math.hypot(max(box.left - x, 0.0, x - box.right), max(box.top - y, 0.0, y - box.bottom))


def _from_side(spot: Spot, a: Spot, b: Spot) -> float:
    wide, high = b[0] - a[0], b[1] - a[1]
    size = wide * wide + high * high
    t = ((spot[0] - a[0]) * wide + (spot[1] - a[1]) * high) / size if size else 0.0
    t = min(1.0, max(0.0, t))
    return math.dist(spot, (a[0] + t * wide, a[1] + t * high))
