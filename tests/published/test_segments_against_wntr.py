"""Valve segments and first steps against WNTR's valve segmentation on a published network.

Sources: the network is Net3, an example network of EPANET 2 (US EPA), as shipped with WNTR (US
EPA and Sandia National Laboratories); the segments are WNTR's `metrics.valve_segments`. Where the
valves stand is drawn by WNTR's `generate_valve_layer` from a fixed seed.
"""

from collections import defaultdict

import networkx as nx
import pytest
import wntr

from handbook.answers.isolating.ladder import steps
from handbook.house.network import Network, Pipe, Supply, Valve

LAYERS = [("random", 40, 1), ("random", 90, 2), ("random", 160, 3), ("strategic", 1, 4)]


@pytest.fixture(scope="module")
def net3():
    return wntr.network.WaterNetworkModel("Net3")


@pytest.fixture(params=LAYERS, ids=str)
def layer(request, net3):
    kind, count, seed = request.param
    return wntr.network.generate_valve_layer(net3, kind, count, seed=seed)


def as_house(net3, layer) -> Network:
    """Each of Net3's links becomes a node of its own, so that a valve can stand at either end.

    Every junction and every link is something that people would miss.
    """
    valve_at = {(row.link, row.node): f"V{number}" for number, row in layer.iterrows()}
    pipes, valves = [], []
    for link in net3.link_name_list:
        for end in (net3.get_link(link).start_node_name, net3.get_link(link).end_node_name):
            if (link, end) in valve_at:
                valves.append(Valve(valve_at[link, end], f"link {link}", f"node {end}"))
            else:
                pipes.append(Pipe(f"link {link}", f"node {end}"))
    places = [f"node {name}" for name in net3.node_name_list]
    places += [f"link {name}" for name in net3.link_name_list]
    return Network(
        sources=frozenset(
            f"node {name}" for name in net3.reservoir_name_list + net3.tank_name_list
        ),
        pipes=tuple(pipes),
        valves=tuple(valves),
        supplies=tuple(Supply(place, place) for place in places),
    )


def wntr_segments(net3, layer) -> dict[str, int]:
    """WNTR's segment number for every node and link."""
    nodes, links, _ = wntr.metrics.valve_segments(net3.to_graph(), layer)
    numbers = {f"node {name}": number for name, number in nodes.items()}
    return numbers | {f"link {name}": number for name, number in links.items()}


def test_segments_part_nodes_and_links_as_wntr_does(net3, layer):
    theirs = defaultdict(set)
    for place, number in wntr_segments(net3, layer).items():
        theirs[number].add(place)
    ours = as_house(net3, layer).segments()
    assert len(ours) > 5
    assert set(ours) == {frozenset(group) for group in theirs.values()}


def test_the_first_step_closes_the_fed_edges_of_wntr_s_segment(net3, layer):
    """With everything missed, nothing but the segment and what hangs on it alone may go dry.

    Between segments the graph is of WNTR's numbers and networkx's reachability alone.
    """
    house, segment = as_house(net3, layer), wntr_segments(net3, layer)
    between = nx.MultiGraph()
    between.add_nodes_from(segment.values())
    for number, row in layer.iterrows():
        ends = segment[f"link {row.link}"], segment[f"node {row.node}"]
        if ends[0] != ends[1]:  # else the water goes round the valve: closing it parts nothing
            between.add_edge(*ends, valve=f"V{number}")
    sources = {segment[source] for source in house.sources}
    checked = 0
    for number in sorted(set(segment.values()) - sources)[::3]:  # every third, for time
        rest = between.subgraph(set(between) - {number})
        fed = set().union(*(nx.node_connected_component(rest, source) for source in sources))
        edges = {valve for _, other, valve in between.edges(number, data="valve") if other in fed}
        target = min(place for place, other in segment.items() if other == number)
        first = steps(house, frozenset({target}))[0]
        assert set(first.lost) == {p for p, other in segment.items() if other not in fed}
        assert set(first.close) == edges
        checked += 1
    assert checked > 2
