"""What it costs that bodies stand where they do: pipes too short, too long, bent, turned from
their way on the plan, over one another or through other bodies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from handbook.output.drawing.iso_bodies import Body
from handbook.output.drawing.iso_grid import (
    COLUMN,
    ROW,
    UNIT,
    Point,
    Spot,
    distance,
    sheet,
    straight,
)

_BIG = 1 << 12
"""Makes one number of a point, so that points can be added and looked up fast."""


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


class Way(NamedTuple):
    """The shortest way of a pipe between two bodies: its ends, from the first one's point, and
    what it costs whatever else there is."""

    start: Point
    end: Point
    cost: float


class Costs:
    """Counts what is taken on the grid. A way depends only on how its two bodies stand to each
    other, so that each is measured once."""

    def __init__(self, bodies: Sequence[Body], joins: Sequence[Join]) -> None:
        self.bodies, self.joins = bodies, joins
        self.of: list[list[int]] = [
            [k for k, join in enumerate(joins) if n in (join.a, join.b)] for n in range(len(bodies))
        ]
        self._used: Counter[int] = Counter()
        self._filled: dict[int, set[int]] = {}
        self._covers = [tuple(_covered(body)) for body in bodies]
        self._ends = [frozenset((join.a, join.b)) for join in joins]
        self._ways: list[dict[Point, Way]] = [{} for _ in joins]

    def near(self, n: int) -> list[int]:
        """Return the bodies that a body is joined to."""
        joins = (self.joins[k] for k in self.of[n])
        return [join.b if join.a == n else join.a for join in joins]

    def ends(self, k: int, n: int) -> tuple[Point, ...]:
        """Return where a pipe may join a body, from the body's own point."""
        return self.bodies[n].ports[self.joins[k].pipe].points

    def way(self, k: int, at: Sequence[Point]) -> Way:
        """Return the way of a pipe while the bodies are at their points."""
        join = self.joins[k]
        a, b = at[join.a], at[join.b]
        offset = (b[0] - a[0], b[1] - a[1])
        found = self._ways[k].get(offset)
        if found is None:
            found = self._ways[k][offset] = self._measured(k, offset)
        return found

    def least(self, k: int, at: Sequence[Point]) -> float:
        """Return what a pipe costs whatever else there is."""
        way, join = self.way(k, at), self.joins[k]
        if not join.depths:
            return way.cost
        cost, (ax, ay) = way.cost, at[join.a]
        for n, border, is_upright, steps in join.depths:
            dx, dy = way.start if n == join.a else way.end
            x, y = (ax + dx) * COLUMN, (ay + dy) * ROW
            depth = abs(y - border) / UNIT if is_upright else abs(x - border) / COLUMN
            cost += 3.0 * max(0.0, steps - depth)
        return cost

    def crossed(self, k: int, at: Sequence[Point]) -> float:
        """Return what a pipe costs more for the bodies and the pipes in its way."""
        cost, ends = 0.0, self._ends[k]
        filled, used = self._filled, self._used
        for code in self._points(k, at):
            here = filled.get(code)
            if here and not here <= ends:
                cost += 4.0
            if code in used:
                cost += 0.8 * used[code]
        return cost

    def lay(self, k: int, at: Sequence[Point], count: int) -> None:
        """Put a pipe down (1) or take it up (-1)."""
        for code in self._points(k, at):
            self._used[code] += count
            if not self._used[code]:
                del self._used[code]

    def fill(self, n: int, spot: Point, *, add: bool) -> None:
        """Put a body down, or take it up."""
        base = _code(spot)
        for one in self._covers[n]:
            if add:
                self._filled.setdefault(base + one, set()).add(n)
            else:
                self._filled[base + one].discard(n)

    def _points(self, k: int, at: Sequence[Point]) -> list[int]:
        """Return the coded points that a pipe passes between its ends."""
        start, end, _ = self.way(k, at)
        base = _code(at[self.joins[k].a]) + _code(start)
        return [base + one for one in _between(end[0] - start[0], end[1] - start[1])]

    # --- one way ---------------------------------------------------------------------------------

    def _measured(self, k: int, offset: Point) -> Way:
        join = self.joins[k]
        pairs = [
            (a, (b[0] + offset[0], b[1] + offset[1]))
            for a in self.ends(k, join.a)
            for b in self.ends(k, join.b)
        ]
        start, end = min(pairs, key=_apart) if len(pairs) > 1 else pairs[0]
        return Way(start, end, self._bare(join, start, end))

    def _bare(self, join: Join, start: Point, end: Point) -> float:
        length = distance(start, end)
        far = 0.16 if min(len(self.of[join.a]), len(self.of[join.b])) > 1 else 0.3
        cost = (5.0 if join.depths else 3.0) if straight(start, end) is None else 0.0
        cost += 1.6 * max(0.0, join.need - length) + far * max(0.0, length - join.need)
        if join.way is not None and length:
            (sx, sy), (ex, ey) = sheet(start), sheet(end)
            size = max(1e-6, ((ex - sx) ** 2 + (ey - sy) ** 2) ** 0.5)
            cost += (4.0 if join.depths else 2.2) * (
                1 - ((ex - sx) * join.way[0] + (ey - sy) * join.way[1]) / size
            )
        return cost + self._from_above(join, start, end) + _against(join, start, end)

    def _from_above(self, join: Join, start: Point, end: Point) -> float:
        """Return what it costs that a pipe would have to come to a stub's foot from above."""
        cost = 0.0
        for n, mine, other in ((join.a, start, end), (join.b, end, start)):
            if self.bodies[n].stubs:
                short = abs(other[0] - mine[0]) - (other[1] - mine[1])
                cost += 1.5 + 0.3 * short if short > 0 else 0.0
        return cost


def _against(join: Join, start: Point, end: Point) -> float:
    """Return what it costs that waste would have to rise, or a vent to fall."""
    if not join.falls:
        return 0.0
    short = abs(end[0] - start[0]) * -1 - join.falls * (end[1] - start[1])
    return 2.0 + 0.5 * short if short > 0 else 0.0


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


def _apart(pair: tuple[Point, Point]) -> tuple[int, tuple[Point, Point]]:
    return distance(*pair) + (2 if straight(*pair) is None else 0), pair


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
