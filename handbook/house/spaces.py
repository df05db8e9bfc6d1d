"""Where one can walk: inside a room's outline, or anywhere around a building's.

Shortest ways are exact: a taut string through a simple polygon bends only at its corners that
point into the free space, so the search runs over what those corners see of each other.

Coordinates are inches on the plan, as (x, y).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import dist, hypot, inf
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shapely import Polygon

XY = tuple[float, float]

SLACK = 1e-3
"""Inches by which a way may cut into a wall: far below any tape, far above rounding."""


@dataclass(frozen=True)
class Space:
    """The free space inside `outline`, or outside it where `around` is set.

    `outline` is a simple polygon, its corners in order; see `space`, which checks that.
    """

    outline: tuple[XY, ...]
    around: bool = False

    @cached_property
    def polygon(self) -> Polygon:
        """The outline as a polygon."""
        from shapely import Polygon

        return Polygon(self.outline)

    @cached_property
    def _bound(self) -> Polygon:
        """What a way must stay inside of (or out of), with the slack given."""
        from shapely import prepare

        bound = self.polygon.buffer(-SLACK if self.around else SLACK, join_style="mitre")
        prepare(bound)
        return bound

    @cached_property
    def corners(self) -> tuple[XY, ...]:
        """The corners at which a shortest way may bend."""
        count = len(self.outline)
        turning = [
            cross(self.outline[at - 1], self.outline[at], self.outline[(at + 1) % count])
            for at in range(count)
        ]
        inward = -1 if self.polygon.exterior.is_ccw else 1
        wanted = -inward if self.around else inward
        return tuple(p for p, turn in zip(self.outline, turning, strict=True) if turn * wanted > 0)

    def holds(self, point: XY) -> bool:
        """Whether a person can stand there; the wall's own line counts."""
        from shapely import Point

        if self.around:
            return not self._bound.contains(Point(point))
        return bool(self._bound.covers(Point(point)))

    def nearest(self, point: XY) -> XY:
        """The point itself, or the nearest one on the wall where it lies beyond it."""
        if self.holds(point):
            return point
        from shapely import Point
        from shapely.ops import nearest_points

        found, _ = nearest_points(self.polygon.exterior, Point(point))
        return (found.x, found.y)

    def sees(self, a: XY, b: XY) -> bool:
        """Whether one can walk straight from `a` to `b`."""
        from shapely import LineString, Point

        line = LineString((a, b)) if a != b else Point(a)
        if self.around:
            return not self._bound.intersects(line)
        return bool(self._bound.covers(line))

    def way(self, a: XY, b: XY) -> tuple[XY, ...]:
        """The shortest way from `a` to `b`, with its bends. Both must be in the space."""
        if self.sees(a, b):
            return (a, b)
        best: tuple[float, list[XY]] = (inf, [])
        for first in self._seen(a):
            lengths, ways = self._ways[first]
            for last in self._seen(b):
                if last in lengths:
                    length = dist(a, first) + lengths[last] + dist(last, b)
                    if length < best[0]:
                        best = (length, ways[last])
        return (a, *best[1], b)

    def length(self, a: XY, b: XY) -> float:
        """The length of the shortest way, in inches."""
        return length_of(self.way(a, b))

    def _seen(self, point: XY) -> Iterator[XY]:
        return (corner for corner in self.corners if self.sees(point, corner))

    @cached_property
    def _ways(self) -> dict[XY, tuple[dict[XY, float], dict[XY, list[XY]]]]:
        """From each corner, the lengths of the ways to all others, and their bends."""
        import networkx as nx

        graph = nx.Graph()
        graph.add_nodes_from(self.corners)
        for at, one in enumerate(self.corners):
            for other in self.corners[at + 1 :]:
                if self.sees(one, other):
                    graph.add_edge(one, other, weight=dist(one, other))
        return {one: nx.single_source_dijkstra(graph, one) for one in self.corners}

    def clear_of_walls(self, by: float) -> Space | None:
        """The space at least `by` inches from its walls; None where it falls apart."""
        away = 1 if self.around else -1
        sliver = 0.5  # inches: what is left of a passage just twice as wide as `by` is none
        kept = self.polygon.buffer(away * (by + sliver), join_style="mitre")
        kept = kept.buffer(-away * sliver, join_style="mitre")
        if kept.geom_type != "Polygon" or kept.is_empty or kept.interiors:
            return None
        return Space(tuple(kept.exterior.coords)[:-1], self.around)

    def overlaps(self, other: Space, wider_than: float) -> bool:
        """Whether two rooms share ground that is somewhere wider than a number of inches."""
        if not self.polygon.intersects(other.polygon):
            return False
        shared = self.polygon.intersection(other.polygon)
        return not shared.buffer(-wider_than / 2).is_empty

    @cached_property
    def narrow(self) -> bool:
        """Whether it is a hall rather than a room: nowhere wider than `HALL_WIDTH`."""
        return not self.around and bool(self.polygon.buffer(-HALL_WIDTH / 2).is_empty)

    @cached_property
    def middle(self) -> XY:
        """The middle of the room: its centre, or the nearest point of it that is in the room."""
        centre = self.polygon.centroid
        return self.nearest((centre.x, centre.y))

    def facing(self, point: XY) -> tuple[XY, ...]:
        """Directions (of length 1) that lead into the space from the walls nearest to `point`."""
        near = [(from_wall(point, a, b), a, b) for a, b in self._walls()]
        least = min(far for far, _, _ in near)
        return tuple(self._inward(a, b) for far, a, b in near if far < least + 1)

    def _walls(self) -> Iterator[tuple[XY, XY]]:
        for a, b in zip(self.outline, (*self.outline[1:], self.outline[0]), strict=True):
            if dist(a, b) > SLACK:
                yield a, b

    def _inward(self, a: XY, b: XY) -> XY:
        left = unit((a[1] - b[1], b[0] - a[0]))
        ahead = self.polygon.exterior.is_ccw != self.around
        return left if ahead else (-left[0], -left[1])


HALL_WIDTH = 72.0
"""Inches; what is nowhere wider is walked along rather than across. Common sense, no source."""


def space(outline: Sequence[XY], *, around: bool = False) -> Space | None:
    """A space from an outline; None where the outline is no simple polygon."""
    corners = tuple(dict.fromkeys((float(x), float(y)) for x, y in outline))
    if len(corners) < 3:
        return None
    from shapely import Polygon

    polygon = Polygon(corners)
    return Space(corners, around) if polygon.is_valid and polygon.area > 0 else None


def cross(a: XY, b: XY, c: XY) -> float:
    """Above zero where the way a, b, c turns left, below zero where it turns right."""
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def length_of(points: Sequence[XY]) -> float:
    """The length of a line through these points."""
    return sum(dist(a, b) for a, b in pairwise(points))


def unit(way: XY) -> XY:
    """The same direction with length 1; no direction at all stays as it is."""
    size = hypot(*way)
    return (way[0] / size, way[1] / size) if size else way


def from_wall(point: XY, a: XY, b: XY) -> float:
    """How far a point is from the straight wall from `a` to `b`."""
    along = (b[0] - a[0], b[1] - a[1])
    size = along[0] ** 2 + along[1] ** 2
    share = ((point[0] - a[0]) * along[0] + (point[1] - a[1]) * along[1]) / size
    share = min(1.0, max(0.0, share))
    return dist(point, (a[0] + share * along[0], a[1] + share * along[1]))
