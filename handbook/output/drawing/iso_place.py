"""Finds a point of the grid for every body: near where it belongs, in line with what it is joined
to, with room between. A search by small moves that always goes the same way for the same house."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.output.drawing.iso_body import Body
from handbook.output.drawing.iso_cost import Costs
from handbook.output.drawing.iso_fit import AWAY, Fit
from handbook.output.drawing.iso_grid import COLUMN, ROW, Box, Point, Spot, nearest, rings, spokes
from handbook.output.drawing.iso_span import Join
from handbook.output.drawing.iso_zones import Zones

RADII = (10, 8, 7, 6, 5, 4, 4, 3, 3, 2)
"""How far round its point each sweep looks for a better one for every body."""

GROUPED = (2, 4, 6)
"""The sweeps before which whole groups are moved and bodies exchanged."""

SAME = 1e-6
"""Costs that differ by less are the same."""

FARTHEST = 60
GROUP_REACH = 16


class Placing:
    """The search. `pull` is what a point of distance from its target costs a body."""

    def __init__(
        self,
        bodies: Sequence[Body],
        zones: Zones,
        targets: Sequence[Spot],
        joins: Sequence[Join],
        pull: float,
    ) -> None:
        self.bodies, self.zones, self.targets, self.pull = bodies, zones, targets, pull
        self.at: list[Point] = [AWAY] * len(bodies)
        self.fit = Fit(bodies, zones)
        self.costs = Costs(bodies, joins)

    def run(self) -> list[Point] | None:
        """Return a point for each body, or None where they do not fit."""
        if not self._start():
            return None
        for sweep, radius in enumerate(RADII):
            moved = False
            if sweep in GROUPED:
                for group in self._groups():
                    moved |= self._shift(group)
                moved |= self._swap()
            for n in sorted(range(len(self.bodies)), key=lambda n: (len(self.costs.of[n]), n)):
                moved |= self._improve(n, radius)
            if not moved:
                break
        return self.at

    def _start(self) -> bool:
        """Put every body, the largest first, as near to its target as it fits."""
        size = {n: _area(body.reach) for n, body in enumerate(self.bodies)}
        for n in sorted(size, key=lambda n: (-size[n], n)):
            around = rings(nearest(*self.targets[n]), FARTHEST)
            spot = next((p for p in around if self.fit.free(n, p, self.at)), None)
            if spot is None:
                return False
            self.at[n] = spot
            self.costs.fill(n, spot, add=True)
        for k in range(len(self.costs.joins)):
            self.costs.lay(k, self.at, 1)
        return True

    # --- one body --------------------------------------------------------------------------------

    def _improve(self, n: int, radius: int) -> bool:
        """Move a body to the best point that it may choose from; say whether it moved."""
        old = self.at[n]
        for k in self.costs.of[n]:
            self.costs.lay(k, self.at, -1)
        self.costs.fill(n, old, add=False)
        best = self._best(n, radius)
        self.at[n] = best
        self.costs.fill(n, best, add=True)
        for k in self.costs.of[n]:
            self.costs.lay(k, self.at, 1)
        return best != old

    def _best(self, n: int, radius: int) -> Point:
        """Return where a body costs least: its point, one in line with what it is joined to, or
        one near its point; of several the first."""
        sides, best = self.costs.sides(n, self.at), self.at[n]
        least = self._more(self._longing(n, best), self.costs.of[n], 1e9)
        in_line = self._in_line(n)
        for spots in (
            sorted(in_line - {best}),
            (p for p in rings(best, radius) if p not in in_line and p != best),
        ):
            limit = least - SAME
            ranked = [
                (cost, order, spot)
                for order, spot in enumerate(spots)
                if (cost := self.costs.bare(sides, spot, self._longing(n, spot), limit)) < limit
            ]
            best, least = self._cheapest(n, sorted(ranked), best, least)
        return best

    def _cheapest(
        self, n: int, ranked: Sequence[tuple[float, int, Point]], best: Point, least: float
    ) -> tuple[Point, float]:
        """Return the best of spots, which stand by what they cost at the least, and its cost."""
        first, limit = len(ranked), least - SAME
        for bare, order, spot in ranked:
            if bare >= min(limit, least + SAME):
                break
            self.at[n] = spot
            cost = self._hindered(bare, self.costs.of[n], min(limit, least + SAME))
            better = cost < least - SAME or (order < first and cost < min(limit, least + SAME))
            if better and self.fit.free(n, spot, self.at):
                best, least, first = spot, cost, order
        return best, least

    def _more(self, cost: float, joins: Sequence[int], limit: float) -> float:
        """Return a cost with that of pipes added, as long as it is below the limit."""
        for k in joins:
            if cost >= limit:
                return cost
            cost += self.costs.least(k, self.at)
        return self._hindered(cost, joins, limit)

    def _hindered(self, cost: float, joins: Sequence[int], limit: float) -> float:
        """Return a cost with that of what is in the way of pipes added, as long as it is below
        the limit."""
        for k in joins:
            if cost >= limit:
                return cost
            cost += self.costs.crossed(k, self.at)
        return cost

    def _longing(self, n: int, spot: Point) -> float:
        """Return what it costs a body to be away from where it would like to be."""
        tx, ty = self.targets[n]
        return self.pull * (abs(spot[0] * COLUMN - tx) + abs(spot[1] * ROW - ty))

    def _in_line(self, n: int) -> set[Point]:
        """Return the points in line with each thing that a body is joined to."""
        found: set[Point] = set()
        for k, other in zip(self.costs.of[n], self.costs.near(n), strict=True):
            need, (ox, oy) = self.costs.joins[k].need, self.at[other]
            moves = spokes(round(need), round(need + 2), round(need + 4))
            for mx, my in self.costs.ends(k, n):
                for dx, dy in self.costs.ends(k, other):
                    x, y = ox + dx - mx, oy + dy - my
                    found.update((x + across, y + down) for across, down in moves)
        return found

    # --- several bodies --------------------------------------------------------------------------

    def _groups(self) -> Iterator[tuple[int, ...]]:
        """Yield bodies that move together: a point, the fixtures at it, the points at those."""
        of, near, zone = self.costs.of, self.costs.near, self.zones.of
        for n, body in enumerate(self.bodies):
            if body.stubs or len(of[n]) < 2:
                continue
            group = {n}
            for m in near(n):
                if zone[m] == zone[n] and (self.bodies[m].stubs or len(of[m]) == 1):
                    group.add(m)
                    group |= {k for k in near(m) if zone[k] == zone[n]}
            if len(group) > 1:
                yield tuple(sorted(group))

    def _shift(self, group: tuple[int, ...]) -> bool:
        """Move a group as a whole, if that is better."""
        old = [self.at[n] for n in group]
        self._take_up(group)
        least, best = self._sum(group, old, 1e9), old
        for to in rings((0, 0), GROUP_REACH):
            if (to[0] + to[1]) % 4:
                continue
            new = [(p[0] + to[0], p[1] + to[1]) for p in old]
            cost = self._sum(group, new, least - 1e-6)
            if cost < least - 1e-6 and self._fits(group, new):
                least, best = cost, new
        self._put_down(group, best)
        return best != old

    def _fits(self, group: Sequence[int], spots: Sequence[Point]) -> bool:
        pairs = zip(group, spots, strict=True)
        return all(self.fit.free(n, p, self.at, group) for n, p in pairs)

    def _swap(self) -> bool:
        """Exchange any two bodies of a zone, if that is better."""
        moved = False
        for n in range(len(self.bodies)):
            for m in self.fit.mates[n]:
                if m < n:
                    continue
                pair, old = (n, m), [self.at[n], self.at[m]]
                new = old[::-1]
                if not self._fits(pair, new):
                    continue
                offset = (new[1][0] - new[0][0], new[1][1] - new[0][1])
                if self.fit.clash(n, m, offset):
                    continue
                self._take_up(pair)
                least = self._sum(pair, old, 1e9)
                better = self._sum(pair, new, least - 1e-6) < least - 1e-6
                self._put_down(pair, new if better else old)
                moved |= better
        return moved

    def _take_up(self, group: Sequence[int]) -> None:
        for k in self._joins(group):
            self.costs.lay(k, self.at, -1)
        for n in group:
            self.costs.fill(n, self.at[n], add=False)

    def _put_down(self, group: Sequence[int], spots: Sequence[Point]) -> None:
        for n, p in zip(group, spots, strict=True):
            self.at[n] = p
            self.costs.fill(n, p, add=True)
        for k in self._joins(group):
            self.costs.lay(k, self.at, 1)

    def _joins(self, group: Sequence[int]) -> list[int]:
        return sorted({k for n in group for k in self.costs.of[n]})

    def _sum(self, group: Sequence[int], spots: Sequence[Point], limit: float) -> float:
        """Return what bodies cost at these points; no less than the limit where that is more."""
        old = [self.at[n] for n in group]
        for n, p in zip(group, spots, strict=True):
            self.at[n] = p
        cost = self._more(sum(map(self._longing, group, spots)), self._joins(group), limit)
        for n, p in zip(group, old, strict=True):
            self.at[n] = p
        return cost


def _area(box: Box) -> float:
    return (box.right - box.left) * (box.bottom - box.top)
