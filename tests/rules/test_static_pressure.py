"""Street pressure over 80 psi, outlet by outlet (IRC P2903.3.1, IPC 604.8, UPC 608.2).

The base house: street, U1, WM, W1, PRV, W2, softener, T1, and all that draws water behind T1.
"""

from pathlib import Path

import pytest
import rule_houses as houses

from handbook.rules.rule import Broken, CannotTell, Clear, Gap, Outcome
from handbook.rules.static_pressure import pressure_too_high

HIGH = "water: {static_pressure: {value: 95 psi}}"
LEAK = """
water:
  static_pressure: {value: 95 psi}
  valves:
    - {id: W2, name: Leak shutoff, kind: automatic shutoff, from: W1, place: {room: utility}}
"""
LAVATORY = """
water: {static_pressure: {value: 95 psi}}
fixtures: [{id: lav, name: Sink, kind: lavatory, place: {room: bath}, cold: {from: %s}, hot: none}]
"""
HOSE = """
water: {static_pressure: {value: 95 psi}}
fixtures: [{id: HB1, name: Hose bibb, kind: hose bibb, cold: {from: W1}}]
"""
SHOWER = """
water: {static_pressure: {value: 95 psi}}
fixtures: [{id: shower, name: Shower, kind: shower, place: {%s}, cold: {from: W1}, hot: none}]
"""


def outcomes(over: str, folder: Path) -> list[Outcome]:
    tree = houses.laid_over(houses.base(), houses.tree_of(over))
    found = pressure_too_high.look(houses.house_of(tree, folder))
    return [outcome for outcome in found if not isinstance(outcome, Clear)]


def test_behind_a_reducing_valve_all_is_well(folder: Path) -> None:
    assert outcomes(HIGH, folder) == []


def test_a_fixture_ahead_of_the_reducing_valve_is_found(folder: Path) -> None:
    (found,) = outcomes(LAVATORY % "W1", folder)
    assert isinstance(found, Broken)
    assert found.thing == "lav"
    assert found.message.startswith("The static pressure is 95 psi, and lav (Sink) is fed from ahe")


def test_what_hangs_ahead_together_is_one_finding_that_names_where_it_branches_off(
    folder: Path,
) -> None:
    tee = LAVATORY % "T9" + "heaters: [{id: WH, name: Heater, kind: storage, cold: {from: T9}}]"
    tee = tee.replace("95 psi}", "95 psi}, tees: [{id: T9, name: Tee, from: WM}]")
    (found,) = outcomes(tee, folder)
    assert isinstance(found, Broken)
    assert found.thing == "T9"
    assert "what hangs on it: lav (Sink), tub (Tub), WH (Heater)" in found.message


def test_a_reducing_valve_that_nothing_hangs_behind_helps_nobody(folder: Path) -> None:
    (found,) = outcomes(LEAK, folder)
    assert isinstance(found, Broken)
    assert "nothing recorded draws its water through PRV" in found.message


def test_a_reducing_valve_without_its_feed_is_a_gap_and_not_an_answer(folder: Path) -> None:
    """As it is pasted from a hint: recorded, and neither fed nor feeding anything."""
    reducer = "{id: PRV, name: Reducing valve, kind: pressure-reducing valve}"
    over = LEAK.replace("  valves:", f"  equipment: [{reducer}]\n  valves:")
    (found,) = outcomes(over, folder)
    assert isinstance(found, Gap)
    assert found.thing == "PRV"


def test_a_hose_bibb_may_take_what_the_street_gives(folder: Path) -> None:
    """IPC 604.8 excepts lines to hose bibbs (stated from memory)."""
    assert outcomes(HOSE, folder) == []


@pytest.mark.parametrize(("place", "found"), [("level: outside", False), ("room: bath", True)])
def test_the_outlets_in_the_building_count(place: str, found: bool, folder: Path) -> None:
    """UPC 608.2 (2015, 2024): the regulator controls the pressure to outlets in the building."""
    assert [o.thing for o in outcomes(SHOWER % place, folder)] == ["shower"] * found


def test_a_line_that_ends_in_the_dark_makes_it_wait(folder: Path) -> None:
    (found,) = outcomes(LAVATORY % "unknown", folder)
    assert isinstance(found, CannotTell)
    assert found.thing == "lav"
