"""The little plane geometry that composing a plan needs; everything in inches on the plan."""

from collections.abc import Iterable, Sequence
from math import hypot

from handbook.pages.plan.shapes import Outline, Point
from handbook.record.notation import Point as Recorded


def point(recorded: Recorded) -> Point:
    """Return a recorded point as a pair."""
    return (recorded.x, recorded.y)


def distance(a: Point, b: Point) -> float:
    """Return the straight distance between two points."""
    return hypot(b[0] - a[0], b[1] - a[1])


def toward(a: Point, b: Point, far: float) -> Point:
    """Return the point that lies `far` from a in the direction of b; a itself where they meet."""
    length = distance(a, b)
    if not length:
        return a
    return (a[0] + (b[0] - a[0]) * far / length, a[1] + (b[1] - a[1]) * far / length)


def twice_area(outline: Sequence[Point]) -> float:
    """Return twice the signed area of an outline; above zero where it runs counterclockwise."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in edges(outline))


def edges(outline: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Return the sides of an outline, the last one closing it."""
    return list(zip(outline, [*outline[1:], *outline[:1]], strict=True))


def inside(outline: Sequence[Point], at: Point) -> bool:
    """Whether a point lies inside an outline (a ray to the right crosses it an odd number of
    times)."""
    crossed = False
    for (ax, ay), (bx, by) in edges(outline):
        if (ay > at[1]) != (by > at[1]):
            crossed ^= at[0] < ax + (at[1] - ay) * (bx - ax) / (by - ay)
    return crossed


def leaves(outline: Sequence[Point], start: Point, end: Point) -> float | None:
    """Return how far from `start`, going toward `end`, a line first meets the outline; None
    where it does not before `end`."""
    length = distance(start, end)
    met = [cut * length for a, b in edges(outline) if (cut := _cut(start, end, a, b)) is not None]
    return min(met, default=None)


def _cut(start: Point, end: Point, a: Point, b: Point) -> float | None:
    """Return where on start-end (0 to 1) the side a-b crosses it."""
    dx, dy, ex, ey = end[0] - start[0], end[1] - start[1], b[0] - a[0], b[1] - a[1]
    across = dx * ey - dy * ex
    if abs(across) < 1e-9:
        return None
    t = ((a[0] - start[0]) * ey - (a[1] - start[1]) * ex) / across
    u = ((a[0] - start[0]) * dy - (a[1] - start[1]) * dx) / across
    return t if 1e-6 < t <= 1 and -1e-9 <= u <= 1 + 1e-9 else None


def box(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of some points. Raises ValueError for none."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def tidy(outline: Iterable[Point]) -> Outline:
    """Return points to the hundredth of an inch, so that equal plans are equal."""
    return tuple((round(x, 2) + 0.0, round(y, 2) + 0.0) for x, y in outline)
