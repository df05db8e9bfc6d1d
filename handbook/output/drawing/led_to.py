"""Where a leader line meets its symbol: at its ink, not at the square in which it is drawn, so that
the line cannot seem to lead to what stands beside it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from handbook.output.drawing.sheet import Standing, gap
from handbook.output.drawing.spots import OFF_SQUARE
from handbook.output.drawing.symbols import hull
from handbook.pages.plan.shapes import Point
from handbook.tables import table

SAME = 0.1
"""Units within which a line starts where one to a symbol would."""


def led_to(start: Point, stands: Sequence[Standing], size: float) -> Point:
    """Return the point at which a leader line that starts beside a symbol meets it; the start of a
    line that leads to no symbol, or to a ring round one."""
    for stand in stands:
        far = max(abs(start[0] - stand.at[0]), abs(start[1] - stand.at[1]))
        if not stand.mark.ringed and abs(far - stand.reach - OFF_SQUARE) < SAME:
            return _nearer(start, stand, size)
    return start


def _nearer(start: Point, stand: Standing, size: float) -> Point:
    (x, y), half = stand.at, size / 2
    shape = table("map_marks").values[stand.mark.kind]["shape"]
    edge = [(x + across * half, y + down * half) for across, down in hull(shape, stand.mark.turn)]
    met = (_met(start, stand.at, a, b) for a, b in pairwise([*edge, edge[0]]))
    shares = [share for share in met if share is not None]
    long = gap(start, stand.at)
    on = min(shares, default=0.0) - OFF_SQUARE / (long or 1.0)
    if on <= 0:
        return start
    return (start[0] + (x - start[0]) * on, start[1] + (y - start[1]) * on)


def _met(start: Point, end: Point, a: Point, b: Point) -> float | None:
    """Return the share of a line at which it meets an edge; None where it does not."""
    (dx, dy), (ex, ey) = (end[0] - start[0], end[1] - start[1]), (b[0] - a[0], b[1] - a[1])
    turn = dx * ey - dy * ex
    if not turn:
        return None
    sx, sy = a[0] - start[0], a[1] - start[1]
    share, along = (sx * ey - sy * ex) / turn, (sx * dy - sy * dx) / turn
    return share if 0 <= share <= 1 and 0 <= along <= 1 else None
