"""Whether a tape can be stretched between two points: along a wall, never through one.

Plain geometry on one plan; points are (x, y) in inches, an outline is a simple polygon.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import dist, hypot

XY = tuple[float, float]
Outline = Sequence[XY]

TOUCH_IN = 0.25
"""What lies nearer to a wall than this lies on it: plans are drawn to the half inch."""


def edges(outline: Outline) -> Iterator[tuple[XY, XY]]:
    """Yield each wall of an outline, from corner to corner."""
    return zip(outline, (*outline[1:], outline[0]), strict=True)


def foot(point: XY, a: XY, b: XY) -> XY:
    """Return the point of the wall from `a` to `b` that is nearest to `point`."""
    along = (b[0] - a[0], b[1] - a[1])
    squared = along[0] ** 2 + along[1] ** 2
    if not squared:
        return a
    share = ((point[0] - a[0]) * along[0] + (point[1] - a[1]) * along[1]) / squared
    share = min(1.0, max(0.0, share))
    return a[0] + share * along[0], a[1] + share * along[1]


def off(outline: Outline, point: XY) -> float:
    """Return how far a point is from the nearest wall, in inches."""
    return min(dist(point, foot(point, a, b)) for a, b in edges(outline))


def is_inside(outline: Outline, point: XY) -> bool:
    """Whether a point lies inside an outline; one on a wall may fall either way."""
    x, y = point
    odd = False
    for (ax, ay), (bx, by) in edges(outline):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            odd = not odd
    return odd


def cross(a: XY, b: XY, c: XY, d: XY) -> bool:
    """Whether two straight lines, from `a` to `b` and from `c` to `d`, cross."""
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(a: XY, b: XY, point: XY) -> float:
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])


def sees(outline: Outline, a: XY, b: XY, *, indoors: bool) -> bool:
    """Whether a tape from `a` to `b` stays inside the outline, or outside it; walls count as both.

    `indoors`: the outline is a room's; else it is a building's, seen from without.
    """
    shares = sorted({0.0, 1.0, *_crossings(outline, a, b)})
    for first, second in pairwise(shares):
        middle = (first + second) / 2
        point = (a[0] + middle * (b[0] - a[0]), a[1] + middle * (b[1] - a[1]))
        if off(outline, point) > TOUCH_IN and is_inside(outline, point) != indoors:
            return False
    return True


def _crossings(outline: Outline, a: XY, b: XY) -> Iterator[float]:
    """Yield where along the tape it meets a wall or passes a corner, as shares of its length."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = hypot(dx, dy)
    for c, d in edges(outline):
        ex, ey = d[0] - c[0], d[1] - c[1]
        across = dx * ey - dy * ex
        if abs(across) > 1e-9 * (length * hypot(ex, ey) or 1):
            share = ((c[0] - a[0]) * ey - (c[1] - a[1]) * ex) / across
            if 0 < share < 1:
                yield share
        if length and dist(c, foot(c, a, b)) <= TOUCH_IN:
            yield ((c[0] - a[0]) * dx + (c[1] - a[1]) * dy) / length**2
