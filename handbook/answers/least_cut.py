"""The best set of valves where no single one will do: loops, two feeds, hot and cold together.

Which valves stop the thing at the least price, when what can stay wet must really be fed, is a
minimum cut with a condition that no minimum cut knows. So it is used as a lower bound, and where
its answer is not what would really happen, the search goes both ways on one valve (turned, or
left alone) until bound and truth agree. All wishes go into one whole number, the price, so that
the search is exact down to the last tie.

Imported only when needed; it brings in networkx.
"""

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import inf, isinf

import networkx as nx

from handbook.house.network import Network, Standing

_FEED, _THING = 0, 1  # the cells that hold all sources, and all that must be dry
_Arc = tuple[int, int]


@dataclass(frozen=True)
class _Core:
    """The network boiled down: cells are nodes joined by plain two-way pipe.

    `pipes` pass one way; `ports` are the valves between cells, by id, those in `opens` standing
    closed; `dry` is the price of each cell going dry, `turn` the price of turning each valve.
    """

    pipes: tuple[_Arc, ...]
    ports: Mapping[str, tuple[_Arc, ...]]
    opens: frozenset[str]
    dry: Mapping[int, int]
    turn: Mapping[str, int]


@dataclass(frozen=True)
class _Bound:
    """No answer under the same decisions is cheaper than `price`; `wet` and `close` attain it,
    if all of `wet` is fed."""

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
    search = _Search(_boil_down(network, standing, doomed, missed, nearness))
    search.explore(frozenset(), frozenset())
    return search.best


# --- from network to core


def _boil_down(
    network: Network,
    standing: Standing,
    doomed: Collection[str],
    missed: Mapping[str, int],
    nearness: Callable[[str], float] | None,
) -> _Core:
    cell = _cells(network, standing, doomed)
    people, nodes = Counter[int](), Counter[int]()
    for node, number in cell.items():
        people[number] += missed.get(node, 0)
        nodes[number] += 1
    pipes = {
        (cell[pipe.a], cell[pipe.b])
        for pipe in network.pipes
        if pipe.one_way and pipe.a in cell and pipe.b in cell
    }
    ports: dict[str, list[_Arc]] = {}
    for valve in network.valves:
        if valve.id in standing.working and valve.a in cell and valve.b in cell:
            ends = (cell[valve.a], cell[valve.b])
            if ends[0] != ends[1]:
                ports.setdefault(valve.id, []).append(ends)
    gone = _fold(pipes, ports, standing.may_open, people, nodes)
    ports = {id_: arcs for id_, arcs in ports.items() if gone.isdisjoint(arcs[0])}
    turn, supply, node_price = _prices(network, ports, len(cell), nearness)
    kept = set(nodes) - gone - {_THING}
    return _Core(
        pipes=tuple((a, b) for a, b in sorted(pipes) if a != b and not {a, b} & gone),
        ports={id_: tuple(arcs) for id_, arcs in ports.items()},
        opens=standing.may_open,
        dry={number: people[number] * supply + nodes[number] * node_price for number in kept},
        turn=turn,
    )


def _cells(network: Network, standing: Standing, doomed: Collection[str]) -> dict[str, int]:
    """A number for each node that is doomed or can still be wet; nodes that cannot are left out."""
    wettable = network.downstream(network.sources, standing.fixed_shut, doomed)
    joined = nx.Graph()
    joined.add_nodes_from(sorted(wettable))
    solid = standing.working | standing.fixed_shut
    joined.add_edges_from((p.a, p.b) for p in network.pipes if not p.one_way and p.a in wettable)
    joined.add_edges_from(
        (v.a, v.b) for v in network.valves if v.id not in solid and v.a in wettable
    )
    nx.add_path(joined, sorted(network.sources))
    cell = dict.fromkeys(doomed, _THING)
    number = _THING
    for group in nx.connected_components(joined):
        number += 1
        cell.update(dict.fromkeys(group, _FEED if group & network.sources else number))
    return cell


def _fold(
    pipes: Iterable[_Arc],
    ports: Mapping[str, list[_Arc]],
    opens: Collection[str],
    people: Counter[int],
    nodes: Counter[int],
) -> set[int]:
    """Dead ends are as wet as what they hang on: add them to it, and return their numbers."""
    beside: dict[int, set[int]] = {number: set() for number in nodes}
    fixed = {_FEED, _THING}
    for id_, arcs in [("", list(pipes)), *ports.items()]:
        for a, b in arcs:
            beside[a].add(b)
            beside[b].add(a)
        if id_ and (len(arcs) > 1 or id_ in opens):
            fixed.update(end for arc in arcs for end in arc)
    gone: set[int] = set()
    waiting = list(beside)
    while waiting:
        end = waiting.pop()
        if end in fixed or end in gone or len(beside[end] - {end}) != 1:
            continue
        (holder,) = beside[end] - {end}
        people[holder] += people[end]
        nodes[holder] += nodes[end]
        beside[holder].discard(end)
        gone.add(end)
        waiting.append(holder)
    return gone


def _prices(
    network: Network,
    ids: Collection[str],
    nodes: int,
    nearness: Callable[[str], float] | None,
) -> tuple[dict[str, int], int, int]:
    """The price of each valve, of a supply and of a node: each wish outweighs all that follow.

    Ties end with powers of two: of two sets of equal size the one that holds the first id in
    which they differ is cheaper.
    """
    ordered = sorted(ids, key=lambda id_: (network.handles[id_][0].order, id_))
    count = len(ordered)
    steps = _whole_steps({id_: nearness(id_) if nearness else 0.0 for id_ in ordered})
    node = count * 2**count + 1
    near = node * (nodes + 1)
    utility = near * (sum(steps.values()) + 1)
    valve = utility * (count + 1)
    turn = {
        id_: valve
        + utility * network.handles[id_][0].utility
        + near * steps[id_]
        + 2**count
        - 2 ** (count - 1 - rank)
        for rank, id_ in enumerate(ordered)
    }
    return turn, valve * (count + 1), node


def _whole_steps(distance: Mapping[str, float]) -> dict[str, int]:
    """Distances as whole numbers in exact proportion; an endless one exceeds all others added."""
    exact = {id_: Fraction(far) for id_, far in distance.items() if not isinf(far)}
    unit = max((part.denominator for part in exact.values()), default=1)  # powers of two
    whole = {id_: int(part * unit) for id_, part in exact.items()}
    endless = sum(whole.values()) + 1
    return {id_: whole.get(id_, endless) for id_ in distance}


# --- the search


class _Search:
    """Branch and bound over the valves of a core; `best` is the cheapest set found so far."""

    def __init__(self, core: _Core) -> None:
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
        dry = _reached(((b, a) for a, b in sure), _THING)
        if _FEED in dry:
            return None
        passages = [*sure, *((a, b) for _, a, b in unsure)]
        alive = _reached(passages, _FEED, avoid=dry)
        endless = {(a, b) for a, b in sure if a in alive}.union(_needs(passages, alive))
        room = Counter({(_FEED, cell): self.core.dry[cell] for cell in alive - {_FEED}})
        for id_, a, b in unsure:
            if a in alive and id_ not in self.core.opens:
                # A handle with several ports is paid once: no port may ask for more than its share.
                share = self.core.turn[id_] // len(self.core.ports[id_])
                room[a, b if b in alive else _THING] += share
        value, wet = _minimum_cut(room, endless)
        price = value + sum(self.core.turn[id_] for id_ in turned)
        price += sum(cost for cell, cost in self.core.dry.items() if cell not in alive)
        close = {id_ for id_, a, b in unsure if a in wet and b not in wet} - self.core.opens
        return _Bound(price, wet, frozenset(close))

    def _passages(
        self, turned: frozenset[str], left: frozenset[str]
    ) -> tuple[list[_Arc], list[tuple[str, int, int]]]:
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
        return _reached(sure, _FEED)

    def _doubtful(self, bound: _Bound, fed: set[int], decided: frozenset[str]) -> str:
        """A valve on which bound and truth may part: one to open, one with several ports, one
        that shuts off a cell taken to be wet, or else any that is closed."""
        dreamt = bound.wet - fed

        def doubt(id_: str) -> tuple[int, int]:
            arcs = self.core.ports[id_]
            if id_ in self.core.opens:
                bridges = any(
                    (a in fed and b in dreamt) or (b in fed and a in dreamt) for a, b in arcs
                )
                return (0 if bridges else 4, -self.core.turn[id_])
            if id_ not in bound.close:
                return (5, 0)
            if len(arcs) > 1:
                return (1, 0)
            return (2 if dreamt.intersection(arcs[0]) else 3, 0)

        return min(sorted(set(self.core.ports) - decided), key=doubt)


def _reached(passages: Iterable[_Arc], start: int, avoid: Collection[int] = ()) -> set[int]:
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


def _minimum_cut(room: Mapping[_Arc, int], endless: set[_Arc]) -> tuple[int, set[int]]:
    """Price of the cheapest cut between feed and thing, and the cells on the feed's side."""
    graph = nx.DiGraph()
    graph.add_nodes_from((_FEED, _THING))
    graph.add_edges_from((a, b, {"capacity": by}) for (a, b), by in room.items())
    graph.add_edges_from(endless - room.keys())  # an edge without a capacity cannot be cut
    for a, b in endless & room.keys():
        del graph[a][b]["capacity"]
    value, (wet, _) = nx.minimum_cut(graph, _FEED, _THING)
    return value, wet


def _needs(passages: Iterable[_Arc], alive: set[int]) -> Iterator[_Arc]:
    """(cell, the last cell that every way to it passes): the first is never wet without the other.

    Told to the minimum cut as endless capacity; without it a fixture behind a one-way entry could
    be taken for wet although its only feed is cut.
    """
    inside = nx.DiGraph([(a, b) for a, b in passages if a in alive and b in alive])
    inside.add_node(_FEED)
    dominators: Callable[..., dict[int, int | None]] = nx.immediate_dominators
    for cell, need in dominators(inside, _FEED).items():
        if cell != _FEED and need is not None:
            yield cell, need
