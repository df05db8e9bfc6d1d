"""The shortest ways over a floor plan: through the middle of each door, taut round corners.

A way is measured where every zone on it has an outline and every passage its points. Where that
is not so, `rooms` still tells which rooms to go through, by the fewest passages.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import TYPE_CHECKING

from handbook.house.spaces import XY

if TYPE_CHECKING:
    import networkx as nx

    from handbook.house.floor_plan import Anchor, FloorPlan, Passage

Door = tuple[int, str]
"""A passage's number and the zone on whose side one stands."""


@dataclass(frozen=True)
class Walk:
    """A way: through `passages`, standing in `zones` before, between and after them.

    `length` in inches, None where it is not measured; `ends_short` where the goal's own point is
    not known and the way ends as one enters its zone.
    """

    zones: tuple[str, ...]
    passages: tuple[Passage, ...]
    length: float | None
    ends_short: bool = False


class Walks:
    """Ways over one plan. What is common to all of them is worked out once."""

    def __init__(self, plan: FloorPlan) -> None:
        self.plan = plan
        self._from: dict[Anchor, tuple[dict[Door, float], dict[Door, list[Door]]]] = {}
        self._graph = self._lay()

    def _lay(self) -> nx.Graph:
        import networkx as nx

        graph = nx.Graph()
        for number, passage in enumerate(self.plan.passages):
            if passage.line:
                a, b = (number, passage.a), (number, passage.b)
                graph.add_edge(a, b, weight=passage.length)
        for zone in self.plan.zones.values():
            doors = [door for door in graph if door[1] == zone.id]
            if zone.space is None:
                continue
            for at, one in enumerate(doors):
                for other in doors[at + 1 :]:
                    far = zone.space.length(self._stand(one), self._stand(other))
                    graph.add_edge(one, other, weight=far)
        return graph

    def _stand(self, door: Door) -> XY:
        return self.plan.passages[door[0]].toward(door[1])[-1]

    def to(self, start: Anchor, goal: Anchor) -> Walk | None:
        """The shortest way; None where none is known. A start without a point: from its middle."""
        return self._measured(start, goal) or self.rooms(start, goal)

    def distance(self, start: Anchor, goal: Anchor) -> float:
        """The length of the shortest way in inches; `inf` where it is not measured."""
        measured = self._measured(start, goal)
        return inf if measured is None or measured.length is None else measured.length

    def _measured(self, start: Anchor, goal: Anchor) -> Walk | None:
        direct = self._direct(start, goal)
        if direct is not None:
            return Walk((goal.zone or "",), (), direct, goal.point is None)
        lengths, ways = self._all_from(start)
        best: tuple[float, Door] | None = None
        for door, length in lengths.items():
            if door[1] == goal.zone:
                whole = length + self._last(door, goal)
                if best is None or whole < best[0]:
                    best = (whole, door)
        if best is None:
            return None
        return self._walk(ways[best[1]], best[0], goal.point is None)

    def _direct(self, start: Anchor, goal: Anchor) -> float | None:
        """The length of a way inside one zone, as far as it is known; None between two zones."""
        if start.zone is None or start.zone != goal.zone:
            return None
        space, begins = self.plan.zones[start.zone].space, self._begins(start)
        if space is None or begins is None or goal.point is None:
            return 0.0 if goal.point is None else None
        return space.length(begins, goal.point)

    def _begins(self, start: Anchor) -> XY | None:
        """Where a walk begins: in the middle of the room where no point is recorded."""
        space = self.plan.zones[start.zone].space if start.zone else None
        if start.point is not None or space is None or space.around:
            return start.point
        return space.middle

    def _last(self, door: Door, goal: Anchor) -> float:
        space = self.plan.zones[door[1]].space
        if space is None or goal.point is None:
            return 0.0
        return space.length(self._stand(door), goal.point)

    def _all_from(self, start: Anchor) -> tuple[dict[Door, float], dict[Door, list[Door]]]:
        """The lengths and ways from a start to every door, worked out once for each start."""
        if start not in self._from:
            self._from[start] = self._search(start)
        return self._from[start]

    def _search(self, start: Anchor) -> tuple[dict[Door, float], dict[Door, list[Door]]]:
        import networkx as nx

        space = self.plan.zones[start.zone].space if start.zone else None
        point = self._begins(start)
        if space is None or start.zone is None or point is None:
            return {}, {}
        here: Door = (-1, start.zone)
        graph = self._graph.copy()
        graph.add_node(here)
        for door in self._graph:
            if door[1] == start.zone:
                graph.add_edge(here, door, weight=space.length(point, self._stand(door)))
        lengths, ways = nx.single_source_dijkstra(graph, here)
        return lengths, ways

    def _walk(self, doors: list[Door], length: float, short: bool) -> Walk:
        zones, passages = [doors[0][1]], []
        for before, after in pairwise(doors):
            if before[0] == after[0]:
                passages.append(self.plan.passages[before[0]])
                zones.append(after[1])
        return Walk(tuple(zones), tuple(passages), length, short)

    def rooms(self, start: Anchor, goal: Anchor) -> Walk | None:
        """The way through the fewest passages, measured or not."""
        import networkx as nx

        if start.zone is None or goal.zone is None:
            return None
        graph = nx.Graph()
        graph.add_nodes_from((start.zone, goal.zone))
        for passage in reversed(self.plan.passages):  # of two doors the first recorded is taken
            graph.add_edge(passage.a, passage.b, passage=passage)
        try:
            zones = nx.shortest_path(graph, start.zone, goal.zone)
        except nx.NetworkXNoPath:
            return None
        passages = tuple(graph.edges[a, b]["passage"] for a, b in pairwise(zones))
        return Walk(tuple(zones), passages, None, True)
