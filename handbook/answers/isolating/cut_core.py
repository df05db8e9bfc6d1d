"""A water network boiled down to what the choice of valves depends on, with prices.

Nodes joined by plain pipe become one cell, dead ends are added to what they hang on, and every
wish about the answer (fewest supplies lost, fewest valves, ...) becomes part of one whole number,
so that `least_cut` need only look for the lowest price, and is exact down to the last tie.
"""

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import isinf

from handbook.house.network import Network, Standing

FEED, THING = 0, 1  # the cells that hold all sources, and all that must be dry
Arc = tuple[int, int]


@dataclass(frozen=True)
class Core:
    """The network boiled down: cells are nodes joined by plain two-way pipe.

    `pipes` pass one way; `ports` are the valves between cells, by id, those in `opens` standing
    closed; `dry` is the price of each cell going dry, `turn` the price of turning each valve.
    """

    pipes: tuple[Arc, ...]
    ports: Mapping[str, tuple[Arc, ...]]
    opens: frozenset[str]
    dry: Mapping[int, int]
    turn: Mapping[str, int]


def boil_down(
    network: Network,
    standing: Standing,
    doomed: Collection[str],
    missed: Mapping[str, int],
    nearness: Callable[[str], float] | None,
) -> Core:
    """The core of the question that `least_cut.least_cut` answers; the arguments are the same."""
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
    ports = _ports(network, standing, cell)
    gone = _fold(pipes, ports, standing.may_open, people, nodes)
    ports = {id_: arcs for id_, arcs in ports.items() if gone.isdisjoint(arcs[0])}
    turn, supply, node_price = _prices(network, ports, len(cell), nearness)
    kept = set(nodes) - gone - {THING}
    return Core(
        pipes=tuple((a, b) for a, b in sorted(pipes) if a != b and not {a, b} & gone),
        ports={id_: tuple(arcs) for id_, arcs in ports.items()},
        opens=standing.may_open,
        dry={number: people[number] * supply + nodes[number] * node_price for number in kept},
        turn=turn,
    )


def _cells(network: Network, standing: Standing, doomed: Collection[str]) -> dict[str, int]:
    """A number for each node that is doomed or can still be wet; nodes that cannot are left out."""
    import networkx as nx

    wettable = network.downstream(network.sources, standing.fixed_shut, doomed)
    joined = nx.Graph()
    joined.add_nodes_from(sorted(wettable))
    solid = standing.working | standing.fixed_shut
    joined.add_edges_from((p.a, p.b) for p in network.pipes if not p.one_way and p.a in wettable)
    joined.add_edges_from(
        (v.a, v.b) for v in network.valves if v.id not in solid and v.a in wettable
    )
    nx.add_path(joined, sorted(network.sources))
    cell = dict.fromkeys(doomed, THING)
    number = THING
    for group in nx.connected_components(joined):
        number += 1
        cell.update(dict.fromkeys(group, FEED if group & network.sources else number))
    return cell


def _ports(network: Network, standing: Standing, cell: Mapping[str, int]) -> dict[str, list[Arc]]:
    """The cells that each working valve joins; a valve that water goes round joins none."""
    ports: dict[str, list[Arc]] = {}
    for valve in network.valves:
        if valve.id in standing.working and valve.a in cell and valve.b in cell:
            ends = (cell[valve.a], cell[valve.b])
            if ends[0] != ends[1]:
                ports.setdefault(valve.id, []).append(ends)
    return ports


def _fold(
    pipes: Iterable[Arc],
    ports: Mapping[str, list[Arc]],
    opens: Collection[str],
    people: Counter[int],
    nodes: Counter[int],
) -> set[int]:
    """Dead ends are as wet as what they hang on: add them to it, and return their numbers."""
    beside: dict[int, set[int]] = {number: set() for number in nodes}
    fixed = {FEED, THING}
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
