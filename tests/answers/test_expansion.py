"""Open or closed, how much the water swells, which tank: by hand on small houses.

The densities (8.345 lb/gal at 40 F, 8.250 at 120 F) and the tank's equation are held against
sources in `tests/published/test_water_expansion.py`.
"""

from pathlib import Path

import pytest
import yaml

from handbook.answers.expansion import Expansion, expansion
from handbook.answers.heating.closed_system import closure, pressure_at
from handbook.answers.heating.expansion_said import sentences
from handbook.house.house import House, build
from handbook.record.grammar.record import Record


def house(text: str, units: str = "US") -> House:
    tree = yaml.load(text, Loader=yaml.BaseLoader)
    facts = {"name": "Swelling", "units": units}
    return build(Record.model_validate({"format": "1", "house": facts, **tree}), Path())


def answer(text: str) -> Expansion:
    return expansion(house(text))[0]


CLOSED = """
water:
  sources: [{id: CITY, kind: public main}]
  static_pressure: {value: 95 psi}
  valves: [{id: W1, main: yes, from: CITY}]
  equipment: [{id: PRV, kind: pressure-reducing valve, from: W1, set_to: 60 psi}]
heaters:
  - id: WH
    kind: storage
    capacity: 50 gal
    setting: 120 F
    cold: {from: PRV}
    expansion_tank: {id: ET, size: 4.4 gal, precharge: 60 psi}
"""


def test_the_water_swells_by_the_ratio_of_densities() -> None:
    swells = answer(CLOSED).swells
    assert swells
    assert swells.gallons == pytest.approx(50 * (8.345 / 8.250 - 1))  # 0.576 gal


def test_the_tank_keeps_the_pressure_below_its_limit() -> None:
    needed = answer(CLOSED).tank_needed
    assert needed
    # 0.576 / (1 - 74.7 / 94.7) = 2.73 gal; the limit of 80 psi is IPC 604.8
    assert needed.gallons == pytest.approx(2.726, abs=0.001)


@pytest.mark.parametrize(("size", "enough"), [("2.8 gal", True), ("2.7 gal", False)])
def test_a_tank_is_big_enough_or_not(size: str, enough: bool) -> None:
    assert answer(CLOSED.replace("4.4 gal", size)).big_enough is enough


@pytest.mark.parametrize(
    ("charge", "right"),
    [("60 psi", True), ("58 psi", True), ("57 psi", False), ("63 psi", False), ("414 kPa", True)],
)
def test_its_air_is_charged_to_the_pressure_as_near_as_a_gauge_tells(
    charge: str, right: bool
) -> None:
    assert answer(CLOSED.replace("precharge: 60 psi", f"precharge: {charge}")).charge_right is right


def test_a_wrong_charge_takes_up_less() -> None:
    takes = answer(CLOSED.replace("precharge: 60 psi", "precharge: 40 psi")).tank_takes
    assert takes
    # 4.4 x (54.7 / 74.7 - 54.7 / 94.7) = 0.680 gal, against 4.4 x (1 - 74.7 / 94.7) = 0.929
    assert takes.gallons == pytest.approx(0.680, abs=0.001)


# --- open or closed


@pytest.mark.parametrize(
    ("equipment", "system", "by"),
    [
        ("[{id: E, kind: pressure-reducing valve, from: W1}]", "closed", "E"),
        ("[{id: E, kind: check valve, from: W1}]", "closed", "E"),
        ("[{id: E, kind: backflow preventer, from: W1}]", "closed", "E"),
        ("[{id: E, kind: filter, from: W1}]", "open", None),
        ("[{id: E, kind: filter, from: W1, has_check: yes}]", "closed", "E"),
        # a pressure tank on the house's side takes up what swells; one before it does not
        (
            "[{id: E, kind: check valve, from: W1}, {id: P, kind: pressure tank, from: E}]",
            "open",
            "P",
        ),
        (
            "[{id: E, kind: check valve, from: P}, {id: P, kind: pressure tank, from: W1}]",
            "closed",
            "E",
        ),
    ],
)
def test_what_closes_a_system(equipment: str, system: str, by: str | None) -> None:
    """IPC 607.3: a check valve, a reducing valve or a backflow preventer."""
    text = CLOSED.replace(
        "[{id: PRV, kind: pressure-reducing valve, from: W1, set_to: 60 psi}]", equipment
    ).replace("cold: {from: PRV}", "cold: {from: E}")
    found = closure(house(text), "WH")
    assert (found.system, found.by) == (system, by)


def test_a_reducing_valve_before_the_main_closes_the_system_too() -> None:
    """IPC 607.3 asks where the water can go, not in which order the line was built."""
    text = CLOSED.replace("main: yes, from: CITY", "main: yes, from: PRV")
    text = text.replace("from: W1, set_to", "from: CITY, set_to")
    text = text.replace("cold: {from: PRV}", "cold: {from: W1}")
    found = closure(house(text), "WH")
    assert (found.system, found.by) == ("closed", "PRV")


def test_a_line_that_is_not_recorded_is_neither_open_nor_closed() -> None:
    unfed = closure(house(CLOSED.replace("cold: {from: PRV}", "pan: none")), "WH")
    assert (unfed.system, unfed.lacks) == (None, "feed")
    unsaid = CLOSED.replace("  equipment: [{id: PRV, kind: pressure-reducing valve, from: W1, "
                            "set_to: 60 psi}]\n", "").replace("from: PRV", "from: W1")  # fmt: skip
    found = closure(house(unsaid), "WH")
    assert (found.system, found.lacks) == (None, "equipment")


# --- the pressure


def test_behind_a_reducing_valve_it_is_what_that_is_set_to() -> None:
    found, said = pressure_at(house(CLOSED), "WH")
    assert found
    assert (found.psi, said) == (60, "what PRV is set to")


def test_a_gauge_behind_the_reducing_valve_tells_where_its_setting_does_not() -> None:
    text = CLOSED.replace(", set_to: 60 psi", "").replace("95 psi", "62 psi, near: W2")
    behind = text.replace("{id: W1, main", "{id: W2, from: PRV}, {id: W1, main")
    before = text.replace("{id: W1, main", "{id: W2, from: CITY}, {id: W1, main")
    found, _ = pressure_at(house(behind), "WH")
    assert found
    assert found.psi == 62
    assert pressure_at(house(before), "WH") == (None, "")


def test_without_a_reducing_valve_it_is_the_static_pressure() -> None:
    text = CLOSED.replace("95 psi", "70 psi").replace("pressure-reducing valve", "check valve")
    found, said = pressure_at(house(text), "WH")
    assert found
    assert (found.psi, said) == (70, "the static pressure")


def test_at_the_limit_no_tank_has_room() -> None:
    text = CLOSED.replace("set_to: 60 psi", "set_to: 80 psi")
    assert answer(text).tank_needed is None
    assert any("a lower pressure" in need for need in answer(text).missing)


# --- holes


@pytest.mark.parametrize(
    ("old", "new", "lack"),
    [
        ("    capacity: 50 gal\n", "", "capacity"),
        ("    setting: 120 F\n", "", "setting"),
        (", set_to: 60 psi", "", "pressure"),
        ("size: 4.4 gal, ", "", "size"),
        (", precharge: 60 psi", "", "precharge"),
        ("    kind: storage\n", "", "kind"),
        ("cold: {from: PRV}", "pan: none", "system"),
        ("    expansion_tank: {id: ET, size: 4.4 gal, precharge: 60 psi}\n", "", "tank"),
    ],
)
def test_a_missing_fact_is_named(old: str, new: str, lack: str) -> None:
    assert CLOSED.count(old) == 1
    found = answer(CLOSED.replace(old, new))
    assert lack in found.lacks
    assert found.missing
    assert answer(CLOSED).missing == ()


def test_a_static_pressure_that_is_recorded_is_not_what_is_missing() -> None:
    """What stands in the line, or the line itself, may bring it down on its way to the heater."""
    reducer = "  equipment: [{id: PRV, kind: pressure-reducing valve, from: W1, set_to: 60 psi}]\n"
    unsaid = answer(CLOSED.replace(reducer, "").replace("from: PRV", "from: W1"))
    unfed = answer(CLOSED.replace("cold: {from: PRV}", "pan: none"))
    assert ("equipment" in unsaid.lacks, "feed" in unfed.lacks) == (True, True)
    for found in (unsaid, unfed):
        assert "pressure" not in found.lacks
        assert not any("static pressure" in need for need in found.missing)
        assert len(set(found.missing)) == len(found.missing)


def test_a_setting_past_the_table_gives_no_number() -> None:
    found = answer(CLOSED.replace("120 F", "213 F"))
    assert found.swells is None
    assert any("ends at 212 F" in need for need in found.missing)


def test_a_tankless_heater_stores_nothing_that_swells() -> None:
    text = CLOSED.replace("kind: storage", "kind: tankless")
    assert answer(text).swells is None
    assert answer(text).missing == ()
    (said,) = sentences(house(text), answer(text))
    assert "needs no expansion tank" in said


def test_the_cold_waters_temperature_is_an_assumption_that_is_said() -> None:
    assert answer(CLOSED).entry.fahrenheit == 40
    assert any("densest" in said for said in answer(CLOSED).assumed)


@pytest.mark.parametrize(
    ("units", "said"),
    [
        ("US", "Heated from 40 °F to 120 °F, its 50 gal of water swell by 0.6 gal."),
        # 40 F is 4.4 C, 120 F is 48.9 C, 50 gal is 189 L, 0.576 gal is 2.2 L
        ("metric", "Heated from 4 °C to 49 °C, its 189 L of water swell by 2.2 L."),
    ],
)
def test_it_is_said_in_the_houses_units(units: str, said: str) -> None:
    subject = house(CLOSED, units)
    assert said in sentences(subject, expansion(subject)[0])
