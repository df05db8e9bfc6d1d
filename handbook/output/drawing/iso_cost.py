"""What it costs that bodies stand where they do: pipes too short, too long, bent, turned from
their way on the plan, over one another or through other bodies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from typing import NamedTuple

from handbook.output.drawing.iso_body import Body
from handbook.output.drawing.iso_grid import COLUMN, ROW, UNIT, Point
from handbook.output.drawing.iso_span import Join, Span, Spans, span_of

BODY = 5
"""The pipes that are crossed as readily as one body."""

_BIG = 1 << 12
"""Makes one number of a point, so that points can be added and looked up fast."""


class Side(NamedTuple):
    """A pipe as seen from a body that moves while what is at its other end stays."""

    k: int
    other: Point
    first: bool
    """Whether the body is the first of the two."""
    spans: Spans
    need: float
    far: float
    depths: bool


class Costs:
    """Counts what is taken on the grid. A way depends only on how its two bodies stand to each
    other, so that each is measured once."""

    def __init__(self, bodies: Sequence[Body], joins: Sequence[Join]) -> None:
        self.bodies, self.joins = bodies, joins
        self.of: list[list[int]] = [
            [k for k, join in enumerate(joins) if n in (join.a, join.b)] for n in range(len(bodies))
        ]
        self._busy: dict[int, int] = {}
        """What is in the way at each point: a pipe counts 1, a body as many as `BODY` says."""
        self._filled: dict[int, int] = {}
        self._covers = [tuple(_covered(body)) for body in bodies]
        self._ends = [(join.a, join.b) for join in joins]
        self._far = [
            0.16 if min(len(self.of[join.a]), len(self.of[join.b])) > 1 else 0.3 for join in joins
        ]
        self._spans = [span_of(join, bodies[join.a], bodies[join.b]) for join in joins]

    def near(self, n: int) -> list[int]:
        """Return the bodies that a body is joined to."""
        joins = (self.joins[k] for k in self.of[n])
        return [join.b if join.a == n else join.a for join in joins]

    def ends(self, k: int, n: int) -> tuple[Point, ...]:
        """Return where a pipe may join a body, from the body's own point."""
        return self.bodies[n].ports[self.joins[k].pipe].points

    # --- what pipes cost whatever else there is --------------------------------------------------

    def span(self, k: int, at: Sequence[Point]) -> Span:
        """Return the shortest way of a pipe while the bodies are at their points."""
        a, b = self._ends[k]
        (ax, ay), (bx, by) = at[a], at[b]
        spans, offset = self._spans[k], (bx - ax, by - ay)
        return spans.known.get(offset) or spans.at(offset)

    def least(self, k: int, at: Sequence[Point]) -> float:
        """Return what a pipe costs whatever else there is."""
        span, join = self.span(k, at), self.joins[k]
        off = join.need - span.length
        cost = span.cost + (1.6 * off if off > 0 else -self._far[k] * off)
        return cost + (_shallow(join, span, at[join.a]) if join.depths else 0.0)

    def sides(self, n: int, at: Sequence[Point]) -> list[Side]:
        """Return the pipes of a body as seen from it."""
        found = []
        for k in self.of[n]:
            join, first = self.joins[k], self.joins[k].a == n
            other = at[join.b if first else join.a]
            spans, far = self._spans[k], self._far[k]
            found.append(Side(k, other, first, spans, join.need, far, bool(join.depths)))
        return found

    def bare(self, sides: Sequence[Side], spot: Point, cost: float, limit: float) -> float:
        """Return a cost with what the pipes of a body at a spot cost whatever else there is; no
        less than the limit where that is more."""
        x, y = spot
        for k, (ox, oy), first, spans, need, far, depths in sides:
            offset = (ox - x, oy - y) if first else (x - ox, y - oy)
            span = spans.known.get(offset) or spans.at(offset)
            off = need - span[2]
            cost += span[3] + (1.6 * off if off > 0 else -far * off)
            if depths:
                cost += _shallow(self.joins[k], span, spot if first else (ox, oy))
            if cost >= limit:
                return cost
        return cost

    # --- what they cost more for what is in their way --------------------------------------------

    def crossed(self, k: int, at: Sequence[Point]) -> float:
        """Return what a pipe costs more for the bodies and the pipes in its way."""
        busy, filled, ends = self._busy, self._filled, self._ends[k]
        total = 0
        for code in filter(busy.__contains__, self._passed(k, at)):
            total += busy[code]
            if code in filled and filled[code] in ends:
                total -= BODY
        return 0.8 * total

    def lay(self, k: int, at: Sequence[Point], count: int) -> None:
        """Put a pipe down (1) or take it up (-1)."""
        for code in self._passed(k, at):
            self._add(code, count)

    def fill(self, n: int, spot: Point, *, add: bool) -> None:
        """Put a body down, or take it up. No two cover the same point: they stand apart."""
        base = _code(spot)
        for one in self._covers[n]:
            self._add(base + one, BODY if add else -BODY)
            if add:
                self._filled[base + one] = n
            else:
                del self._filled[base + one]

    def _add(self, code: int, count: int) -> None:
        count += self._busy.get(code, 0)
        if count:
            self._busy[code] = count
        else:
            del self._busy[code]

    def _passed(self, k: int, at: Sequence[Point]) -> Iterable[int]:
        """Return the coded points that a pipe passes between its ends."""
        start, end, _, _ = self.span(k, at)
        x, y = at[self._ends[k][0]]
        base = (x + start[0]) * _BIG + y + start[1]
        return map(base.__add__, _between(end[0] - start[0], end[1] - start[1]))


def _shallow(join: Join, span: Span, a: Point) -> float:
    """Return what it costs that the ends of a pipe are too near the border of their zones."""
    cost = 0.0
    for n, border, is_upright, steps in join.depths:
        dx, dy = span.start if n == join.a else span.end
        if is_upright:
            short = steps - abs((a[1] + dy) * ROW - border) / UNIT
        else:
            short = steps - abs((a[0] + dx) * COLUMN - border) / COLUMN
        if short > 0:
            cost += 3.0 * short
    return cost


def _code(point: Point) -> int:
    return point[0] * _BIG + point[1]


def _covered(body: Body) -> Iterator[int]:
    """Yield the coded points that a body covers, from its own point."""
    seen = set()
    for solid in body.solid:
        box = solid.grown(3)
        for column in range(int(box.left // COLUMN) + 1, int(box.right // COLUMN) + 1):
            first = int(box.top // ROW) + 1
            first += (first + column) % 2
            for row in range(first, int(box.bottom // ROW) + 1, 2):
                if (column, row) not in seen:
                    seen.add((column, row))
                    yield _code((column, row))


@cache
def _between(across: int, down: int) -> tuple[int, ...]:
    """Return the coded points on a shortest way so far across and down with at most one bend."""
    sx, sy = (1 if across > 0 else -1), (1 if down > 0 else -1)
    if abs(down) >= abs(across):
        moves = [((sx, sy), abs(across)), ((0, 2 * sy), (abs(down) - abs(across)) // 2)]
    else:
        moves = [
            ((sx, sy), (abs(across) + abs(down)) // 2),
            ((sx, -sy), (abs(across) - abs(down)) // 2),
        ]
    found, code = [], 0
    for move, steps in moves:
        for _ in range(steps):
            code += _code(move)
            found.append(code)
    return tuple(found[:-1])
