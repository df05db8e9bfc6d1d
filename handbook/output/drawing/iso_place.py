"""Finds a point of the grid for every body: near where it belongs, in line with what it is joined
to, with room between. A search by small moves that always goes the same way for the same house."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from handbook.output.drawing.iso_bodies import Body
from handbook.output.drawing.iso_grid import (
    COLUMN,
    DIRECTIONS,
    ROW,
    Box,
    Point,
    Spot,
    distance,
    nearest,
    sheet,
    step,
    straight,
)
from handbook.output.drawing.iso_zones import Zones
from handbook.pages.riser.content import Riser

SWEEPS = 7
GAP = 5.0
"""Points between two bodies."""

_UNITS = tuple(
    (dx * COLUMN / 9.0, dy * ROW / 9.0) for dx, dy in DIRECTIONS
)


@dataclass(frozen=True)
class Join:
    """A pipe as the search sees it: two bodies, how long it has to be, which way it should go."""

    pipe: int
    a: int
    b: int
    need: float
    way: Spot | None
    """The direction on the sheet, of length one, from a to b; None where nothing says it."""


@dataclass
class Placing:
    """The search. `at` is where each body is."""

    riser: Riser
    bodies: Sequence[Body]
    zones: Zones
    targets: Sequence[Spot]
    joins: Sequence[Join]
    at: list[Point] = field(default_factory=list)
    _of: dict[int, list[Join]] = field(default_factory=dict)
    _filled: dict[Point, set[int]] = field(default_factory=dict)
    _used: Counter[Point] = field(default_factory=Counter)

    def run(self) -> list[Point] | None:
        """Return a point for each body, or None where they do not fit."""
        self._of = {n: [j for j in self.joins if n in (j.a, j.b)] for n in range(len(self.bodies))}
        if not self._start():
            return None
        for sweep in range(SWEEPS):
            radius = (8, 7, 6, 5, 4, 3, 2)[sweep]
            moved = False
            for n in self._order():
                moved |= self._improve(n, radius)
            if not moved:
                break
        return self.at

    # --- the first positions -------------------------------------------------------------------

    def _start(self) -> bool:
        size = {n: _area(body.reach) for n, body in enumerate(self.bodies)}
        self.at = [(-999, -999)] * len(self.bodies)
        for n in sorted(size, key=lambda n: (-size[n], n)):
            spot = next((p for p in _rings(nearest(*self.targets[n]), 60) if self._free(n, p)), None)
            if spot is None:
                return False
            self.at[n] = spot
            self._fill(n, spot, add=True)
        for join in self.joins:
            self._lay(join, 1)
        return True

    def _order(self) -> list[int]:
        return sorted(range(len(self.bodies)), key=lambda n: (len(self._of[n]), n))

    # --- moves -----------------------------------------------------------------------------------

    def _improve(self, n: int, radius: int) -> bool:
        old = self.at[n]
        for join in self._of[n]:
            self._lay(join, -1)
        self._fill(n, old, add=False)
        best, least = old, self._cost(n, old)
        for spot in self._candidates(n, radius):
            if spot == old or not self._free(n, spot):
                continue
            cost = self._cost(n, spot, least)
            if cost < least - 1e-6:
                best, least = spot, cost
        self.at[n] = best
        self._fill(n, best, add=True)
        for join in self._of[n]:
            self._lay(join, 1)
        return best != old

    def _candidates(self, n: int, radius: int) -> Iterator[Point]:
        seen = set()
        for join in self._of[n]:
            other = join.b if join.a == n else join.a
            for mine in self._ends(join, n, (0, 0)):
                for base in self._ends(join, other, self.at[other]):
                    for direction in range(6):
                        for length in (join.need, join.need + 2, join.need + 4):
                            p = step(base, direction, round(length))
                            spot = (p[0] - mine[0], p[1] - mine[1])
                            if spot not in seen:
                                seen.add(spot)
                                yield spot
        for spot in _rings(self.at[n], radius):
            if spot not in seen:
                yield spot

    def _free(self, n: int, spot: Point) -> bool:
        """Whether a body fits here: in its zone, clear of every other."""
        x, y = sheet(spot)
        reach = self.bodies[n].reach.moved(x, y)
        if not self.zones.zones[self.zones.of[n]].inner.holds(reach):
            return False
        for m, other in enumerate(self.at):
            if m == n or other[0] == -999:
                continue
            ox, oy = sheet(other)
            if abs(ox - x) > 130 or abs(oy - y) > 110:
                continue
            if self._clash(n, m, x, y, ox, oy):
                return False
        return True

    def _clash(self, n: int, m: int, x: float, y: float, ox: float, oy: float) -> bool:
        gap = GAP + self._room(n) + self._room(m)
        for box in self.bodies[n].solid:
            mine = box.moved(x, y).grown(gap)
            for other in self.bodies[m].solid:
                if mine.meets(other.moved(ox, oy)):
                    return True
        return False

    def _room(self, n: int) -> float:
        """What a body needs round it for the words that are placed later."""
        label = self.bodies[n].label
        return 2.5 + 0.12 * label.wide if label else 0.0

    # --- what a position costs ---------------------------------------------------------------------

    def _cost(self, n: int, spot: Point, limit: float = 1e9) -> float:
        tx, ty = self.targets[n]
        x, y = sheet(spot)
        cost = 0.012 * (abs(x - tx) + abs(y - ty))
        self.at[n] = spot
        for join in self._of[n]:
            cost += self._join_cost(join)
            if cost > limit:
                break
        return cost

    def _join_cost(self, join: Join) -> float:
        start, end, path = self._path(join)
        length = distance(start, end)
        cost = 3.0 if straight(start, end) is None else 0.0
        cost += 1.6 * max(0.0, join.need - length) + 0.22 * max(0.0, length - join.need)
        if join.way is not None and length:
            (sx, sy), (ex, ey) = sheet(start), sheet(end)
            size = max(1e-6, ((ex - sx) ** 2 + (ey - sy) ** 2) ** 0.5)
            cost += 2.2 * (1 - ((ex - sx) * join.way[0] + (ey - sy) * join.way[1]) / size)
        ends = {join.a, join.b}
        for p in path:
            if p in self._filled and not self._filled[p] <= ends:
                cost += 4.0
            if p in self._used:
                cost += 0.8 * self._used[p]
        return cost

    def _path(self, join: Join) -> tuple[Point, Point, list[Point]]:
        """Return the nearest ends of a pipe and the points between on its shortest way."""
        start, end = min(
            (
                (a, b)
                for a in self._ends(join, join.a, self.at[join.a])
                for b in self._ends(join, join.b, self.at[join.b])
            ),
            key=lambda ab: (distance(*ab) + (2 if straight(*ab) is None else 0), ab),
        )
        return start, end, list(_between(start, end))

    def _ends(self, join: Join, n: int, at: Point) -> Iterator[Point]:
        for dx, dy in self.bodies[n].ports[join.pipe].points:
            yield at[0] + dx, at[1] + dy

    def _lay(self, join: Join, count: int) -> None:
        for p in self._path(join)[2]:
            self._used[p] += count
            if not self._used[p]:
                del self._used[p]

    def _fill(self, n: int, spot: Point, *, add: bool) -> None:
        for p in _covered(self.bodies[n], spot):
            if add:
                self._filled.setdefault(p, set()).add(n)
            else:
                self._filled[p].discard(n)
                if not self._filled[p]:
                    del self._filled[p]


def _area(box: Box) -> float:
    return (box.right - box.left) * (box.bottom - box.top)


def _covered(body: Body, spot: Point) -> Iterator[Point]:
    x, y = sheet(spot)
    seen = set()
    for solid in body.solid:
        box = solid.moved(x, y).grown(3)
        for column in range(int(box.left // COLUMN) + 1, int(box.right // COLUMN) + 1):
            first = int(box.top // ROW) + 1
            first += (first + column) % 2
            for row in range(first, int(box.bottom // ROW) + 1, 2):
                if (column, row) not in seen:
                    seen.add((column, row))
                    yield column, row


def _between(a: Point, b: Point) -> Iterator[Point]:
    """Yield the points between two along a shortest way with at most one bend."""
    across, down = b[0] - a[0], b[1] - a[1]
    sx, sy = (1 if across > 0 else -1), (1 if down > 0 else -1)
    if abs(down) >= abs(across):
        first, second = abs(across), (abs(down) - abs(across)) // 2
        moves = [((sx, sy), first), ((0, 2 * sy), second)]
    else:
        slant, other = (abs(across) + abs(down)) // 2, (abs(across) - abs(down)) // 2
        moves = [((sx, sy), slant), ((sx, -sy), other)]
    p = a
    for (dx, dy), steps in moves:
        for _ in range(steps):
            p = (p[0] + dx, p[1] + dy)
            if p != b:
                yield p


def _rings(centre: Point, radius: int) -> Iterator[Point]:
    """Yield the points round a centre, the nearest first."""
    yield centre
    for ring in range(1, radius + 1):
        p = step(centre, 4, ring)
        for direction in range(6):
            for _ in range(ring):
                yield p
                p = step(p, direction)
