"""What is due when: intervals against their sources, dates against dateutil; whose work it is."""

from datetime import date
from pathlib import Path

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given, strategies

from handbook.answers.care import Chore, care, months_later
from handbook.house.house import House, build
from handbook.record.grammar.record import Record
from handbook.tables import table

HOUSE = {
    "format": "1",
    "house": {"name": "The house"},
    "water": {
        "sources": [{"id": "street-main", "kind": "public main"}],
        "valves": [
            {"id": "U1", "utility": "yes", "from": "street-main"},
            {"id": "W1", "main": "yes", "from": "U1", "kind": "ball"},
            {"id": "W2", "from": "W1", "condition": "stuck"},
            {"id": "W3", "from": "W1", "kind": "automatic shutoff"},
        ],
        "equipment": [
            {"id": "BP1", "kind": "backflow preventer", "from": "W3", "tested": "2026-10-02"}
        ],
    },
    "heaters": [
        {
            "id": "H1",
            "kind": "storage",
            "fuel": "natural gas",
            "gas": {"shutoff": {"id": "G1", "kind": "gas cock"}},
            "relief": {"discharge": {"to": "outdoors"}},
            "cold": {"from": "W3", "stop": {"id": "W4", "kind": "ball"}},
        }
    ],
    "fixtures": [
        {"id": "HB1", "kind": "hose bibb", "cold": {"from": "W3", "stop": {"id": "W5"}}},
        {"id": "HB2", "kind": "hose bibb", "cold": {"from": "W3", "stop": "none"}},
        {"id": "tub", "kind": "bathtub", "cold": {"from": "W3", "stop": "none"}},
    ],
    "safeguards": {
        "sensors": [
            {"id": "S1", "battery": {"kind": "AA", "changed": "2026-02-28"}},
            {"id": "S2", "battery": {"kind": "AA", "changed": "2026-02-28"}},
            {"id": "S3", "battery": {"kind": "AA"}},
            {"id": "S4", "battery": "none"},
        ],
        "pans": [{"id": "P1", "drain": "none"}, {"id": "P2", "drain": {"to": "outdoors"}}],
    },
}


def house(**changed: object) -> House:
    return build(Record.model_validate(HOUSE | changed), Path())


def chores(key: str, **changed: object) -> list[Chore]:
    return [chore for chore in care(house(**changed)) if chore.key == key]


def chore(key: str, **changed: object) -> Chore:
    (found,) = chores(key, **changed)
    return found


@pytest.mark.parametrize(
    ("key", "months"),
    [
        # National Fire Protection Association, carbon monoxide safety: test monthly.
        ("co_test", 1),
        # US Centers for Disease Control and Prevention, carbon monoxide: batteries, 6 months.
        ("co_battery", 6),
        # US CDC, as a news report of 2012 quotes it: gas appliances checked every year.
        ("gas_appliances", 12),
        # US Environmental Protection Agency: a septic tank is inspected every 3 years at least.
        ("septic_tank", 36),
        # US Department of Energy, Energy Saver (stated from memory): a quart every 3 months, the
        # relief valve every 6 months, the anode every 3 to 4 years.
        ("heater_sediment", 3),
        ("heater_relief", 6),
        ("heater_anode", 36),
    ],
)
def test_a_published_interval_is_kept(key: str, months: int) -> None:
    assert table("care").values[key]["every_months"] == months


def test_what_is_done_to_a_heaters_tank_is_the_plumbers() -> None:
    """An occupant never works on the tank (common practice, no source): its water scalds."""
    for key in ("heater_sediment", "heater_anode", "heater_relief", "expansion_tank"):
        assert table("care").values[key]["who"] == "licensed plumber", key


@given(strategies.dates(date(1990, 1, 1), date(2100, 1, 1)), strategies.integers(1, 60))
def test_a_date_so_many_months_on_is_the_one_dateutil_gives(day: date, months: int) -> None:
    assert months_later(day, months) == day + relativedelta(months=months)


def test_a_battery_is_due_a_year_after_it_was_put_in() -> None:
    first = next(chore for chore in chores("sensor_battery") if chore.last)
    assert first.things == ("S1", "S2")
    assert first.due == date(2027, 2, 28)  # 2026-02-28 and 12 months


def test_a_chore_whose_last_time_is_not_recorded_has_no_due_date() -> None:
    (undated,) = [chore for chore in chores("sensor_battery") if not chore.last]
    assert undated.things == ("S3",)
    assert undated.due is None


def test_a_sensor_without_a_battery_is_tested_but_gets_no_new_battery() -> None:
    assert "S4" in chore("sensor_test").things
    assert all("S4" not in chore.things for chore in chores("sensor_battery"))


def test_a_sensor_whose_battery_is_not_recorded_is_looked_at() -> None:
    sensors = [{"id": "S1", "name": "One"}, {"id": "S2", "name": "Two", "battery": "none"}]
    guards = {"sensors": sensors}
    record = Record.model_validate(
        {"format": "1", "house": {"name": "Test house"}, "safeguards": guards}
    )
    (look,) = (c for c in care(build(record, Path())) if c.key == "sensor_unknown")
    assert look.things == ("S1",)


def test_only_a_pan_that_drains_is_tried() -> None:
    assert chore("pan_drains").things == ("P2",)


def test_valves_of_the_utility_stuck_ones_and_gas_shutoffs_are_not_exercised() -> None:
    assert chore("exercise_valves").things == ("W1", "W4")
    assert chore("exercise_stops").things == ("W5",)


def test_a_heaters_own_shutoff_is_no_stop_at_a_fixture() -> None:
    assert "W4" not in chore("exercise_stops").things


def test_the_automatic_shutoff_is_worked_by_itself() -> None:
    assert chore("automatic_shutoff").things == ("W3",)


def test_a_backflow_preventer_is_tested_a_year_after_its_last_test_by_a_certified_tester() -> None:
    test = chore("backflow_test")
    assert test.who == "certified tester"
    assert test.due == date(2027, 10, 2)  # 2026-10-02 and 12 months


def test_no_work_on_gas_relief_valves_backflow_or_sewage_is_the_occupants() -> None:
    """Common practice, no source; the house rule is that these belong to licensed people."""
    barred = (
        "heater_relief",
        "heater_anode",
        "gas_appliances",
        "backflow_test",
        "expansion_tank",
        "backwater_valve",
        "sewage_ejector",
        "septic_tank",
        "pressure",
        "heater_descale",
    )
    assert all(table("care").values[key]["who"] != "you" for key in barred)


def test_a_hose_bibb_with_its_own_stop_is_shut_off_for_the_winter_by_that_stop() -> None:
    winter = chore("hose_bibb_stops")
    assert winter.things == ("HB1",)
    assert "Close W5 inside" in winter.do


def test_a_hose_bibb_that_only_a_wider_valve_stops_just_loses_its_hose() -> None:
    assert chore("hose_bibbs").things == ("HB2",)


def test_a_house_without_gas_has_no_chores_about_gas() -> None:
    electric = [{"id": "H1", "kind": "storage", "fuel": "electric"}]
    keys = {chore.key for chore in care(house(heaters=electric, gas="none"))}
    assert not keys & {"gas_appliances", "co_test", "co_battery"}


def test_a_tankless_heater_is_descaled_and_has_no_tank_to_look_after() -> None:
    keys = {c.key for c in care(house(heaters=[{"id": "H1", "kind": "tankless"}]))}
    assert "heater_descale" in keys
    assert not keys & {"heater_sediment", "heater_anode"}


def test_a_record_that_says_nothing_asks_for_nothing() -> None:
    assert care(build(Record.model_validate({"format": "1", "house": {"name": "X"}}), Path())) == ()


def test_the_most_frequent_chores_come_first() -> None:
    months = [chore.every_months for chore in care(house())]
    assert months == sorted(months)


def test_every_chore_names_its_source_or_that_it_has_none() -> None:
    assert all(row["source"] for row in table("care").values.values())
    unseen = [c for c in care(house()) if not table("care").values[c.key]["seen"]]
    assert unseen
    assert all("stated from memory" in chore.source for chore in unseen)
