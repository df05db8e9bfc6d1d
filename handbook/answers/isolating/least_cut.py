"""The best set of valves where no single one will do: loops, two feeds, hot and cold together.

Which valves stop the thing at the least price, when what can stay wet must really be fed, is a
minimum cut with a condition that no minimum cut knows. So it is used as a lower bound, and where
its answer is not what would really happen, the search goes both ways on one valve (turned, or
left alone) until bound and truth agree.
"""

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import inf

from handbook.answers.isolating.cut_core import FEED, THING, Arc, Core, boil_down
from handbook.house.network import Network, Standing


@dataclass(frozen=True)
class _Bound:
    """No answer under the same decisions is cheaper than `price`.

    Closing `close` attains it if all of `wet` is then fed, and each handle paid in full.
    """

    price: int
    wet: set[int]
    close: frozenset[str]


def least_cut(
    network: Network,
    standing: Standing,
    doomed: Collection[str],
    missed: Mapping[str, int],
    nearness: Callable[[str], float] | None,
) -> frozenset[str]:
    """The ids to turn (close what is open, open what is closed) so that `doomed` is dry.

    `doomed`: the target and all nodes from which water reaches it past no working valve; holds
    no source. `missed`: how many supplies would be missed at each node.
    """
    search = _Search(boil_down(network, standing, doomed, missed, nearness))
    search.explore(frozenset(), frozenset())
    return search.best


class _Search:
    """Branch and bound over the valves of a core; `best` is the cheapest set found so far."""

    def __init__(self, core: Core) -> None:
        self.core = core
        self.best: frozenset[str] = frozenset()
        self._price: float = inf

    def explore(self, turned: frozenset[str], left: frozenset[str]) -> None:
        """Look at every answer that turns all of `turned` and none of `left`."""
        bound = self._bound(turned, left)
        if bound is None or bound.price >= self._price:
            return
        answer = turned | bound.close
        fed = self._fed(answer)
        price = sum(self.core.turn[id_] for id_ in answer)
        price += sum(dry for cell, dry in self.core.dry.items() if cell not in fed)
        if price < self._price:
            self.best, self._price = answer, price
        if price > bound.price:
            valve = self._doubtful(bound, fed, turned | left)
            self.explore(turned | {valve}, left)
            self.explore(turned, left | {valve})

    def _bound(self, turned: frozenset[str], left: frozenset[str]) -> _Bound | None:
        """A minimum cut under the decisions so far; None if the thing cannot be stopped."""
        sure, unsure = self._passages(turned, left)
        dry = _reached(((b, a) for a, b in sure), THING)
        if FEED in dry:
            return None
        passages = [*sure, *((a, b) for _, a, b in unsure)]
        alive = _reached(passages, FEED, avoid=dry)
        endless = {(a, b) for a, b in sure if a in alive}.union(_needs(passages, alive))
        room = Counter({(FEED, cell): self.core.dry[cell] for cell in alive - {FEED}})
        for id_, a, b in unsure:
            if a in alive and id_ not in self.core.opens:
                # A handle with several ports is paid once: no port may ask for more than its share.
                share = self.core.turn[id_] // len(self.core.ports[id_])
                room[a, b if b in alive else THING] += share
        value, wet = _minimum_cut(room, endless)
        price = value + sum(self.core.turn[id_] for id_ in turned)
        price += sum(cost for cell, cost in self.core.dry.items() if cell not in alive)
        close = {id_ for id_, a, b in unsure if a in wet and b not in wet} - self.core.opens
        return _Bound(price, wet, frozenset(close))

    def _passages(
        self, turned: frozenset[str], left: frozenset[str]
    ) -> tuple[list[Arc], list[tuple[str, int, int]]]:
        """Where water passes for sure, and where it depends on a valve not yet decided."""
        sure, unsure = list(self.core.pipes), []
        for id_, arcs in self.core.ports.items():
            both = [way for a, b in arcs for way in ((a, b), (b, a))]
            if id_ not in turned and id_ not in left:
                unsure += [(id_, a, b) for a, b in both]
            elif (id_ in turned) == (id_ in self.core.opens):
                sure += both
        return sure, unsure

    def _fed(self, turned: frozenset[str]) -> set[int]:
        sure, _ = self._passages(turned, frozenset(self.core.ports) - turned)
        return _reached(sure, FEED)

    def _doubtful(self, bound: _Bound, fed: set[int], decided: frozenset[str]) -> str:
        """A valve on which bound and truth may part.

        First one to open, then one with several ports, then one that shuts off a cell taken to
        be wet: the sooner the bound grows, the shorter the search. Any order finds the answer.
        """
        dreamt = bound.wet - fed

        def doubt(id_: str) -> int:
            arcs = self.core.ports[id_]
            if id_ in self.core.opens:
                return 0 if any((a in dreamt) != (b in dreamt) for a, b in arcs) else 4
            if id_ not in bound.close:
                return 5
            if len(arcs) > 1:
                return 1
            return 2 if dreamt.intersection(arcs[0]) else 3

        return min(sorted(set(self.core.ports) - decided), key=doubt)


def _reached(passages: Iterable[Arc], start: int, avoid: Collection[int] = ()) -> set[int]:
    ahead: dict[int, list[int]] = {}
    for a, b in passages:
        ahead.setdefault(a, []).append(b)
    seen, waiting = {start}, [start]
    while waiting:
        for cell in ahead.get(waiting.pop(), ()):
            if cell not in seen and cell not in avoid:
                seen.add(cell)
                waiting.append(cell)
    return seen


def _minimum_cut(room: Mapping[Arc, int], endless: set[Arc]) -> tuple[int, set[int]]:
    """Price of the cheapest cut between feed and thing, and the cells on the feed's side."""
    import networkx as nx

    graph = nx.DiGraph()
    graph.add_nodes_from((FEED, THING))
    graph.add_edges_from((a, b, {"capacity": by}) for (a, b), by in room.items())
    graph.add_edges_from(endless - room.keys())  # an edge without a capacity cannot be cut
    for a, b in endless & room.keys():
        del graph[a][b]["capacity"]
    value, (wet, _) = nx.minimum_cut(graph, FEED, THING)
    return value, wet


def _needs(passages: Iterable[Arc], alive: set[int]) -> Iterator[Arc]:
    """(cell, the last cell that every way to it passes): the first is never wet without the other.

    Told to the minimum cut as endless capacity; without it a fixture behind a one-way entry could
    be taken for wet although its only feed is cut.
    """
    import networkx as nx

    inside = nx.DiGraph([(a, b) for a, b in passages if a in alive and b in alive])
    inside.add_node(FEED)
    dominators: Callable[..., dict[int, int | None]] = nx.immediate_dominators
    for cell, need in dominators(inside, FEED).items():
        if cell != FEED and need is not None:
            yield cell, need
