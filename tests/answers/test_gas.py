"""The gas line asked: loads, the longest length, what is left, and what the record lacks.

Trees are checked against networkx, a general-purpose graph library; the printed tables and their
cells in `tests/published/test_gas_tables.py`.
"""

import json
from pathlib import Path
from typing import Any

import networkx as nx
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from handbook import assets, load
from handbook.answers.gas import GasAnswer, gas
from handbook.answers.gas_sizing.gas_beside import needed_for_both
from handbook.answers.gas_sizing.gas_outlets import GasOutletSize
from handbook.answers.gas_sizing.gas_pressure import meter_class, pressure_in
from handbook.answers.gas_sizing.gas_runs import GasRunSize
from handbook.answers.not_asked import NoSuchThingError
from handbook.cli import main
from handbook.house.house import House, build
from handbook.output.told_gas import gas_text
from handbook.record.grammar.record import Record

EXAMPLE = assets.example_house()


def steel(length: str, size: str = "1/2 in") -> dict[str, Any]:
    return {"length": length, "size": size, "material": "black steel"}


def burner(name: str, from_: str, by: Any, btuh: int | str | None = 50_000) -> dict[str, Any]:
    rate = f"{btuh} Btu/h" if isinstance(btuh, int) else btuh
    return {
        "id": name,
        "name": name,
        "kind": "other",
        "gas": {"from": from_, "by": by, **({"input": rate} if rate else {})},
    }


def house(
    burners: list[dict[str, Any]],
    tees: list[dict[str, Any]] = (),  # type: ignore[assignment]
    outlets: Any = "none",
    site: dict[str, Any] | None = None,
    *,
    units: str = "US",
    heaters: Any = (),
    **more: Any,
) -> House:
    line = {
        "fuel": "natural gas",
        "meter": {"id": "GM", "kind": "meter", "capacity": "425 cfh", "delivers": "7 in wc"},
        "drop": "0.5 in wc",
        "tees": list(tees),
        "outlets": outlets,
        "appliances": burners,
    } | more
    record = {
        "format": "1",
        "house": {"name": "Test house", "units": units},
        "site": {"altitude": "100 ft"} if site is None else site,
        "heaters": list(heaters),
        "fixtures": [],
        "gas": line,
    }
    return build(Record.model_validate(record), Path())


def run_of(answer: GasAnswer, name: str) -> GasRunSize:
    return next(run for run in answer.runs if run.id == name)


def outlet_of(answer: GasAnswer, name: str) -> GasOutletSize:
    return next(outlet for outlet in answer.outlets if outlet.id == name)


@pytest.fixture(scope="module")
def example() -> House:
    return load(EXAMPLE).house


# --- the printed example as a house


def test_the_printed_worked_example_as_a_record() -> None:
    """IFGC (2018) A.7.1: A 35, B 75, C 35, D 100 cubic feet an hour, 60 ft to the farthest.

    The lengths of the single pipes are ours, so that A lies at the printed 60 ft.
    """
    tees = [
        {"id": "X", "from": "GM", "by": steel("20 ft", "1 in")},  # section 3
        {"id": "Y", "from": "X", "by": steel("20 ft", "3/4 in")},  # section 1
        {"id": "Z", "from": "X", "by": steel("10 ft", "3/4 in")},  # section 2
    ]
    burners = [
        burner("A", "Y", steel("20 ft", "1/2 in"), 35_000),
        burner("B", "Y", steel("5 ft", "3/4 in"), 75_000),
        burner("C", "Z", steel("10 ft", "1/2 in"), 35_000),
        burner("D", "Z", steel("5 ft", "3/4 in"), 100_000),
    ]
    answer = gas(house(burners, tees))
    loads = {run.id: run.load_btuh for run in answer.runs}
    assert (loads["Y"], loads["Z"], loads["X"]) == (110_000, 135_000, 245_000)
    assert {run.length_ft for run in answer.runs} == {60}
    assert not any(run.over for run in answer.runs)
    # a size less for section 3 is too little: 3/4 in carries 137 at 60 ft
    tees[0] = tees[0] | {"by": steel("20 ft", "3/4 in")}
    assert [run.id for run in gas(house(burners, tees)).runs if run.over] == ["X"]


@pytest.mark.parametrize(
    ("pipe", "printed"),
    [("X", "1 in"), ("Y", "3/4 in"), ("Z", "3/4 in"), ("A", None), ("B", "3/4 in")],
)
def test_the_size_that_a_pipe_needs_is_that_of_the_printed_worked_example(
    pipe: str, printed: str | None
) -> None:
    """IFGC (2018) A.7.1, all in 1/2 in pipe: what is over needs the size that is printed there."""
    tees = [
        {"id": "X", "from": "GM", "by": steel("20 ft")},
        {"id": "Y", "from": "X", "by": steel("20 ft")},
        {"id": "Z", "from": "X", "by": steel("10 ft")},
    ]
    burners = [
        burner("A", "Y", steel("20 ft"), 35_000),
        burner("B", "Y", steel("5 ft"), 75_000),
        burner("C", "Z", steel("10 ft"), 35_000),
        burner("D", "Z", steel("5 ft"), 100_000),
    ]
    run = run_of(gas(house(burners, tees)), pipe)
    assert (run.needs(run.load_btuh) if run.over else None) == printed


def test_csst_needs_the_first_ehd_that_is_enough() -> None:
    """IFGC Table 402.4(15) at 20 ft: EHD 23 carries 116, 25 carries 137 cubic feet an hour."""
    tube = {"length": "20 ft", "material": "CSST", "ehd": 13}
    run = run_of(gas(house([burner("A", "GM", tube, 120_000)])), "A")
    assert run.needs(run.load_btuh) == "EHD 25"


def test_a_load_beyond_the_table_gets_no_size() -> None:
    run = run_of(gas(house([burner("A", "GM", steel("60 ft"), 2_000_000)])), "A")
    assert run.needs(run.load_btuh) is None  # 2 in carries 1,520 cubic feet an hour at 60 ft


# --- loads and the longest length


@st.composite
def trees(draw: st.DrawFn) -> dict[str, tuple[str, int, int]]:
    """Draw up to twelve pipes by their end: (what feeds it, length in ft, input or 0 for a tee)."""
    pipes: dict[str, tuple[str, int, int]] = {}
    tees = ["GM"]
    for number in range(draw(st.integers(1, 12))):
        feeder, length = draw(st.sampled_from(tees)), draw(st.integers(1, 7))
        if draw(st.booleans()):
            pipes[f"T{number}"] = (feeder, length, 0)
            tees.append(f"T{number}")
        else:
            pipes[f"A{number}"] = (feeder, length, draw(st.integers(1, 90)) * 1000)
    return pipes


def drawn(pipes: dict[str, tuple[str, int, int]], **more: Any) -> House:
    tees = [
        {"id": name, "from": feeder, "by": steel(f"{length} ft", "1 in")}
        for name, (feeder, length, rate) in pipes.items()
        if not rate
    ]
    burners = [
        burner(name, feeder, steel(f"{length} ft", "1 in"), rate)
        for name, (feeder, length, rate) in pipes.items()
        if rate
    ]
    return house(burners, tees, **more)


@settings(max_examples=60, deadline=None)
@given(trees())
def test_loads_and_the_longest_length_are_those_of_the_graph(
    pipes: dict[str, tuple[str, int, int]],
) -> None:
    graph = nx.DiGraph()
    for name, (feeder, length, rate) in pipes.items():
        graph.add_node(name, rate=rate)
        graph.add_edge(feeder, name, weight=length)
    longest = max(nx.single_source_dijkstra_path_length(graph, "GM").values())
    for run in gas(drawn(pipes)).runs:
        behind = {run.id, *nx.descendants(graph, run.id)}
        assert run.load_btuh == sum(graph.nodes[n]["rate"] for n in behind)
        assert run.length_ft == pytest.approx(longest)


@settings(max_examples=60, deadline=None)
@given(trees(), st.data())
def test_what_is_left_at_an_outlet_can_be_added_and_nothing_more(
    pipes: dict[str, tuple[str, int, int]], data: st.DataObject
) -> None:
    """At 2 psi, where the table alone rules: all that is left fits, one Btu more is too much."""
    meter = {"id": "GM", "kind": "meter", "capacity": "20000 cfh", "delivers": "2 psi"}
    of = drawn(pipes, meter=meter)
    outlets = [o for o in gas(of).outlets if o.margin_btuh is not None]
    if not outlets:
        return
    outlet = data.draw(st.sampled_from(outlets))
    assert outlet.spare_btuh is not None
    full = gas(of, {outlet.id: outlet.spare_btuh})
    assert not any(run.over for run in full.runs)
    more = gas(of, {outlet.id: outlet.spare_btuh + 1})
    assert [run.id for run in more.runs if run.over and run.id == outlet.limited_by]


def test_a_stub_for_later_counts_for_the_length_though_nothing_burns_there() -> None:
    stub = {"id": "G9", "from": "GM", "by": steel("55 ft")}
    answer = gas(house([burner("A", "GM", steel("10 ft"))], outlets=[stub]))
    assert run_of(answer, "A").length_ft == 55
    assert run_of(answer, "A").row_ft == 60


def test_what_is_fed_through_a_stop_is_fed_through_what_the_stop_belongs_to() -> None:
    meter = {"id": "GM", "capacity": "425 cfh", "delivers": "7 in wc", "shutoff": {"id": "G1"}}
    answer = gas(house([burner("A", "G1", steel("10 ft"))], meter=meter))
    assert run_of(answer, "A").length_ft == 10


# --- which figure rules


def test_the_equation_is_used_only_where_the_row_is_too_little_and_says_so() -> None:
    # 3/4 in, 55 ft: the row of 60 ft carries 137; the equation at 55 ft more (144 by Eq. 4-1)
    by_row = run_of(gas(house([burner("A", "GM", steel("55 ft", "3/4 in"), 137_000)])), "A")
    assert (by_row.by, by_row.capacity_btuh, by_row.over) == ("table", 137_000, False)
    between = run_of(gas(house([burner("A", "GM", steel("55 ft", "3/4 in"), 140_000)])), "A")
    assert (between.by, between.over) == ("equation", False)
    assert between.capacity_btuh == pytest.approx(144_000, abs=1000)
    over = run_of(gas(house([burner("A", "GM", steel("55 ft", "3/4 in"), 150_000)])), "A")
    assert (over.by, over.over, over.capacity_btuh) == ("table", True, 137_000)


def test_what_only_the_equation_lets_pass_leaves_nothing_for_more() -> None:
    """The row carries 137: 40 of it may be added to 97, so nothing to 140, though it passes."""
    below = outlet_of(gas(house([burner("A", "GM", steel("55 ft", "3/4 in"), 97_000)])), "A")
    assert below.spare_btuh == 40_000
    between = gas(house([burner("A", "GM", steel("55 ft", "3/4 in"), 140_000)]))
    assert (run_of(between, "A").by, outlet_of(between, "A").spare_btuh) == ("equation", 0)
    assert "table row 60 ft 137,000 Btu/h), left 0 Btu/h" in gas_text(between, "US")


def test_three_inches_of_drop_need_eight_inches_delivered() -> None:
    """IFGC Table 402.4(3) (2018) is for 8 in wc or more."""
    one = [burner("A", "GM", steel("20 ft"), 300_000)]
    meter = {"id": "GM", "capacity": "425 cfh"}
    good = gas(house(one, drop="3 in wc", meter=meter | {"delivers": "8 in wc"}))
    assert run_of(good, "A").capacity_btuh == 312_000
    low = gas(house(one, drop="3 in wc", meter=meter | {"delivers": "7 in wc"}))
    assert run_of(low, "A").capacity_btuh is None
    assert "8 in wc or more" in low.missing[0]


def test_behind_a_second_regulator_length_and_table_begin_anew() -> None:
    regulator = {"id": "R", "from": "GM", "by": steel("40 ft"), "outlet": "7 in wc"}
    meter = {"id": "GM", "capacity": "425 cfh", "delivers": "2 psi"}
    burners = [burner("A", "R", steel("20 ft"), 90_000), burner("B", "R", steel("5 ft"), 20_000)]
    answer = gas(house(burners, regulators=[regulator], meter=meter))
    before, behind = run_of(answer, "R"), run_of(answer, "A")
    assert (before.load_btuh, before.length_ft, before.capacity_btuh) == (110_000, 40, 753_000)
    assert (behind.length_ft, behind.capacity_btuh) == (20, 118_000)
    assert (run_of(answer, "B").length_ft, outlet_of(answer, "B").spare_btuh) == (20, 98_000)
    assert outlet_of(answer, "A").spare_btuh == 28_000
    assert any("regulators" in each for each in answer.assumed)


def test_propane_is_read_from_its_own_tables_and_has_no_meter() -> None:
    tank = {"id": "GM", "kind": "tank", "delivers": "11 in wc"}
    burners = [
        burner("A", "GM", steel("30 ft"), 100_000),
        burner("B", "GM", {"length": "30 ft", "material": "CSST", "ehd": "19"}, 50_000),
    ]
    answer = gas(house(burners, fuel="propane", meter=tank))
    # IFGC 402.4(28) and IRC G2413.4(16) (2018), row of 30 ft
    assert run_of(answer, "A").capacity_btuh == 160_000
    assert run_of(answer, "B").capacity_btuh == 87_000
    assert answer.meter is None
    assert not any("cubic foot" in each for each in answer.assumed)


def test_a_measured_longest_length_rules_where_it_is_the_greater() -> None:
    one = [burner("A", "GM", steel("30 ft"))]
    longer = gas(house(one, longest="45 ft"))
    assert run_of(longer, "A").length_ft == 45
    assert any("45 ft as measured" in each for each in longer.assumed)
    assert run_of(gas(house(one, longest="20 ft")), "A").length_ft == 30
    holes = gas(
        house([burner("A", "GM", {"size": "1/2 in", "material": "black steel"})], longest="45 ft")
    )
    assert run_of(holes, "A").row_ft == 50


# --- holes


def missing_of(answer: GasAnswer) -> str:
    return "\n".join(answer.missing)


@pytest.mark.parametrize(
    ("run", "needs"),
    [
        ({"size": "1/2 in", "material": "black steel"}, "the length of the pipe to A"),
        ({"length": "20 ft", "material": "black steel"}, "the size of the pipe"),
        ({"length": "20 ft", "size": "1/2 in"}, "what the pipe is made of"),
        ({"length": "20 ft", "size": "1/2 in", "material": "CSST"}, "the EHD stamped on the tube"),
        ({"length": "20 ft", "material": "CSST", "ehd": "37"}, "look it up in print"),
        ({"length": "20 ft", "size": "1/2 in", "material": "copper"}, "a table for copper pipe"),
        ({"length": "95 ft", "material": "CSST", "ehd": "23"}, "ends at 60 ft"),
        (steel("250 ft"), "ends at 200 ft"),
    ],
)
def test_a_pipe_that_cannot_be_sized_says_what_it_needs(run: dict[str, Any], needs: str) -> None:
    answer = gas(house([burner("A", "GM", run)]))
    size = run_of(answer, "A")
    assert (size.capacity_btuh, size.margin_btuh, size.over) == (None, None, False)
    assert needs in missing_of(answer)
    assert outlet_of(answer, "A").spare_btuh is None


def test_a_load_that_is_not_whole_leaves_nothing_to_be_promised() -> None:
    tees = [{"id": "T", "from": "GM", "by": steel("10 ft", "1 in")}]
    burners = [burner("A", "T", steel("10 ft")), burner("B", "T", steel("10 ft"), None)]
    answer = gas(house(burners, tees))
    assert (run_of(answer, "T").whole, run_of(answer, "T").margin_btuh) == (False, None)
    assert run_of(answer, "A").whole
    assert outlet_of(answer, "A").spare_btuh is None
    assert "the input of B" in missing_of(answer)


@pytest.mark.parametrize(
    ("change", "needs"),
    [
        ({"fuel": "unknown"}, "the fuel"),
        ({"appliances": "unknown"}, "the appliances that burn gas"),
        ({"meter": "unknown"}, "the gas meter or tank"),
    ],
)
def test_a_section_that_is_left_out_is_asked_for(change: dict[str, Any], needs: str) -> None:
    outlets = [{"id": "G9", "from": "T", "by": steel("5 ft")}]
    tees = [{"id": "T", "from": "GM" if "meter" not in change else "unknown", "by": steel("5 ft")}]
    answer = gas(
        house([], tees, outlets, **change)
        if "appliances" in change
        else house([burner("A", "T", steel("10 ft"))], tees, outlets, **change)
    )
    assert needs in missing_of(answer)
    assert outlet_of(answer, "G9").spare_btuh is None


def test_a_thing_whose_feed_is_not_recorded_may_hang_anywhere() -> None:
    lost = burner("B", "GM", steel("10 ft"))
    lost["gas"].pop("from")
    answer = gas(house([burner("A", "GM", steel("10 ft")), lost]))
    assert "what feeds B" in missing_of(answer)
    assert run_of(answer, "A").margin_btuh is None
    assert run_of(answer, "B").unknown == "the way back to the meter"


def test_what_is_taken_for_granted_is_said_and_only_that() -> None:
    one = [burner("A", "GM", steel("10 ft"))]
    full = gas(house(one))
    assert not any("altitude" in each or "drop of" in each for each in full.assumed)
    bare = gas(house(one, site={}, drop="unknown", meter={"id": "GM", "capacity": "425 cfh"}))
    said = "\n".join(bare.assumed)
    assert "`site: altitude`" in said
    assert "`gas: drop`" in said
    assert "ordinary low pressure behind GM" in said


def test_above_2000_feet_the_adjustment_is_said_to_be_missing() -> None:
    """IRC G2413.2 (2018): flow is adjusted above 2,000 ft."""
    one = [burner("A", "GM", steel("10 ft"))]
    assert "2,000 ft" in missing_of(gas(house(one, site={"altitude": "5280 ft"})))
    assert missing_of(gas(house(one, site={"altitude": "2000 ft"}))) == ""


def test_many_fittings_in_a_run_are_said_not_to_be_counted() -> None:
    """IFGC A.2.2 (2018): from four fittings on their length is considered."""
    few = burner("A", "GM", steel("10 ft") | {"fittings": {"ell_90": "3"}})
    many = burner("A", "GM", steel("10 ft") | {"fittings": {"ell_90": "3", "tee_run": "1"}})
    assert not any("fittings in the pipe" in each for each in gas(house([few])).assumed)
    assert any("4 fittings in the pipe to A" in each for each in gas(house([many])).assumed)


def test_a_house_without_gas_has_no_holes_and_one_not_recorded_has() -> None:
    bare = {"format": "1", "house": {"name": "All electric"}}
    assert gas(build(Record.model_validate(bare | {"gas": "none"}), Path())).missing == ()
    assert gas(build(Record.model_validate(bare), Path())).missing == ("the gas line (`gas`)",)


# --- outlets, meter, stubs


@pytest.mark.parametrize(
    ("badge", "class_cfh"),
    [
        ("425 cubic feet an hour", 425),
        ("class 250", 250),
        ("AC-250", 250),
        ("1,000 cfh", 1000),
        ("class 333", None),  # neither a unit nor a common class
        ("no. 250, class 425", None),  # two numbers, either may be it
        (None, None),
    ],
)
def test_a_meters_class_is_read_off_its_badge(badge: str | None, class_cfh: float | None) -> None:
    assert meter_class(badge) == class_cfh


def test_a_metric_badge_is_read_in_cubic_metres() -> None:
    # 6 m3/h * 35.3147 cubic feet a cubic metre (NIST SP 811) = 211.9
    assert meter_class("6 m3/h") == pytest.approx(211.888, abs=0.001)


@pytest.mark.parametrize(
    ("words", "psi"),
    [("7 in wc", 0.2529), ("2 psi", 2), ("set to 11 in. w.c. here", 0.3974), ("1.7 kPa", 0.2466)],
)
def test_a_pressure_is_read_out_of_the_words_on_a_tag(words: str, psi: float) -> None:
    found = pressure_in(words)
    assert found
    assert found.psi == pytest.approx(psi, abs=5e-4)


def test_words_without_a_pressure_give_none() -> None:
    assert pressure_in("as on the tag") is None
    assert pressure_in(None) is None


def test_the_meter_may_be_what_allows_no_more() -> None:
    meter = {"id": "GM", "capacity": "class 175", "delivers": "7 in wc"}
    answer = gas(house([burner("A", "GM", steel("10 ft", "1 in"), 150_000)], meter=meter))
    assert (outlet_of(answer, "A").spare_btuh, outlet_of(answer, "A").limited_by) == (25_000, "GM")


def stub(**more: Any) -> dict[str, Any]:
    return {"id": "G9", "from": "GM", "by": steel("50 ft"), **more}


def test_a_stub_is_held_against_what_it_is_meant_for() -> None:
    one = [burner("A", "GM", steel("10 ft"))]
    # 1/2 in, row of 50 ft: 72,000
    enough = outlet_of(gas(house(one, outlets=[stub(input="72000 Btu/h")])), "G9")
    assert (enough.wants_by, enough.too_small) == ("record", False)
    assert outlet_of(gas(house(one, outlets=[stub(input="73000 Btu/h")])), "G9").too_small
    usual = gas(house(one, outlets=[stub(meant_for="a barbecue some day")]))
    # 40,000 for a barbecue: IFGC Table 402.2 (to 2012)
    assert (outlet_of(usual, "G9").wants_btuh, outlet_of(usual, "G9").wants_by) == (40_000, "usual")
    assert any("barbecue usually takes" in each for each in usual.assumed)
    assert outlet_of(gas(house(one, outlets=[stub()])), "G9").wants_btuh is None


def test_a_stub_is_held_against_what_people_connect_and_outdoors_against_less() -> None:
    one = [burner("A", "GM", steel("10 ft"))]
    inside = outlet_of(gas(house(one, outlets=[stub()])), "G9")
    fits = {fit.what: fit.fits for fit in inside.fits}
    # 65,000 for a range and 80,000 for a gas log: NFPA 54 Table 5.4.2.1; 72,000 is left
    assert (fits["range"], fits["gas log"]) == (True, False)
    outside = stub(place={"level": "outside"})
    seen = {fit.what for fit in outlet_of(gas(house(one, outlets=[outside])), "G9").fits}
    assert "barbecue" in seen
    assert "range" not in seen


@pytest.mark.parametrize(
    ("size", "tankless", "fits"),
    # 10 ft of pipe. IFGC Table 402.4(2), row of 10 ft: 360,000 in 3/4 in, 172,000 in 1/2 in
    [("1/2 in", "of 2 gpm", True), ("1/2 in", "of 4 gpm", False), ("3/4 in", "of 4 gpm", True)],
)
def test_a_storage_heaters_pipe_is_held_against_a_tankless_one_in_its_place(
    size: str, tankless: str, fits: bool
) -> None:
    pipe = {"from": "GM", "by": steel("10 ft", size), "input": "40000 Btu/h"}
    heater = {"id": "WH1", "kind": "storage", "fuel": "natural gas", "gas": pipe}
    found = outlet_of(gas(house([], heaters=[heater])), "WH1")
    assert {fit.what: fit.fits for fit in found.fits}[f"tankless water heater {tankless}"] is fits


def test_each_pipe_and_the_meter_too_small_for_an_appliance_are_named() -> None:
    """Worked by hand with IFGC Table 402.4(2) at 30 ft: 1/2 in 95, 3/4 in 199, 1 in 374 cfh.

    A tankless heater of 142,800 Btu/h (see the table of inputs) in the place of one of 40,000 adds
    102,800: the 3/4 in pipe to the tee carries 199,000 with 60,000 of another on it, and is too
    small; so is the heater's own 1/2 in pipe; a meter of 250 cubic feet an hour is not.
    """
    stub = {"id": "STUB", "from": "T1", "by": steel("10 ft", "1 in")}
    heater = {
        "id": "WH1",
        "kind": "storage",
        "fuel": "natural gas",
        "gas": {"from": "T1", "by": steel("10 ft"), "input": "40000 Btu/h"},
    }
    tee = {"id": "T1", "from": "GM", "by": steel("20 ft", "3/4 in")}
    meter = {"id": "GM", "kind": "meter", "capacity": "250 cfh", "delivers": "7 in wc"}
    line = [burner("A", "T1", steel("10 ft"), 60_000)]
    answer = gas(house(line, [tee], [stub], heaters=[heater], meter=meter))
    in_place = {fit.what: fit.short for fit in outlet_of(answer, "WH1").fits}
    assert in_place["tankless water heater of 2 gpm"] == ("T1", "WH1")
    assert in_place["tankless water heater of 4 gpm"] == ("T1", "WH1", "GM")
    on_stub = {fit.what: fit.short for fit in outlet_of(answer, "STUB").fits}
    assert on_stub["furnace"] == ("T1",)
    assert on_stub["barbecue"] == ()


def test_what_is_put_in_the_place_of_an_appliance_takes_its_load_away(example: House) -> None:
    """40,000 Btu/h are recorded: 199,000 beside them are 239,000, in their place 199,000."""
    assert run_of(gas(example, {"WH1": 199_000}), "WH1").load_btuh == 239_000
    assert run_of(gas(example, instead={"WH1": 199_000}), "WH1").load_btuh == 199_000
    both = gas(example, {"G9": 40_000}, {"WH1": 199_000})
    assert both.load_btuh == gas(example).load_btuh + 40_000 + 159_000


def test_the_heaters_in_its_place_name_the_size_for_each_pipe_and_the_meters_class(
    example: House,
) -> None:
    """IFGC Table 402.4(2), row of 60 ft: 1 in 257, 1-1/4 in 528 cubic feet an hour.

    199,000 in the place of 40,000: the tee to kitchen and heater passes 316,000, the heater's tee
    229,000, the heater's pipe 199,000. The house takes 396,000 then, within the class of 425.
    """
    fits = {fit.what: fit for fit in outlet_of(gas(example), "WH1").fits}
    sizes = {need.id: need.size for need in fits["large household tankless water heater"].needs}
    assert sizes == {"GT2": "1-1/4 in", "GT3": "1 in", "WH1": "1 in"}
    meter = fits["tankless water heater of 4 gpm"].needs[-1]
    # 237,000 - 40,000 + 285,000 = 482,000 Btu/h: beyond the usual classes of house meters
    assert (meter.id, meter.load_btuh, meter.class_btuh) == ("GM", 482_000, None)


def test_the_pipe_that_a_heater_and_a_stub_need_larger_together_is_named() -> None:
    """IFGC Table 402.4(2), row of 30 ft: 1/2 in 95, 3/4 in 199, 1 in 374 cubic feet an hour.

    142,800 in the place of 40,000 need 3/4 in for the heater and for the tee they hang on; with
    60,000 at the stub the tee passes 202,800, for which it has to be 1 in. The stub's own 1/2 in
    is enough, and so is a meter of 250; one of 175 would have to be of the next usual class."""
    stub = {"id": "STUB", "from": "T1", "by": steel("10 ft"), "input": "60000 Btu/h"}
    pipe = {"from": "T1", "by": steel("10 ft"), "input": "40000 Btu/h"}
    heater = {"id": "WH1", "kind": "storage", "fuel": "natural gas", "gas": pipe}
    tee = {"id": "T1", "from": "GM", "by": steel("20 ft")}

    def needs(capacity: str) -> dict[str, str | float | None]:
        meter = {"id": "GM", "kind": "meter", "capacity": capacity, "delivers": "7 in wc"}
        of = house([], [tee], [stub], heaters=[heater], meter=meter)
        now = gas(of)
        small = next(f for f in outlet_of(now, "WH1").fits if f.what.endswith("of 2 gpm"))
        assert {need.id: need.size for need in small.needs} == {"T1": "3/4 in", "WH1": "3/4 in"}
        found = needed_for_both(of, outlet_of(now, "WH1"), small, outlet_of(now, "STUB"))
        return {need.id: need.class_btuh if need.meter else need.size for need in found}

    assert needs("250 cfh") == {"T1": "1 in"}
    assert needs("175 cfh") == {"T1": "1 in", "GM": 250_000}


def test_a_meter_too_small_names_the_next_usual_class() -> None:
    """Classes of 175, 250 and 425 cubic feet an hour (common practice, no source)."""
    meter = {"id": "GM", "kind": "meter", "capacity": "175 cfh", "delivers": "7 in wc"}
    found = gas(house([burner("A", "GM", steel("10 ft"), 200_000)], meter=meter)).meter
    assert found is not None
    assert found.need(200_000).class_btuh == 250_000


def test_a_tankless_heater_is_not_held_against_itself(example: House) -> None:
    assert outlet_of(gas(example), "WH1").fits
    assert not outlet_of(gas(example), "range").fits


def test_only_an_outlet_can_be_added_to(example: House) -> None:
    with pytest.raises(NoSuchThingError, match="G9"):
        gas(example, {"G99": 1000})
    with pytest.raises(NoSuchThingError):
        gas(example, {"GT1": 1000})


# --- the example, in both units, by command and in words


def test_the_examples_stub_has_fifty_thousand_left_and_its_tee_says_why(example: House) -> None:
    # GT4 in 3/4 in carries 137,000 at 60 ft; range 65,000 and dryer 22,000 leave 50,000
    stub_size = outlet_of(gas(example), "G9")
    assert (stub_size.spare_btuh, stub_size.limited_by) == (50_000, "GT4")
    assert (stub_size.wants_btuh, stub_size.too_small) == (40_000, False)
    over = gas(example, {"G9": 50_001})
    assert [
        run.id
        for run in over.runs
        if run.capacity_btuh and run.load_btuh > 137_000 and run.id == "GT4"
    ]


def metric(tree: Any) -> Any:
    """Rewrite a house in metric: 10 ft of 1/2 in becomes 3.05 m of 15 mm."""
    swap = {
        "1/2 in": "15 mm",
        "3/4 in": "20 mm",
        "50 ft": "15.24 m",
        "10 ft": "3.05 m",
    }
    if isinstance(tree, dict):
        return {key: metric(value) for key, value in tree.items()}
    if isinstance(tree, list):
        return [metric(value) for value in tree]
    return swap.get(tree, tree)


def test_the_same_line_in_metric_is_ruled_by_the_same_row() -> None:
    one = [burner("A", "GM", steel("50 ft", "3/4 in"), 90_000)]
    us = gas(house(one, outlets=[stub()]))
    si = gas(
        house(
            metric([burner("A", "GM", steel("50 ft", "3/4 in"), "26.38 kW")]),
            outlets=metric([stub()]),
            units="metric",
            drop="0.1245 kPa",
            meter={"id": "GM", "capacity": "12.03 m3/h", "delivers": "1.74 kPa"},
        )
    )
    for one_run, other in zip(us.runs, si.runs, strict=True):
        assert one_run.row_ft == other.row_ft
        assert one_run.capacity_btuh == other.capacity_btuh
        assert one_run.load_btuh == pytest.approx(other.load_btuh, rel=2e-4)
    text = gas_text(si, "metric")
    assert "Btu/h" not in text
    assert "26.4 kW" in text
    # 151,000 Btu/h at 3412.14 Btu/h a kW = 44.3 kW
    assert "44.3 kW" in text


def test_the_command_says_it_as_python_does(example: House) -> None:
    done = CliRunner().invoke(main, ["gas", str(EXAMPLE), "--add", "G9=40000", "--json"])
    assert done.exit_code == 0
    said, answer = json.loads(done.output), gas(example, {"G9": 40_000})
    assert set(said["runs"]) == {run.id for run in answer.runs}
    gt4 = run_of(answer, "GT4")
    assert said["runs"]["GT4"]["load_btuh"] == gt4.load_btuh == 127_000
    assert said["runs"]["GT4"]["length_ft"] == gt4.length_ft == 57
    assert said["runs"]["GT4"]["capacity_btuh"] == gt4.capacity_btuh == 137_000
    assert said["outlets"]["G9"]["spare_btuh"] == 10_000
    assert said["meter"]["spare_btuh"] == 425_000 - 277_000
    assert {"assumed", "missing"} <= set(said)


def test_the_command_puts_one_in_the_place_of_another(example: House) -> None:
    done = CliRunner().invoke(main, ["gas", str(EXAMPLE), "--replace", "WH1=199000", "--json"])
    said = json.loads(done.output)
    assert said["in_place"] == {"WH1": 199_000}
    assert said["runs"]["GT3"]["needs"] == "1 in"
    assert said["runs"]["G2"]["needs"] is None  # enough as it is


@pytest.mark.parametrize("added", ["G9", "G9=lots", "G99=40000", "=5"])
def test_a_question_that_cannot_be_asked_ends_with_two(added: str) -> None:
    assert CliRunner().invoke(main, ["gas", str(EXAMPLE), "--add", added]).exit_code == 2


def test_the_text_ends_with_whose_work_it_is(example: House) -> None:
    text = gas_text(gas(example, {"G9": 60_000}), "US")
    assert "a licensed plumber's" in text
    assert "OVER its capacity" in text
