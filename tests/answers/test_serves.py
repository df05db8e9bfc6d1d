"""What hangs on a valve, a gas shutoff or a drain, against networkx and by hand."""

from pathlib import Path

import networkx
import pytest

from handbook import assets, load
from handbook.answers.serves import drained_through, gas_served, stops
from handbook.house.house import House, build
from handbook.pages.parts.valve import gas_stopped
from handbook.record.grammar.record import Record


@pytest.fixture(scope="module")
def example() -> House:
    return load(assets.example_house()).house


def dry_by_networkx(house: House, valve: str) -> set[str]:
    """The supplies that no source reaches once this valve is taken out of the graph."""
    network = house.water.network
    graph = networkx.DiGraph()
    graph.add_nodes_from(network.nodes)
    for pipe in network.pipes:
        graph.add_edge(pipe.a, pipe.b)
        if not pipe.one_way:
            graph.add_edge(pipe.b, pipe.a)
    for other in network.valves:
        if not other.closed or other.stuck:
            graph.add_edges_from([(other.a, other.b), (other.b, other.a)])
    before = networkx.descendants(graph, next(iter(network.sources)))
    for port in network.handles[valve]:
        graph.remove_edges_from([(port.a, port.b), (port.b, port.a)])
    after = networkx.descendants(graph, next(iter(network.sources)))
    return {supply.id for supply in network.supplies if supply.node in before - after}


def test_each_valve_of_the_example_stops_what_networkx_says(example: House) -> None:
    plain = [
        valve
        for valve, ports in example.water.network.handles.items()
        if not any(port.closed or port.stuck or port.only_for for port in ports)
    ]
    assert len(plain) > 20
    for valve in plain:
        assert set(stops(example, valve).supplies) == dry_by_networkx(example, valve), valve


def small(**parts: object) -> House:
    record = {"format": "1", "house": {"name": "The house"}} | parts
    return build(Record.model_validate(record), Path())


def test_a_valve_that_is_kept_closed_or_stuck_stops_nothing() -> None:
    for state in ({"stands": "closed"}, {"condition": "stuck"}):
        water = {"valves": [{"id": "W1"}, {"id": "W2", "from": "W1", **state}]}
        house = small(
            water=water, fixtures=[{"id": "tap", "kind": "bar sink", "cold": {"from": "W2"}}]
        )
        assert stops(house, "W2").supplies == ()


def test_a_softener_lever_stops_the_softener_and_no_tap() -> None:
    """Turned to bypass, the house keeps its water: common practice, no source."""
    house = small(
        water={
            "valves": [{"id": "W1", "main": "yes"}],
            "softeners": [{"id": "SO", "from": "W1", "bypass": {"lever": {"id": "L1"}}}],
        },
        fixtures=[{"id": "tap", "kind": "bar sink", "cold": {"from": "SO"}}],
    )
    assert stops(house, "L1").supplies == ()
    assert stops(house, "L1").said == ("water to: Water softener",)


def test_what_an_electric_heater_needs_is_said_where_its_water_is_stopped() -> None:
    house = small(
        water={"valves": [{"id": "W1", "main": "yes"}]},
        heaters=[{"id": "H1", "kind": "storage", "fuel": "electric", "cold": {"from": "W1"}}],
    )
    (said,) = stops(house, "W1").heater
    assert "breaker" in said


GAS = {
    "meter": {"id": "GM", "shutoff": {"id": "G1"}},
    "tees": [{"id": "GT1", "from": "G2"}],
    "valves": [{"id": "G2", "from": "GM"}],
    "outlets": [{"id": "stub", "from": "GT1", "shutoff": {"id": "G4"}}],
    "appliances": [
        {"id": "furnace", "kind": "furnace", "gas": {"from": "GT1", "shutoff": {"id": "G3"}}},
        {"id": "grill", "kind": "grill", "gas": {}},
    ],
}


@pytest.mark.parametrize(
    ("thing", "fed"),
    [
        ("G3", ["furnace"]),
        ("G4", ["stub"]),
        ("GT1", ["furnace", "stub"]),
        ("G2", ["furnace", "stub"]),
        ("G1", ["furnace", "grill", "stub"]),  # all gas passes the meter, recorded or not
        ("GM", ["furnace", "grill", "stub"]),
    ],
)
def test_a_gas_shutoff_feeds_what_lies_behind_it(thing: str, fed: list[str]) -> None:
    assert sorted(item.id for item in gas_served(small(gas=GAS), thing)) == fed


def test_everything_that_runs_together_upstream_drains_through_a_stretch() -> None:
    house = small(
        drains={
            "stretches": [
                {"id": "D1", "to": "D2"},
                {"id": "D2", "to": "D3"},
                {"id": "D3"},
                {"id": "D4", "to": "D3"},
            ]
        },
        fixtures=[
            {"id": "sink", "kind": "lavatory", "drain": {"to": "D1"}},
            {"id": "tub", "kind": "bathtub", "drain": {"to": "D4"}},
            {"id": "wc", "kind": "water closet"},
        ],
    )
    through = {d: [item.id for item in drained_through(house, d)] for d in ("D2", "D3", "D4")}
    assert through == {"D2": ["sink"], "D3": ["sink", "tub"], "D4": ["tub"]}


KNOWN = {"gas": GAS, "fixtures": [], "heaters": []}
UNPIPED = {**KNOWN, "heaters": [{"id": "WH", "kind": "storage", "fuel": "natural gas"}]}


def test_a_valve_that_more_may_hang_on_names_the_least_and_the_meter_stops_all() -> None:
    """A heater burns gas, and nothing is recorded of its line: it hangs on G2, or does not."""
    assert gas_stopped(small(**KNOWN), "G2") == "gas to: furnace and gas outlet"
    assert gas_stopped(small(**UNPIPED), "G2") == "gas to at least: furnace and gas outlet"
    assert gas_stopped(small(**UNPIPED), "GM") == "all gas in the house"
    main = {**GAS, "valves": [{"id": "G2", "from": "GM", "main": "yes"}]}
    assert gas_stopped(small(**{**UNPIPED, "gas": main}), "G2") == "all gas in the house"
