"""What of a sheet is taken, cell by cell, so that a free place for a label is found quickly.

A row of cells is one whole number, a bit a cell. Shapes are filled outward: a cell that a shape
only touches counts as taken, so that what is found free is free.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import ceil, floor, hypot

from handbook.pages.plan.shapes import Point

LOOK = 1.5
"""Units between the points at which a thin line is looked at."""


class Raster:
    """A grid of cells, one unit of the sheet each; what lies off the grid counts as taken."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = floor(width), floor(height)
        self.rows = [0] * self.height

    def take(self, corners: Sequence[Point]) -> None:
        """Take every cell that a convex shape touches."""
        xs, ys = sorted(x for x, _ in corners), sorted(y for _, y in corners)
        if len(corners) == 4 and _pairs(xs) and _pairs(ys):
            self.take_upright(xs[0], ys[0], xs[-1], ys[-1])
            return
        for row, low, high in spans(corners):
            if 0 <= row < self.height:
                self.rows[row] |= _bits(max(low, 0), min(high, self.width))

    def take_upright(self, left: float, top: float, right: float, bottom: float) -> None:
        """Take every cell that an upright rectangle touches."""
        first, last = max(floor(top), 0), min(max(ceil(bottom), floor(top) + 1), self.height)
        low = floor(left)
        bits = _bits(max(low, 0), min(max(ceil(right), low + 1), self.width))
        for row in range(first, last):
            self.rows[row] |= bits

    def free(self, left: float, top: float, right: float, bottom: float) -> bool:
        """Whether a rectangle lies on the grid and touches nothing taken."""
        low, high, first, last = floor(left), ceil(right), floor(top), ceil(bottom)
        if low < 0 or first < 0 or high > self.width or last > self.height:
            return False
        bits = _bits(low, high)
        return not any(row & bits for row in self.rows[first:last])

    def crossed(self, a: Point, b: Point) -> float:
        """Return how many units of a thin line from a to b lie on taken cells, looked at every
        unit and a half."""
        long = hypot(b[0] - a[0], b[1] - a[1])
        count = max(ceil(long / LOOK), 1)
        dx, dy = (b[0] - a[0]) / count, (b[1] - a[1]) / count
        x, y, met, height = a[0] + dx / 2, a[1] + dy / 2, 0, self.height
        for _ in range(count):
            if 0 <= y < height and x >= 0 and self.rows[int(y)] >> int(x) & 1:
                met += 1
            x += dx
            y += dy
        return met * long / count

    def met(self, a: Point, b: Point) -> bool:
        """Whether any of a thin line from a to b lies on taken cells, looked at as closely."""
        long = hypot(b[0] - a[0], b[1] - a[1])
        count = max(ceil(long / LOOK), 1)
        dx, dy = (b[0] - a[0]) / count, (b[1] - a[1]) / count
        x, y, rows, height = a[0] + dx / 2, a[1] + dy / 2, self.rows, self.height
        for _ in range(count):
            if 0 <= y < height and x >= 0 and rows[int(y)] >> int(x) & 1:
                return True
            x += dx
            y += dy
        return False

    def fits(self, wide: float, high: float) -> Raster:
        """Return where a rectangle of this size may have its top left corner, so that it touches
        taken cells alone, wherever in the cell that corner lies."""
        across, down = ceil(wide) + 1, ceil(high) + 1
        found = Raster(self.width, self.height)
        rows = [_run(row, across) for row in self.rows]
        for top in range(self.height - down + 1):
            bits = rows[top]
            for row in rows[top + 1 : top + down]:
                if not bits:
                    break
                bits &= row
            found.rows[top] = bits
        return found

    def has(self, at: Point) -> bool:
        """Whether the cell at a point is taken."""
        x, y = floor(at[0]), floor(at[1])
        return 0 <= y < self.height and x >= 0 and bool(self.rows[y] >> x & 1)

    def filled(self, left: float, top: float, right: float, bottom: float) -> bool:
        """Whether a rectangle touches cells that are taken and none that are not."""
        low, high, first, last = floor(left), ceil(right), floor(top), ceil(bottom)
        if low < 0 or first < 0 or high > self.width or last > self.height:
            return False
        bits = _bits(low, high)
        return all(row & bits == bits for row in self.rows[first:last])

    def take_inside(self, outline: Sequence[Point]) -> None:
        """Take the cells whose middle line lies inside any shape, convex or not."""
        ys = [y for _, y in outline]
        for row in range(max(floor(min(ys)), 0), min(ceil(max(ys)), self.height)):
            cuts = sorted(_crossings(outline, row + 0.5))
            for low, high in zip(cuts[::2], cuts[1::2], strict=False):
                self.rows[row] |= _bits(max(ceil(low), 0), min(floor(high), self.width))

    def without(self, other: Raster) -> Raster:
        """Return the cells that are taken here and not in the other."""
        left = Raster(self.width, self.height)
        left.rows = [mine & ~its for mine, its in zip(self.rows, other.rows, strict=True)]
        return left


def _pairs(four: Sequence[float]) -> bool:
    return four[1] - four[0] < 0.01 and four[3] - four[2] < 0.01


def _run(row: int, length: int) -> int:
    """Return the cells of a row at which `length` taken ones begin."""
    have = 1
    while have < length and row:
        step = min(have, length - have)
        row &= row >> step
        have += step
    return row


def ribbon(a: Point, b: Point, thick: float) -> list[Point]:
    """Return the corners of a straight line of some thickness, with square ends."""
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / length * thick / 2, (b[1] - a[1]) / length * thick / 2
    if a == b:
        ux, uy = thick / 2, 0.0
    return [
        (a[0] - ux - uy, a[1] - uy + ux),
        (b[0] + ux - uy, b[1] + uy + ux),
        (b[0] + ux + uy, b[1] + uy - ux),
        (a[0] - ux + uy, a[1] - uy - ux),
    ]


def spans(corners: Sequence[Point]) -> Iterator[tuple[int, int, int]]:
    """Yield (row, first cell, cell behind the last) for each row that a convex shape touches."""
    ys = [y for _, y in corners]
    sides = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    for row in range(floor(min(ys)), max(ceil(max(ys)), floor(min(ys)) + 1)):
        xs = list(_within(corners, sides, row))
        if xs:
            low = floor(min(xs))
            yield row, low, max(ceil(max(xs)), low + 1)


def _within(
    corners: Sequence[Point], sides: Iterable[tuple[Point, Point]], row: int
) -> Iterator[float]:
    """Yield the x of every corner in a row, and of where sides cross its two edges."""
    yield from (x for x, y in corners if row <= y <= row + 1)
    for (ax, ay), (bx, by) in sides:
        for y in (row, row + 1):
            if min(ay, by) < y < max(ay, by):
                yield ax + (y - ay) * (bx - ax) / (by - ay)


def _crossings(outline: Sequence[Point], y: float) -> Iterator[float]:
    for (ax, ay), (bx, by) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (ay > y) != (by > y):
            yield ax + (y - ay) * (bx - ax) / (by - ay)


def _bits(low: int, high: int) -> int:
    return ((1 << (high - low)) - 1) << low if high > low else 0
