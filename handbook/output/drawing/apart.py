"""How far apart labels, symbols and lines lie on a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from handbook.output.drawing.sheet import Box
from handbook.pages.plan.shapes import Point


def between(one: Box, other: Box) -> float:
    """Return how far two rectangles are apart."""
    across = max(one[0] - other[2], other[0] - one[2], 0.0)
    down = max(one[1] - other[3], other[1] - one[3], 0.0)
    return hypot(across, down)


def off_line(label: Box, points: Sequence[Point]) -> float:
    """Return how far a rectangle is from a line that does not run through it."""
    left, top, right, bottom = label
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    far = [between(label, (*point, *point)) for point in points]
    far += [_off_leg(corner, a, b) for corner in corners for a, b in pairwise(points)]
    return min(far)


def _off_leg(at: Point, a: Point, b: Point) -> float:
    """Return how far a point is from a straight line."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    squared = dx * dx + dy * dy
    share = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / squared if squared else 0.0
    share = min(1.0, max(0.0, share))
    return hypot(at[0] - a[0] - share * dx, at[1] - a[1] - share * dy)
