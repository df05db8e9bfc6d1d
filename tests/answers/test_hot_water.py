"""The wait for hot water on houses small enough to add up on paper, and against a graph library.

A foot of 1/2 in PEX holds 1.18 fl oz, of 3/4 in PEX 2.35 (IPC Table E202.1); 128 to the gallon.
"""

from pathlib import Path

import networkx as nx
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.answers.heating.hot_said import wait, wasted
from handbook.answers.hot_water import HotWater, Outlet, hot_water
from handbook.house.house import House, build
from handbook.record.grammar.record import Record

LAVATORY_GPM = 0.8  # IRC Table P2903.1


def house(text: str) -> House:
    tree = yaml.load(text, Loader=yaml.BaseLoader)
    return build(Record.model_validate({"format": "1", "house": {"name": "Hot"}, **tree}), Path())


def asked(text: str) -> HotWater:
    return hot_water(house(text))


def outlet(text: str, name: str = "lav") -> Outlet:
    (found,) = [it for it in asked(text).outlets if it.id == name]
    return found


PLAIN = """
water:
  recirculation: none
  tees: [{id: T1, from: WH, by: 20 ft of 3/4 in PEX}]
heaters: [{id: WH, kind: storage, setting: 120 F}]
fixtures:
  - {id: lav, kind: lavatory, hot: {from: T1, by: 10 ft of 1/2 in PEX}}
"""


def test_the_wait_is_what_stands_in_the_pipe_at_the_outlets_flow() -> None:
    way = outlet(PLAIN).from_heater
    assert way is not None
    ounces = 20 * 2.35 + 10 * 1.18  # 58.8
    assert way.volume.gallons == pytest.approx(ounces / 128)  # 0.459 gal
    assert way.seconds == pytest.approx(ounces / 128 / LAVATORY_GPM * 60)  # 34.5 s
    assert (way.source, way.length.feet) == ("WH", 30)
    assert (way.wait, way.stores_too_much) == ("too long", False)


def test_a_way_of_two_sizes_is_held_against_the_larger() -> None:
    # LEED for Homes, Table 1a: 21 ft for 3/4 in from the heater; 30 ft is too far
    way = outlet(PLAIN).from_heater
    assert way is not None
    assert way.limit is not None
    assert (way.limit.feet, way.too_far) == (21, True)


def test_more_than_half_a_gallon_is_more_than_watersense_allows() -> None:
    # 24 ft x 2.35 + 10 x 1.18 = 68.2 oz = 0.533 gal
    way = outlet(PLAIN.replace("20 ft", "24 ft")).from_heater
    assert way is not None
    assert way.stores_too_much


def test_the_makers_flow_goes_before_the_published_one() -> None:
    text = PLAIN.replace("kind: lavatory,", "kind: lavatory, delivers: 1.6 gpm at 60 psi,")
    slow, quick = outlet(PLAIN).from_heater, outlet(text).from_heater
    assert slow
    assert quick
    assert quick.seconds == pytest.approx(slow.seconds / 2)  # 1.6 is twice 0.8


LOOP = """
water:
  recirculation: {id: RP, from: T2, to: WH, by: 30 ft of 1/2 in PEX, control: a timer}
  tees:
    - {id: T1, from: WH, by: 20 ft of 3/4 in PEX}
    - {id: T2, from: T1, by: 12 ft of 3/4 in PEX}
heaters: [{id: WH, kind: storage, setting: 120 F}]
fixtures:
  - {id: lav, kind: lavatory, hot: {from: T2, by: 10 ft of 1/2 in PEX}}
  - {id: tub, kind: bathtub, hot: {from: T1, by: 6 ft of 1/2 in PEX}}
  - {id: dw, kind: dishwasher, hot: {from: WH, by: 5 ft of 1/2 in PEX}}
"""


def test_while_the_pump_runs_the_wait_is_from_the_loop() -> None:
    near, far = outlet(LOOP).from_loop, outlet(LOOP).from_heater
    assert near
    assert far
    assert (near.source, near.length.feet) == ("T2", 10)
    assert near.volume.gallons == pytest.approx(10 * 1.18 / 128)
    assert (far.source, far.length.feet) == ("WH", 42)


def test_an_outlet_hangs_on_the_loop_where_its_pipe_leaves_it() -> None:
    near = outlet(LOOP, "tub").from_loop
    assert near
    assert (near.source, near.length.feet) == ("T1", 6)


def test_the_loops_shorter_limits_hold_on_the_loop() -> None:
    # LEED for Homes, Table 1a: 1/2 in may be 16 ft from the loop, 43 ft from the heater
    near, far = outlet(LOOP, "tub").from_loop, outlet(LOOP, "dw").from_heater
    assert near
    assert far
    assert (near.limit and near.limit.feet, far.limit and far.limit.feet) == (16, 43)


def test_the_pumps_own_control_is_noted_or_asked_for() -> None:
    loop = asked(LOOP).loop
    assert loop
    assert (loop.pump, loop.draws, loop.control) == ("RP", "T2", "a timer")
    assert "when RP runs (`control`)" in asked(LOOP.replace(", control: a timer", "")).missing


def test_a_loop_whose_beginning_is_not_recorded_is_not_reckoned_with() -> None:
    answer = asked(LOOP.replace("from: T2, to: WH", "to: WH"))
    assert answer.loop is None
    assert all(it.from_loop is None for it in answer.outlets)
    assert "where RP draws, up to a water heater" in answer.missing


def test_whether_it_is_recirculated_is_asked_where_nobody_said() -> None:
    want = "whether hot water is recirculated (`water: recirculation`; `none` if it is not)"
    assert want in asked(PLAIN.replace("recirculation: none", "inside_main: none")).missing
    assert want not in asked(PLAIN).missing


# --- holes: what is needed, and no number


@pytest.mark.parametrize(
    ("old", "new", "need"),
    [
        ("by: 20 ft of 3/4 in PEX", "by: {size: 3/4 in, material: PEX}", "the length of the pipe"),
        ("by: 20 ft of 3/4 in PEX", "by: {length: 20 ft, material: PEX}", "the size of the pipe"),
        ("by: 20 ft of 3/4 in PEX", "by: {length: 20 ft, size: 3/4 in}", "the material of"),
        (", by: 20 ft of 3/4 in PEX", "", "the length and size and material of the pipe to T1"),
        ("from: WH, ", "", "what feeds T1"),
        ("3/4 in PEX", "3/4 in PVC", "the bore of the pipe to T1"),
        ("kind: lavatory", "kind: other", "the flow of such an outlet"),
    ],
)
def test_a_hole_is_named_and_no_number_is_given(old: str, new: str, need: str) -> None:
    assert PLAIN.count(old) == 1
    found = outlet(PLAIN.replace(old, new))
    assert found.from_heater is None
    assert any(need in missing for missing in found.missing)
    assert wait(asked(PLAIN.replace(old, new)), found).startswith("not known: ")


def test_a_hot_pipe_from_the_street_meets_no_heater() -> None:
    text = PLAIN.replace("from: WH", "from: CITY").replace(
        "water:", "water:\n  sources: [{id: CITY, kind: public main}]"
    )
    assert any("a water heater in its line" in need for need in outlet(text).missing)


def test_brass_is_reckoned_as_iron_pipe_and_it_is_said() -> None:
    said = "Brass nipples are taken to have the bore of schedule 40 pipe."
    assert said in asked(PLAIN.replace("1/2 in PEX", "1/2 in brass")).assumed
    assert said not in asked(PLAIN).assumed


# --- several ways, and random houses


def test_of_two_ways_the_one_that_holds_more_is_told() -> None:
    two = PLAIN.replace(
        "tees: [", "tees: [{id: T3, feeds: [{from: T1, by: 3 ft of 1/2 in PEX}, "
        "{from: WH, by: 90 ft of 1/2 in PEX}]}, "
    ).replace("hot: {from: T1", "hot: {from: T3")  # fmt: skip
    way = outlet(two).from_heater
    assert way
    assert way.length.feet == 100


@given(st.data())
@settings(max_examples=50, deadline=None)
def test_random_trees_agree_with_shortest_paths_of_networkx(data: st.DataObject) -> None:
    """Tees from a heater; each outlet's volume is its path's, weighted by ounces a foot."""
    graph, tees = nx.Graph(), []
    ounces = {"1/2": 1.18, "3/4": 2.35, "1": 3.91}  # IPC Table E202.1, PEX

    def pipe(end: str) -> tuple[str, str]:
        above = data.draw(st.sampled_from(["WH", *(tee["id"] for tee in tees)]))
        feet, size = data.draw(st.integers(1, 60)), data.draw(st.sampled_from(sorted(ounces)))
        graph.add_edge(above, end, weight=feet * ounces[size])
        return above, f"{feet} ft of {size} in PEX"

    for n in range(data.draw(st.integers(0, 8))):
        above, run = pipe(f"T{n}")
        tees.append({"id": f"T{n}", "from": above, "by": run})
    outlets = []
    for n in range(data.draw(st.integers(1, 5))):
        above, run = pipe(f"f{n}")
        outlets.append({"id": f"f{n}", "kind": "lavatory", "hot": {"from": above, "by": run}})
    record = {"water": {"tees": tees}, "heaters": [{"id": "WH"}], "fixtures": outlets}
    for found in asked(yaml.safe_dump(record)).outlets:
        assert found.from_heater
        path = nx.shortest_path_length(graph, "WH", found.id, weight="weight")
        assert found.from_heater.volume.gallons * 128 == pytest.approx(path)


# --- what runs to waste, and how it is said


def test_the_water_run_to_waste_is_two_cold_starts_a_day() -> None:
    # the assumption that the answer states: 2 x 365 x 0.459 gal = 335 gal
    found = outlet(PLAIN)
    year = found.wasted_a_year(found.from_heater)
    assert year
    assert year.gallons == pytest.approx(2 * 365 * 58.8 / 128)
    assert any("opened cold 2 times a day" in said for said in asked(PLAIN).assumed)
    assert wasted(asked(PLAIN).outlets, "US", loop=False) == "340 gal"
    assert wasted(asked(PLAIN).outlets, "metric", loop=False) == "1,270 L"  # 335.3 x 3.785


def test_a_machine_wastes_nothing() -> None:
    found = outlet(LOOP, "dw")
    year = found.wasted_a_year(found.from_heater)
    assert year
    assert year.gallons == 0


def test_nothing_is_summed_over_a_hole() -> None:
    holed = PLAIN.replace(", by: 20 ft of 3/4 in PEX", "")
    assert wasted(asked(holed).outlets, "US", loop=False) is None


def test_the_sentence_says_both_waits() -> None:
    # 10 x 1.18 / 128 / 0.8 x 60 = 6.9 s; (32 x 2.35 + 11.8) / 128 / 0.8 x 60 = 51.0 s
    said = "about 7 seconds while the hot water pump runs, about 51 seconds when it does not"
    assert wait(asked(LOOP), outlet(LOOP)) == said
    # 5 x 1.18 / 128 / 2.75 x 60 = 1.0 s, at the heater in either case
    assert wait(asked(LOOP), outlet(LOOP, "dw")) == "about 1 second"


def test_each_heaters_scald_time_stands_beside_its_setting() -> None:
    (heat,) = asked(PLAIN.replace("120 F", "140 F")).heaters
    assert heat.scald
    assert (heat.heater, heat.scald.seconds) == ("WH", 3)  # Moritz and Henriques style: 3 s
    assert "what WH is set to" in asked(PLAIN.replace(", setting: 120 F", "")).missing


SHUT = """
water:
  recirculation: none
  valves: [{id: W9, name: Hot shutoff, kind: ball, from: WH, stands: closed}]
  tees: [{id: T1, from: W9, by: 20 ft of 3/4 in PEX}]
heaters: [{id: WH, kind: storage, setting: 120 F}]
fixtures:
  - {id: lav, kind: lavatory, hot: {from: T1, by: 10 ft of 1/2 in PEX}}
"""


def test_behind_a_valve_that_is_recorded_as_closed_there_is_no_wait_but_its_name() -> None:
    lav = outlet(SHUT)
    assert (lav.from_heater, lav.from_loop) == (None, None)
    assert wait(asked(SHUT), lav) == "no hot water: W9 (Hot shutoff) is recorded as closed"
