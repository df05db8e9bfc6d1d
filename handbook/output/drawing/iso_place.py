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
    UNIT,
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

RADII = (10, 8, 7, 6, 5, 4, 4, 3, 3, 2)
GAP = 7.0
"""Points between two bodies."""

_UNITS = tuple((dx * COLUMN / UNIT, dy * ROW / UNIT) for dx, dy in DIRECTIONS)


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
    falls: bool = False
    """Whether it may only fall (waste), or only rise (a vent, from its lower end)."""


@dataclass
class Placing:
    """The search. `at` is where each body is."""

    riser: Riser
    bodies: Sequence[Body]
    zones: Zones
    targets: Sequence[Spot]
    joins: Sequence[Join]
    pull: float = 0.022
    """What a point of distance from its target costs a body."""
    at: list[Point] = field(default_factory=list)
    _of: dict[int, list[Join]] = field(default_factory=dict)
    _filled: dict[Point, set[int]] = field(default_factory=dict)
    _rooms: list[float] = field(default_factory=list)
    _room_of: list[tuple[Box, ...]] = field(default_factory=list)
    _reaches: list[Box] = field(default_factory=list)
    _inners: list[Box] = field(default_factory=list)
    _mates: list[list[int]] = field(default_factory=list)
    _gone: frozenset[int] = frozenset()
    _used: Counter[Point] = field(default_factory=Counter)

    def run(self) -> list[Point] | None:
        """Return a point for each body, or None where they do not fit."""
        self._rooms = [_room(body) for body in self.bodies]
        self._room_of = [body.room for body in self.bodies]
        self._reaches = [body.reach for body in self.bodies]
        self._mates = [
            [m for m, z in enumerate(self.zones.of) if z == zone and m != n]
            for n, zone in enumerate(self.zones.of)
        ]
        self._inners = [self.zones.zones[z].inner for z in self.zones.of]
        self._of = {n: [j for j in self.joins if n in (j.a, j.b)] for n in range(len(self.bodies))}
        if not self._start():
            return None
        for sweep, radius in enumerate(RADII):
            moved = False
            if sweep in (2, 4, 6):
                for group in self._groups():
                    moved |= self._shift(group)
                moved |= self._swap()
            for n in self._order():
                moved |= self._improve(n, radius)
            if not moved:
                break
        return self.at

    @property
    def cost(self) -> float:
        """What the whole placing costs."""
        return self._sum(range(len(self.bodies)))

    # --- the first positions -------------------------------------------------------------------

    def _start(self) -> bool:
        size = {n: _area(body.reach) for n, body in enumerate(self.bodies)}
        self.at = [(-999, -999)] * len(self.bodies)
        for n in sorted(size, key=lambda n: (-size[n], n)):
            spot = next(
                (p for p in _rings(nearest(*self.targets[n]), 60) if self._free(n, p)), None
            )
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

    def _groups(self) -> Iterator[tuple[int, ...]]:
        """Yield bodies that move together: a point, the fixtures at it, the points at those."""
        for n, body in enumerate(self.bodies):
            if body.stubs or len(self._of[n]) < 2:
                continue
            group = {n}
            for m in self._near(n):
                if self.zones.of[m] == self.zones.of[n] and (
                    self.bodies[m].stubs or len(self._of[m]) == 1
                ):
                    group.add(m)
                    group |= {k for k in self._near(m) if self.zones.of[k] == self.zones.of[n]}
            if len(group) > 1:
                yield tuple(sorted(group))

    def _near(self, n: int) -> list[int]:
        return [join.b if join.a == n else join.a for join in self._of[n]]

    def _shift(self, group: tuple[int, ...]) -> bool:
        """Move a group as a whole, if that is better."""
        old = [self.at[n] for n in group]
        self._take_up(group)
        least, best = self._sum(group), old
        for to in _rings((0, 0), 16):
            if (to[0] + to[1]) % 4:
                continue
            new = [(p[0] + to[0], p[1] + to[1]) for p in old]
            if all(self._free(n, p) for n, p in zip(group, new, strict=True)):
                cost = self._sum(group, new, least)
                if cost < least - 1e-6:
                    least, best = cost, new
        self._put_down(group, best)
        return best != old

    def _swap(self) -> bool:
        """Exchange any two bodies of a zone, if that is better."""
        moved = False
        for n in range(len(self.bodies)):
            for m in range(n + 1, len(self.bodies)):
                if self.zones.of[n] != self.zones.of[m]:
                    continue
                pair, old = (n, m), [self.at[n], self.at[m]]
                new = [self.at[m], self.at[n]]
                self._take_up(pair)
                least = self._sum(pair)
                free = self._free(n, new[0]) and self._free(m, new[1])
                if free and not self._clash(n, m, *sheet(new[0]), *sheet(new[1])):
                    better = self._sum(pair, new, least) < least - 1e-6
                else:
                    better = False
                self._put_down(pair, new if better else old)
                moved |= better
        return moved

    def _take_up(self, group: Sequence[int]) -> None:
        for join in self._joins(group):
            self._lay(join, -1)
        for n in group:
            self._fill(n, self.at[n], add=False)
        self._gone = frozenset(group)

    def _put_down(self, group: Sequence[int], spots: Sequence[Point]) -> None:
        self._gone = frozenset()
        for n, p in zip(group, spots, strict=True):
            self.at[n] = p
            self._fill(n, p, add=True)
        for join in self._joins(group):
            self._lay(join, 1)

    def _joins(self, group: Sequence[int]) -> list[Join]:
        found = {join.pipe: join for n in group for join in self._of[n]}
        return [found[pipe] for pipe in sorted(found)]

    def _sum(
        self, group: Sequence[int], spots: Sequence[Point] | None = None, limit: float = 1e9
    ) -> float:
        old = [self.at[n] for n in group]
        for n, p in zip(group, spots or old, strict=True):
            self.at[n] = p
        cost = sum(self._longing(n) for n in group)
        for join in self._joins(group):
            cost += self._join_cost(join)
            if cost > limit:
                break
        for n, p in zip(group, old, strict=True):
            self.at[n] = p
        return cost

    def _longing(self, n: int) -> float:
        """Return what it costs to be away from where a body would like to be."""
        tx, ty = self.targets[n]
        x, y = sheet(self.at[n])
        return self.pull * (abs(x - tx) + abs(y - ty))

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
        left, top, right, bottom = self._reaches[n]
        left, top, right, bottom = left + x, top + y, right + x, bottom + y
        inner = self._inners[n]
        if left < inner[0] or top < inner[1] or right > inner[2] or bottom > inner[3]:
            return False
        gap = GAP + self._rooms[n]
        for m in self._mates[n]:
            other = self.at[m]
            if other[0] == -999 or m in self._gone:
                continue
            ox, oy = other[0] * COLUMN, other[1] * ROW
            theirs, wide = self._reaches[m], gap + self._rooms[m]
            if (
                left - wide < theirs[2] + ox
                and theirs[0] + ox < right + wide
                and top - wide < theirs[3] + oy
                and theirs[1] + oy < bottom + wide
                and self._clash(n, m, x, y, ox, oy)
            ):
                return False
        return True

    def _clash(  # noqa: PLR0913, PLR0917 - two bodies and where each would stand
        self, n: int, m: int, x: float, y: float, ox: float, oy: float
    ) -> bool:
        gap = GAP + self._rooms[n] + self._rooms[m]
        for box in self._room_of[n]:
            mine = box.moved(x, y).grown(gap)
            for other in self._room_of[m]:
                if mine.meets(other.moved(ox, oy)):
                    return True
        return False

    # --- what a position costs

    def _cost(self, n: int, spot: Point, limit: float = 1e9) -> float:
        self.at[n] = spot
        cost = self._longing(n)
        for join in self._of[n]:
            cost += self._join_cost(join)
            if cost > limit:
                break
        return cost

    def _join_cost(self, join: Join) -> float:
        start, end, path = self._path(join)
        length = distance(start, end)
        far = 0.16 if min(len(self._of[join.a]), len(self._of[join.b])) > 1 else 0.3
        cost = (5.0 if join.depths else 3.0) if straight(start, end) is None else 0.0
        cost += 1.6 * max(0.0, join.need - length) + far * max(0.0, length - join.need)
        if join.way is not None and length:
            (sx, sy), (ex, ey) = sheet(start), sheet(end)
            size = max(1e-6, ((ex - sx) ** 2 + (ey - sy) ** 2) ** 0.5)
            cost += (4.0 if join.depths else 2.2) * (
                1 - ((ex - sx) * join.way[0] + (ey - sy) * join.way[1]) / size
            )
        cost += self._from_above(join, start, end)
        cost += self._against(join, start, end)
        for n, border, is_upright, steps in join.depths:
            x, y = sheet(start if n == join.a else end)
            depth = abs(y - border) / UNIT if is_upright else abs(x - border) / COLUMN
            cost += 3.0 * max(0.0, steps - depth)
        ends = {join.a, join.b}
        for p in path:
            if p in self._filled and not self._filled[p] <= ends:
                cost += 4.0
            if p in self._used:
                cost += 0.8 * self._used[p]
        return cost

    def _from_above(self, join: Join, start: Point, end: Point) -> float:
        """Return what it costs that a pipe would have to come to a stub's foot from above."""
        cost = 0.0
        for n, mine, other in ((join.a, start, end), (join.b, end, start)):
            if self.bodies[n].stubs:
                short = abs(other[0] - mine[0]) - (other[1] - mine[1])
                cost += 1.5 + 0.3 * short if short > 0 else 0.0
        return cost

    def _against(self, join: Join, start: Point, end: Point) -> float:
        """Return what it costs that waste would have to rise, or a vent to fall."""
        if not join.falls:
            return 0.0
        vent = self.riser.pipes[join.pipe].line == "vent"
        down = (start[1] - end[1]) if vent else (end[1] - start[1])
        short = abs(end[0] - start[0]) * -1 - down
        return 2.0 + 0.5 * short if short > 0 else 0.0

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


def _room(body: Body) -> float:
    """Return what a body needs round it for the words that are placed later."""
    return 2.5 + 0.12 * body.label.wide if body.label else 0.0


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
