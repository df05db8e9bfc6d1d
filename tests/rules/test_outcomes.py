"""Rules on small records worked out by hand: what is found, what is waited for, and where."""

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
import rule_houses as houses
import yaml

from handbook.house.house import House, build
from handbook.pages.whereabouts import whereabouts
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.rules import RULES, check, facts
from handbook.rules.documentation import examples
from handbook.rules.rule import Broken, CannotTell, Clear, Gap, Outcome


def outcomes(name: str, over: str, folder: Path) -> list[Outcome]:
    """Return what the rule says of the base house with this laid over it."""
    rule = next(rule for rule in RULES if rule.name == name)
    tree = houses.laid_over(houses.base(), houses.tree_of(over))
    return [o for o in rule.look(houses.house_of(tree, folder)) if not isinstance(o, Clear)]


def kinds(name: str, over: str, folder: Path) -> list[type]:
    return [type(outcome) for outcome in outcomes(name, over, folder)]


def bare(**sections: Any) -> House:
    """Build a house with these sections alone."""
    record = {"format": "1", "house": {"name": "Bare"}, **sections}
    return build(Record.model_validate(record), Path())


# --- what is not recorded of a thing that is recorded is a gap, whatever the rule's severity


GAPS = {
    "pan-without-drain": "safeguards: {pans: [{id: P1, under: WH}]}",
    "relief-without-discharge-pipe": "heaters: [{id: WH, relief: {size: 3/4 in}}]",
    "heater-without-relief-valve": "heaters: [{id: WH}]",
    "fixture-without-stop": "fixtures: [{id: lav, kind: lavatory, cold: {from: T1}, hot: none}]",
    "heater-without-cold-shutoff": "heaters: [{id: WH, cold: {from: T1}}]",
    "heater-without-pan": """
heaters: [{id: WH, kind: storage, place: {room: closet}}]
safeguards: {pans: none}
""",
    "appliance-without-gas-shutoff": "gas: {appliances: [{id: FU, kind: furnace}]}",
    "gas-outlet-not-capped": "gas: {outlets: [{id: GO, from: GT}]}",
    "csst-not-bonded": "gas: {bonding: unknown}",
    "thing-without-location": "electrical: {panel: {id: PANEL, name: Panel}}",
    "thing-without-name": "electrical: {panel: {id: PANEL, place: {room: utility}}}",
    "softener-without-bypass": "water: {softeners: [{id: SOF, from: W2}]}",
    "cleanout-too-small": "drains: {cleanouts: [{id: C2, on: D2}]}",
    "cleanout-too-cramped": "drains: {cleanouts: [{id: C2, on: D2}]}",
    "sensor-that-closes-no-valve": "safeguards: {sensors: [{id: S1, does: [closes a valve]}]}",
    "condensate-without-backup": "safeguards: {condensate: [{id: CD, secondary: none}]}",
}


@pytest.mark.parametrize("name", GAPS)
def test_a_needed_fact_that_is_not_recorded_is_a_gap(name: str, folder: Path) -> None:
    rule = next(rule for rule in RULES if rule.name == name)
    found = outcomes(name, GAPS[name], folder)
    assert [type(outcome) for outcome in found] == [Gap]
    assert [rule.severity_of(f) for f in found if isinstance(f, Gap)] == ["gap"]


# --- shutting off


STOP = """
fixtures:
  - id: lav
    kind: lavatory
    place: {room: bath, where: left of the door}
    cold: {from: W3, stop: {id: W6, kind: angle stop%s}}
    hot: none
"""


def test_a_stop_is_not_found_by_the_place_of_its_fixture_alone(folder: Path) -> None:
    (found,) = outcomes("shutoff-without-location", STOP % "", folder)
    assert (type(found), found.thing) == (Gap, "W6")
    assert outcomes("shutoff-without-location", STOP % ", where: below", folder) == []


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("", "Its place is not recorded"),
        (", where: below on the left", "Below on the left"),
        (", place: {room: bath}", "Where in this room is not recorded"),
    ],
)
def test_a_page_says_of_a_stop_no_more_than_is_recorded(
    written: str, said: str, folder: Path
) -> None:
    house = houses.house_of(houses.laid_over(houses.base(), houses.tree_of(STOP % written)), folder)
    assert whereabouts(house, house.items["lav"].place, ("W6",)) == said


def test_a_stuck_only_main_leaves_fixtures_that_cannot_be_isolated_indoors(folder: Path) -> None:
    """The tub hangs on W3, the leak shutoff W2 and the main W1; all three are out of order."""
    over = """
water:
  valves:
    - {id: W1, main: yes, kind: ball, from: WM, condition: stuck, place: {room: utility}}
    - {id: W2, kind: automatic shutoff, from: PRV, condition: stuck, place: {room: utility}}
    - {id: W3, kind: ball, from: T1, condition: does not hold, place: {room: bath}}
"""
    found = outcomes("fixture-not-isolable", over, folder)
    # The toilet has W5 of its own, the lavatory W6 and W7, the hose bibb W8; the tub has none.
    assert [outcome.thing for outcome in found] == ["tub"]
    assert isinstance(found[0], Broken)


def test_a_shutoff_of_which_no_room_is_recorded_may_be_outdoors(folder: Path) -> None:
    over = """
water:
  valves:
    - {id: W1, main: yes, kind: ball, from: WM, place: {where: behind the panel}}
    - {id: W2, kind: automatic shutoff, from: PRV, place: {where: behind the panel}}
    - {id: W3, kind: ball, from: T1, place: {where: behind the panel}}
"""
    found = outcomes("fixture-not-isolable", over, folder)
    assert [o for o in found if not isinstance(o, CannotTell)] == []
    assert {(o.thing, o.fact) for o in found if isinstance(o, CannotTell)} == {
        ("tub", facts.INDOORS)
    }


@pytest.mark.parametrize("feed", ["W3", "W5"])
def test_a_fixture_fed_straight_from_a_shutoff_has_its_stop(feed: str, folder: Path) -> None:
    """Such as a manifold's port, or the second outlet of a sink's stop."""
    over = f"fixtures: [{{id: dw, kind: other, cold: {{from: {feed}, stop: none}}}}]"
    assert outcomes("fixture-without-stop", over, folder) == []


@pytest.mark.parametrize("feed", ["W1", "U1"])
def test_a_main_is_no_fixture_stop(feed: str, folder: Path) -> None:
    over = f"fixtures: [{{id: dw, kind: other, cold: {{from: {feed}, stop: none}}}}]"
    assert kinds("fixture-without-stop", over, folder) == [Broken]


def test_a_main_that_something_unfed_may_hang_on_is_no_dead_end(folder: Path) -> None:
    over = """
water:
  equipment: [{id: PRV, name: Reducing valve, kind: pressure-reducing valve}]
"""
    found = outcomes("dead-end", over, folder)
    assert [(type(outcome), outcome.thing) for outcome in found] == [(CannotTell, "W1")]


# --- drains


def test_a_cleanout_whose_distance_is_not_recorded_leaves_the_spacing_untold(folder: Path) -> None:
    """The sewer is 120 ft long; C3 stands somewhere along it."""
    over = """
drains:
  stretches: [{id: D3, kind: building sewer, to: SEWER, by: 120 ft of 4 in PVC}]
  cleanouts: [{id: C3, name: Sewer cleanout, kind: floor, on: D3}]
"""
    found = outcomes("cleanouts-too-far-apart", over, folder)
    assert [o.fact for o in found if isinstance(o, CannotTell)] == [facts.CLEANOUT_ALONG]
    assert len(found) == 1


def test_a_stretch_without_a_length_leaves_the_spacing_untold(folder: Path) -> None:
    over = "drains: {stretches: [{id: D3, kind: building sewer, to: SEWER}]}"
    found = outcomes("cleanouts-too-far-apart", over, folder)
    assert [o.fact for o in found if isinstance(o, CannotTell)] == [facts.STRETCH_LENGTH]


def test_a_cleanout_farther_down_cuts_the_distance(folder: Path) -> None:
    """120 ft of sewer with C3 at 60 ft: 2 + 60 ft, then 60 ft to the end."""
    over = """
drains:
  stretches: [{id: D3, kind: building sewer, to: SEWER, by: 120 ft of 4 in PVC}]
  cleanouts: [{id: C3, name: Sewer cleanout, kind: floor, on: D3, along: 60 ft}]
"""
    assert outcomes("cleanouts-too-far-apart", over, folder) == []


def test_a_closet_bend_is_no_reduction(folder: Path) -> None:
    """IPC 704.2: a 4 in by 3 in closet bend."""
    over = "fixtures: [{id: wc, kind: water closet, drain: {to: D1, by: 3 ft of 4 in PVC}}]"
    assert outcomes("drain-shrinks", over, folder) == []


@pytest.mark.parametrize(
    ("seen", "missing"),
    [
        ("{how: tested}", "when or by whom"),
        ("{on: 2026-10-02, how: tested}", "by whom"),
        ("{on: 2026-10-02, by: superintendent}", "how"),
        ("{on: 2026-10-02, by: superintendent, how: tested}", ""),
    ],
)
@pytest.mark.parametrize("is_main", [True, False])
def test_a_main_says_when_by_whom_and_how_it_was_looked_at(
    seen: str, missing: str, is_main: bool, folder: Path
) -> None:
    keys = "id: W1, name: Main, main: yes" if is_main else "id: W3, name: Bath shutoff"
    valve = f"{{{keys}, place: {{room: utility}}, seen: {seen}}}"
    found = outcomes("shutoff-not-verified", f"water: {{valves: [{valve}]}}", folder)
    said = [f"W1 (Main) is a main, and does not say {missing} it was looked at"]
    messages = [outcome.message for outcome in found if isinstance(outcome, Gap)]
    assert messages == (said if missing and is_main else [])


# --- gas, heaters


def test_an_electric_heater_and_an_all_electric_house_need_no_gas_shutoff(folder: Path) -> None:
    over = "heaters: [{id: WH, kind: storage, fuel: electric}]"
    assert outcomes("appliance-without-gas-shutoff", over, folder) == []
    house = bare(gas="none", heaters=[{"id": "WH"}], fixtures=[{"id": "R", "kind": "range"}])
    assert not [f for f in check(house).findings if f.rule.code.startswith("GA")]


def test_a_heater_whose_fuel_is_not_recorded_may_burn_gas(folder: Path) -> None:
    found = outcomes("appliance-without-gas-shutoff", "heaters: [{id: WH}]", folder)
    assert [o.fact for o in found if isinstance(o, CannotTell)] == [facts.BURNS_GAS]


@pytest.mark.parametrize(
    ("heater", "line", "asked"),
    [
        ("", "meter: {id: M1}", "`gas: {from: M1}`"),
        (", gas: {input: 40000 Btu/h}", "meter: {id: M1}", "`from: M1` inside its `gas`"),
        ("", "valves: [{id: G7, kind: gas cock}]", "`gas: {from: G7}`"),
        ("", "bonding: none", "under `gas: meter` first"),
    ],
)
def test_what_feeds_a_burner_is_asked_for_where_it_is_written(
    heater: str, line: str, asked: str
) -> None:
    record = f"""
format: 1
house: {{name: Bare}}
heaters: [{{id: WH, fuel: natural gas{heater}}}]
gas: {{{line}}}
"""
    (rule,) = (rule for rule in RULES if rule.name == "gas-feed-not-recorded")
    found = rule.look(build(read_text(record, "house.yaml", Record), Path()))
    (remedy,) = (o.remedy for o in found if isinstance(o, Gap) and o.thing == "WH")
    assert asked in remedy


def test_nothing_behind_a_gas_valve_is_offered_as_what_feeds_it() -> None:
    gas = {
        "valves": [{"id": "G5", "kind": "gas cock"}],
        "tees": [{"id": "GT", "from": "G5"}, {"id": "GT2", "from": "GT"}, {"id": "GT3"}],
    }
    (rule,) = (rule for rule in RULES if rule.name == "gas-feed-not-recorded")
    found = [o for o in rule.look(bare(gas=gas)) if isinstance(o, Gap)]
    assert ["`from: GT3`" in o.remedy for o in found] == [True, False]


def test_a_decorative_appliance_may_have_its_shutoff_elsewhere(folder: Path) -> None:
    """IRC G2420.5.2 (2018)."""
    over = """
gas:
  appliances:
    - id: FP
      name: Fireplace
      kind: fireplace
      place: {room: kitchen}
      gas: {from: GT, shutoff: {id: G9, kind: gas cock, place: {room: utility}}}
"""
    assert outcomes("gas-shutoff-too-far", over, folder) == []


def test_a_check_valve_in_the_return_does_not_close_the_system(folder: Path) -> None:
    """The heater's water can swell back through T8 to the street, past the loop's check valve."""
    over = """
water:
  equipment:
    - {id: PRV, kind: filter, from: W1}
    - {id: CV, kind: check valve, from: T2}
  tees: [{id: T8, from: T1, feeds: [{from: CV}]}]
heaters: [{id: WH, kind: storage, cold: {from: T8}, expansion_tank: none}]
"""
    assert outcomes("closed-system-without-expansion-tank", over, folder) == []


def test_a_heater_on_the_lowest_level_needs_no_pan(folder: Path) -> None:
    over = """
heaters: [{id: WH, kind: storage, place: {room: utility}, pan: none}]
safeguards: {pans: none}
"""
    assert outcomes("heater-without-pan", over, folder) == []


def test_without_elevations_it_is_not_known_what_lies_below_a_heater(folder: Path) -> None:
    over = """
levels:
  - {id: lower, name: Lower level, rooms: [{id: utility, name: Utility room}]}
heaters: [{id: WH, kind: storage, place: {room: closet}, pan: none}]
safeguards: {pans: none}
"""
    found = outcomes("heater-without-pan", over, folder)
    assert [o.fact for o in found if isinstance(o, CannotTell)] == [facts.HEATER_PLACE]


# --- people


def test_a_house_on_a_well_and_a_septic_tank_needs_neither_utility() -> None:
    house = bare(
        people=[{"role": "emergency", "phone": "911"}],
        water={"sources": [{"id": "WELL", "name": "Well", "kind": "well"}]},
        drains={"discharge": {"id": "TANK", "kind": "septic tank"}},
    )
    asked = [f.message for f in check(house).findings if f.rule.name == "nobody-to-call"]
    assert asked == ["Nobody is recorded to call as licensed plumber"]


def test_a_number_after_hours_is_a_number(folder: Path) -> None:
    over = "people: [{role: electrician, phone: none, after_hours: 555-0199}]"
    assert outcomes("person-without-phone", over, folder) == []


# --- order and place


def test_findings_come_gravest_first_and_then_in_walking_order(folder: Path) -> None:
    over = """
gas: {bonding: none}
water: {recirculation: {id: RP, name: Pump, from: T2, to: WH, place: {room: closet}, check: none}}
fixtures:
  - {id: lav, name: Sink, kind: lavatory, place: {room: bath}, cold: {from: T1, stop: none},
     hot: none, drain: {to: D1, by: 4 ft of 2 in PVC}}
safeguards: {sensors: [{id: S1, name: Sensor, place: {room: closet}, does: [sounds]}]}
"""
    tree = houses.laid_over(houses.base(), houses.tree_of(over))
    report = check(houses.house_of(tree, folder))
    assert [(f.severity, f.rule.code, f.thing) for f in report.findings] == [
        ("unsafe", "GA-07", None),
        ("fault", "FX-02", "lav"),
        ("gap", "SG-05", "S1"),
        ("gap", "SG-06", "S1"),
        ("advice", "WA-06", "RP"),
    ]


def test_a_finding_points_at_the_value_that_is_wrong(folder: Path) -> None:
    tree = houses.broken("main-that-throttles")
    (finding,) = check(houses.house_of(tree, folder)).findings
    line = yaml.safe_dump(tree, sort_keys=False, width=1000).splitlines()[finding.mark.line - 1]
    assert line[finding.mark.column - 1 :] == "globe"


# --- records that say two things at once


def broken_things(name: str, over: str, folder: Path) -> list[str | None]:
    return [o.thing for o in outcomes(name, over, folder) if isinstance(o, Broken)]


MAIN = "id: W1, name: Main shutoff, main: yes, kind: ball, from: WM, place: {room: utility}"


def test_a_main_that_stands_closed_beside_an_open_one_keeps_no_water_out(folder: Path) -> None:
    around = f"""
water:
  valves: [{{{MAIN}, stands: closed}}, {{id: W0, name: Way round, kind: ball, from: WM}}]
  equipment: [{{id: PRV, name: Reducing valve, kind: pressure-reducing valve, from: T0}}]
  tees: [{{id: T0, feeds: [{{from: W1}}, {{from: W0}}]}}]
"""
    assert broken_things("main-stands-closed", around, folder) == []
    alone = f"water: {{valves: [{{{MAIN}, stands: closed}}]}}"
    assert broken_things("main-stands-closed", alone, folder) == ["W1"]


def test_a_utility_valve_that_stands_closed_is_found_too(folder: Path) -> None:
    over = "water: {valves: [{id: U1, name: Curb stop, utility: yes, main: yes, from: CITY, "
    over += "stands: closed, place: {level: outside}}]}"
    assert broken_things("main-stands-closed", over, folder) == ["U1"]


@pytest.mark.parametrize(
    ("over", "thing"),
    [("inside_main: U1", "U1"), ("outside_main: W1", "W1")],
)
def test_a_main_named_for_the_wrong_side_is_found(over: str, thing: str, folder: Path) -> None:
    assert broken_things("main-on-the-wrong-side", f"water: {{{over}}}", folder) == [thing]


@pytest.mark.parametrize(
    ("manifold", "lavatory", "found"),
    [
        ("carries: cold, from: T1", "hot: {from: M}", ["lav"]),
        ("carries: hot, from: WH", "cold: {from: M}", ["lav"]),
        ("carries: hot, from: WH", "hot: {from: M}", []),
        ("carries: cold, from: T1", "cold: {from: M}", []),
        ("carries: hot, from: T1", "hot: {from: M}", ["M"]),
        ("carries: cold, from: WH", "cold: {from: M}", ["M"]),
        ("carries: cold, from: T1", "hot: {from: T1}", ["lav"]),
        ("carries: cold, from: T1", "cold: {from: WH}", ["lav"]),
    ],
)
def test_hot_is_fed_from_hot_and_cold_from_cold(
    manifold: str, lavatory: str, found: list[str], folder: Path
) -> None:
    over = f"""
water: {{manifolds: [{{id: M, name: Manifold, {manifold}}}]}}
fixtures: [{{id: lav, name: Sink, kind: lavatory, {lavatory}}}]
"""
    assert broken_things("hot-and-cold-mixed-up", over, folder) == found


@pytest.mark.parametrize(("feeds", "found"), [("M", ["WH"]), ("FIRST", []), ("T1", [])])
def test_a_heater_is_fed_with_cold_or_by_another_heater(
    feeds: str, found: list[str], folder: Path
) -> None:
    over = f"""
water: {{manifolds: [{{id: M, name: Hot manifold, carries: hot, from: FIRST}}]}}
heaters:
  - {{id: FIRST, name: Warms first, cold: {{from: T1}}}}
  - {{id: WH, name: Heater, cold: {{from: {feeds}}}}}
"""
    assert broken_things("hot-and-cold-mixed-up", over, folder) == found


def test_a_mixing_valve_behind_the_heater_lets_it_be_set_hotter(folder: Path) -> None:
    hot = "heaters: [{id: WH, name: Heater, setting: 150 F}]"
    assert broken_things("heater-set-to-scald", hot, folder) == ["WH"]
    valve = "water: {equipment: [{id: MV, name: Mixer, kind: mixing valve, from: WH}]}"
    assert broken_things("heater-set-to-scald", f"{hot}\n{valve}", folder) == []
    unfed = "water: {equipment: [{id: MV, name: Mixer, kind: mixing valve}]}"
    assert kinds("heater-set-to-scald", f"{hot}\n{unfed}", folder) == [CannotTell]
    cold = "water: {equipment: [{id: MV, name: Mixer, kind: mixing valve, from: T1}]}"
    assert broken_things("heater-set-to-scald", f"{hot}\n{cold}", folder) == ["WH"]


# --- rooms and levels that cannot be


def bath(right: str) -> str:
    """The base's level with a bath that ends at `right`; the kitchen begins at 8 ft."""
    return f"""
levels:
  - id: main
    name: Main
    rooms:
      - id: bath
        name: Bath
        outline: [[0 ft, 0 ft], [{right}, 0 ft], [{right}, 8 ft], [0 ft, 8 ft]]
      - id: kitchen
        name: Kitchen
        outline: [[8 ft, 0 ft], [16 ft, 0 ft], [16 ft, 8 ft], [8 ft, 8 ft]]
      - {{id: closet, name: Closet}}
"""


@pytest.mark.parametrize(
    ("right", "overlaps"), [("7 ft", False), ("8 ft", False), ("8 ft 6 in", False), ("9 ft", True)]
)
def test_rooms_may_share_a_wall_and_no_more(right: str, overlaps: bool, folder: Path) -> None:
    assert kinds("rooms-overlap", bath(right), folder) == [Broken] * overlaps


@pytest.mark.parametrize(
    ("place", "found"),
    [
        ("height: 8 ft", []),
        ("height: 8 ft 8 in", []),  # between open joists
        ("height: 9 ft", ["W3"]),
        ("height: 9 ft, behind: ceiling wallboard", []),
        ("height: 11 ft, behind: ceiling wallboard", ["W3"]),
    ],
)
def test_a_shutoff_stands_no_higher_than_its_ceiling(
    place: str, found: list[str], folder: Path
) -> None:
    over = f"water: {{valves: [{{id: W3, name: It, from: T1, place: {{room: bath, {place}}}}}]}}"
    assert broken_things("shutoff-above-its-ceiling", over, folder) == found


def test_a_stair_whose_foot_is_not_below_its_head_is_found(folder: Path) -> None:
    turned = "stairs: [{id: ST, foot: {room: kitchen}, head: {room: utility}}]"
    (found,) = outcomes("level-out-of-order", turned, folder)
    assert isinstance(found, Broken)
    assert "have their foot on the Main level, which is not below the Lower level" in found.message


# --- heights, days and lengths that contradict each other


def inverts(upper: str, more: str = "") -> str:
    """D2 begins at `upper` and runs into D3, which the base has at -10 ft 8 in."""
    by = "by: 30 ft of 4 in PVC"
    return f"""
drains:
  stretches: [{{id: D2, kind: building drain, to: D3, {by}, invert: {upper}}}]
  {more}
"""


def test_a_drain_that_begins_below_what_it_runs_into_is_found(folder: Path) -> None:
    name = "drain-runs-uphill"
    assert broken_things(name, inverts("-10 ft 8 in"), folder) == []
    assert broken_things(name, inverts("-10 ft 9 in"), folder) == ["D2"]
    pumped = "equipment: [{id: EJ, kind: sewage ejector, on: D2}]"
    assert broken_things(name, inverts("-12 ft", pumped), folder) == []


@pytest.mark.parametrize(
    ("day", "wrong"),
    [("2026-10-16", False), ("2026-10-17", True), ("1899-12-31", True), ("1900-01-01", False)],
)
def test_no_day_is_later_than_the_record_or_before_1900(
    day: str, wrong: bool, folder: Path
) -> None:
    """The base was handed over on 2026-10-16."""
    heater = f"heaters: [{{id: WH, name: Heater, installed: {day}}}]"
    assert broken_things("day-that-cannot-be", heater, folder) == ["WH"] * wrong
    battery = f"{{kind: AA, changed: {day}}}"
    sensor = f"safeguards: {{sensors: [{{id: S1, name: Sensor, battery: {battery}}}]}}"
    assert broken_things("day-that-cannot-be", sensor, folder) == ["S1"] * wrong


def test_a_failed_inspection_is_settled_by_the_same_one_passed_later(folder: Path) -> None:
    failed, passed = "{what: Gas test, result: failed}", "{what: Gas test, result: passed}"
    for said, count in ((f"{failed}", 1), (f"{failed}, {passed}", 0), (f"{passed}, {failed}", 1)):
        over = f"house: {{inspections: [{said}]}}"
        assert kinds("inspection-failed", over, folder) == [Broken] * count


def test_a_pipe_may_be_a_foot_short_of_the_straight_line_and_no_more(folder: Path) -> None:
    """From T1 at (3 ft, 2 ft), 2 ft up: 3 ft across, 4 ft along, 12 ft up is 13 ft away."""
    valve = "id: W3, name: It, from: T1, place: {level: main, at: [6 ft, 6 ft], height: 14 ft}"
    for length, found in (("12 ft", []), ("11 ft 11 in", ["W3"])):
        over = f"water: {{valves: [{{{valve}, by: {length} of 3/4 in PEX}}]}}"
        assert broken_things("pipe-shorter-than-its-way", over, folder) == found


# --- mains, figures and days


def test_a_main_that_does_not_say_what_feeds_it_is_named_where_anything_may_be_ahead(
    folder: Path,
) -> None:
    over = "water: {valves: [{id: W1, name: Main shutoff, main: yes, place: {room: utility}}]}"
    found = outcomes("feed-not-recorded", over, folder)
    assert CannotTell(facts.WATER_FEED, "W1") in found
    alone = bare(water={"valves": [{"id": "W1", "main": "yes"}]})
    rule = next(rule for rule in RULES if rule.name == "feed-not-recorded")
    assert CannotTell(facts.WATER_FEED, "W1") not in list(rule.look(alone))


def test_a_valve_that_does_not_say_what_feeds_it_is_a_gap(folder: Path) -> None:
    over = "water: {valves: [{id: W3, kind: ball, place: {room: bath}}]}"
    found = outcomes("feed-not-recorded", over, folder)
    assert [o.thing for o in found if isinstance(o, Gap)] == ["W3"]


def test_a_cleanout_stands_on_its_stretch_up_to_the_end_of_it(folder: Path) -> None:
    cleanout = "drains: {{cleanouts: [{{id: C2, on: D2, along: {at}}}]}}"  # D2 is 30 ft long
    assert outcomes("cleanout-past-its-drain", cleanout.format(at="30 ft"), folder) == []
    (found,) = outcomes("cleanout-past-its-drain", cleanout.format(at="31 ft"), folder)
    assert isinstance(found, Broken)
    assert "31 ft down" in found.message
    assert "which is 30 ft long" in found.message


def test_a_pipe_of_a_size_that_no_table_has_is_waited_for_by_its_bore(folder: Path) -> None:
    pipe = "water: {{valves: [{{id: W3, kind: ball, from: T1, by: 4 ft of {size}}}]}}"
    odd = outcomes("water-too-fast", pipe.format(size="5.3 in PE"), folder)
    assert CannotTell(facts.WATER_BORE, "W3") in odd
    assert CannotTell(facts.WATER_PIPE, "W3") not in odd


def day_from_now(days: int) -> str:
    return str(date.today() + timedelta(days=days))


def test_a_handover_planned_for_years_after_today_is_a_slip(folder: Path) -> None:
    def found(day: str) -> list[Outcome]:
        return outcomes("day-that-cannot-be", f"house: {{handover: {day}}}", folder)

    (slip,) = found("2999-01-01")
    assert isinstance(slip, Broken)
    assert "2999-01-01" in slip.message
    assert "years ahead of today" in slip.message
    assert found(day_from_now(90)) == []


WITH_DAYS = {
    "recorded": "house: {{handover: 2999-01-01, recorded: {{on: {}}}}}",
    "inspection": "house: {{inspections: [{{what: Rough-in, on: {}, result: passed}}]}}",
    "seen": "drains: {{cleanouts: [{{id: C1, on: D1, seen: {{on: {}}}}}]}}",
    "photo": "walls: {{photos: [{{id: PH9, file: a.jpg, caption: Wall, on: {}}}]}}",
}


@pytest.mark.parametrize("what", WITH_DAYS)
def test_nobody_has_looked_on_a_day_that_is_still_to_come(what: str, folder: Path) -> None:
    """Held against today, however far ahead the handover is planned; tomorrow may be the house's
    own today."""

    def slips(days: int) -> list[str]:
        over = houses.tree_of(WITH_DAYS[what].format(day_from_now(days)))
        over["house"] = {"handover": day_from_now(300), **over.get("house", {})}
        tree = houses.laid_over(houses.base(), over)
        rule = next(rule for rule in RULES if rule.name == "day-that-cannot-be")
        found = rule.look(houses.house_of(tree, folder))
        return [o.message for o in found if isinstance(o, Broken) and "still to come" in o.message]

    assert len(slips(7)) == 1
    assert slips(0) == slips(1) == []


def test_a_tank_found_too_small_says_how_cold_its_water_is_taken_to_come_in(folder: Path) -> None:
    over = examples()["expansion-tank-too-small"]
    (found,) = outcomes("expansion-tank-too-small", over, folder)
    assert isinstance(found, Broken)
    # the row of the density table next to 39.2 F (4 C), where water is densest
    assert "its cold water being assumed to come in at 40 °F" in found.message


LOFT = "{id: loft, name: Loft, outline: [[0 ft, 0 ft], [9 ft, 0 ft], [9 ft, 8 ft], [0 ft, 8 ft]]}"
UPPER = "levels: [{{id: upper, name: Upper level, elevation: {}, rooms: [{}]}}]"
APART = (
    "{id: den, name: Den, outline: [[30 ft, 0 ft], [40 ft, 0 ft], [40 ft, 8 ft], [30 ft, 8 ft]]}"
)


def test_a_level_over_another_is_as_far_up_as_the_room_below_is_high(folder: Path) -> None:
    """The room below is 8 ft high; a floor half as high over it is let pass, less is not."""
    (found,) = outcomes("levels-too-close", UPPER.format("9 in", LOFT), folder)
    assert isinstance(found, Broken)
    assert "9 in above that of the Main level" in found.message
    assert outcomes("levels-too-close", UPPER.format("4 ft", LOFT), folder) == []
    assert outcomes("levels-too-close", UPPER.format("9 in", APART), folder) == []
    undrawn = UPPER.format("9 in", "{id: den, name: Den}")
    assert outcomes("levels-too-close", undrawn, folder) == [CannotTell(facts.OUTLINES)]


def test_the_steps_of_a_stair_climb_what_steps_climb(folder: Path) -> None:
    """From -9 ft to 0 ft: 14 steps climb 7-3/4 in each (the most of IRC R311.7.5.1), 2 do not."""
    stair = "stairs: [{{id: ST, foot: {{room: utility}}, head: {{room: kitchen}}, steps: {}}}]"
    assert outcomes("levels-too-close", stair.format(14), folder) == []
    (found,) = outcomes("levels-too-close", stair.format(2), folder)
    assert isinstance(found, Broken)
    assert "climb 9 ft in 2 steps: 4 ft 6 in a step" in found.message


@pytest.mark.parametrize(
    ("role", "number", "is_short"),
    [
        ("licensed plumber", "555", True),
        ("licensed plumber", "911", True),
        ("licensed plumber", "555-0142", False),
        ("emergency", "555", True),
        ("emergency", "911", False),  # ITU-T E.161.1
        ("emergency", "112", False),  # ITU-T E.161.1
        ("gas utility", "811", False),  # an N11 code: before anybody digs
        ("gas utility", "555", True),
        ("gas utility", "000-0000", False),  # a starting record's: asked for by itself
    ],
)
def test_a_number_is_long_enough_for_whose_it_is(
    role: str, number: str, is_short: bool, folder: Path
) -> None:
    over = f"people: [{{role: {role}, phone: {number}}}]"
    assert kinds("number-cut-short", over, folder) == [Broken] * is_short


def test_high_pressure_is_not_passed_over_where_no_equipment_is_recorded() -> None:
    """Over 80 psi a reducing valve is asked for (IRC P2903.3.1); whether there is one is open."""
    rule = next(rule for rule in RULES if rule.name == "pressure-too-high")
    high, fit = (bare(water={"static_pressure": {"value": v}}) for v in ("110 psi", "80 psi"))
    assert [type(outcome) for outcome in rule.look(high)] == [CannotTell, Gap]
    assert [type(outcome) for outcome in rule.look(fit)] == [Clear]


@pytest.mark.parametrize(
    ("handover", "is_before"),
    [("2025-10-16", True), ("2026-10-04", True), ("2026-10-05", False), ("2026-10-16", False)],
)
def test_no_house_is_handed_over_before_its_last_inspection(
    handover: str, is_before: bool, folder: Path
) -> None:
    """What is seen of it later, when people live there, may be later than the handover."""
    over = f"""
house:
  handover: {handover}
  recorded: {{on: 2026-10-06}}
  inspections: [{{what: Rough plumbing, on: 2026-06-15}}, {{what: Final, on: 2026-10-05}}]
"""
    assert kinds("day-that-cannot-be", over, folder).count(Broken) == is_before


def test_a_handover_too_soon_stands_on_its_own_line_beside_the_day_past_the_record(
    folder: Path,
) -> None:
    """Without another `recorded` either day may be the slip."""
    over = "house: {handover: 2026-10-01, inspections: [{what: Final, on: 2026-10-05}]}"
    said = [
        o.message for o in outcomes("day-that-cannot-be", over, folder) if isinstance(o, Broken)
    ]
    assert [message[:34] for message in said] == [
        "The day 2026-10-01 of `handover` i",
        "The day 2026-10-05 is later than t",
    ]
    assert "the inspection `Final`, 2026-10-05" in said[0]


@pytest.mark.parametrize(
    ("note", "is_accepted"),
    [
        ("the whole cellar is open, 60 ft of it", True),
        ("it is open, 160 ft of it", False),
        ("it can be reached", False),
    ],
)
def test_an_unlikely_figure_is_accepted_from_who_repeats_it_in_the_note(
    note: str, is_accepted: bool, folder: Path
) -> None:
    over = houses.tree_of(examples()["figure-out-of-the-ordinary"])
    over["drains"]["cleanouts"][0]["note"] = note
    house = houses.house_of(houses.laid_over(houses.base(), over), folder)
    found = [f for f in check(house).findings if f.rule.code == "RC-12"]
    assert [f.thing for f in found] == ([] if is_accepted else ["C1"])
    assert all("`note: '60 ft: ...'`" in f.remedy for f in found)


@pytest.mark.parametrize(
    ("wide", "deep", "is_found"),
    [("12 in", "4 in", True), ("12 in", "2 ft", False), ("11 in", "8 ft", True)],
)
def test_a_room_that_nobody_can_enter_is_asked_about(
    wide: str, deep: str, is_found: bool, folder: Path
) -> None:
    """As narrow as a pipe chase it may be: common practice, no source."""
    outline = f"[[0 ft, 0 ft], [{wide}, 0 ft], [{wide}, {deep}], [0 ft, {deep}]]"
    rooms = f"rooms: [{{id: attic, name: Attic, outline: {outline}}}]"
    over = f"levels: [{{id: upper, name: Upper level, {rooms}}}]"
    assert kinds("room-too-small", over, folder) == [Gap] * is_found
