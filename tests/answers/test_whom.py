"""Whom to call: what is left out by what the house has, whose number stands where, and limits.

What belongs to whom is common practice, no source, except where a situation names one.
"""

import re
from pathlib import Path
from typing import Any

import pytest

from handbook.answers.whom import Situation, contact, whom
from handbook.house.house import House, build
from handbook.record.grammar.record import Record
from handbook.tables import table


def house(**more: Any) -> House:
    return build(
        Record.model_validate({"format": "1", "house": {"name": "Test house"}, **more}), Path()
    )


def asked(**more: Any) -> dict[str, Situation]:
    return {situation.id: situation for situation in whom(house(**more))}


def roles(situation: Situation) -> list[str]:
    return [duty.contact.role for duty in situation.duties]


ALL = asked()


def test_a_house_of_which_nothing_is_known_gets_every_situation() -> None:
    assert list(ALL) == [said["id"] for said in table("whom").values["situations"]]


def test_what_is_not_recorded_is_said_and_not_left_out() -> None:
    assert ALL["gas-smell"].unsure == "Whether the house has gas is not recorded."
    unsure = {d.contact.role: d.unsure for d in ALL["backup"].duties if d.unsure}
    assert unsure["sewer utility"] == "Whether the house has a public sewer is not recorded."


def test_a_house_known_to_have_no_gas_has_no_gas_rows() -> None:
    told = asked(gas="none")
    assert not {"gas-smell", "gas-work", "gas-was-off"} & set(told)
    assert all("gas utility" not in roles(situation) for situation in told.values())


def test_a_gas_heater_settles_that_there_is_gas_whatever_the_gas_section_says() -> None:
    told = asked(gas="none", heaters=[{"id": "WH1", "fuel": "propane"}])
    assert "gas-smell" in told
    assert told["gas-smell"].unsure is None


def test_a_septic_tank_has_no_sewer_company() -> None:
    told = asked(drains={"discharge": {"id": "D9", "kind": "septic tank"}})
    assert roles(told["backup"]) == ["licensed plumber", "licensed plumber", "water damage cleanup"]


def test_a_public_sewer_has_no_septic_duty() -> None:
    told = asked(drains={"discharge": {"id": "D9", "kind": "public sewer"}})
    assert roles(told["backup"]) == ["licensed plumber", "sewer utility", "water damage cleanup"]


def test_a_well_has_no_water_company() -> None:
    told = asked(water={"sources": [{"id": "well", "kind": "well"}]})
    assert "meter" not in told
    assert all("water utility" not in roles(situation) for situation in told.values())


def test_a_propane_tank_leaves_no_meter_to_the_gas_company() -> None:
    told = asked(gas={"fuel": "propane", "meter": {"id": "G1", "kind": "tank"}})
    assert roles(told["gas-work"]) == ["licensed plumber"]


def test_without_a_heater_nobody_is_told_about_heaters() -> None:
    told = asked(heaters="none")
    assert not {"heater-leaks", "relief-valve", "no-hot-water", "too-hot"} & set(told)


@pytest.mark.parametrize("situation", ALL.values(), ids=ALL)
def test_each_reason_is_five_words_or_fewer(situation: Situation) -> None:
    assert all(1 <= len(duty.why.split()) <= 5 for duty in situation.duties)


@pytest.mark.parametrize("situation", ALL.values(), ids=ALL)
def test_each_situation_names_what_never_to_do_and_somebody_to_call(situation: Situation) -> None:
    assert situation.never
    assert situation.duties


FORBIDDEN = r"gas|relief|backflow|cleanout|wall(?!s)|relight|pilot|burner|tank|trap|\bmeter|sewage"


@pytest.mark.parametrize("situation", ALL.values(), ids=ALL)
def test_what_an_occupant_may_do_touches_nothing_that_is_for_the_licensed(
    situation: Situation,
) -> None:
    assert not re.search(FORBIDDEN, situation.you, re.IGNORECASE)


@pytest.mark.parametrize("name", ["gas-work", "meter", "backflow"])
def test_some_things_are_not_the_occupants_at_all(name: str) -> None:
    assert ALL[name].you == "Nothing. Leave it alone."


@pytest.mark.parametrize(
    ("name", "role", "refused"),
    [
        ("gas-work", "licensed plumber", "gas pipe"),
        ("gas-was-off", "gas utility", "relight"),
        ("relief-valve", "licensed plumber", "relief valve"),
        ("backflow", "licensed plumber", "Open it"),
        ("backup", "licensed plumber", "cleanout"),
        ("in-the-wall", "licensed plumber", "Open a wall"),
        ("meter", "water utility", "utility's valve"),
        ("power", "electric utility", "Step in water"),
    ],
)
def test_what_is_refused_to_the_occupant_is_somebody_elses(
    name: str, role: str, refused: str
) -> None:
    assert refused in ALL[name].never
    assert role in roles(ALL[name])


def test_each_number_is_that_of_the_record_for_its_role() -> None:
    people = [
        {"role": "licensed plumber", "phone": "555-0101", "after_hours": "555-0102"},
        {"role": "gas utility", "phone": "555-0104"},
    ]
    told = asked(people=people)
    plumber, gas = (told["gas-work"].duties[i].contact for i in (0, 1))
    assert (str(plumber.phone), str(plumber.after_hours)) == ("555-0101", "555-0102")
    assert str(gas.phone) == "555-0104"


def test_a_number_that_is_not_recorded_is_said_to_be_so() -> None:
    assert contact(house(), "gas utility").missing == "The gas company's number is not recorded."
    assert contact(house(), "emergency").missing == "The emergency number is not recorded."
    said = "The number of a licensed plumber is not recorded."
    assert contact(house(), "licensed plumber").missing == said


def test_a_number_that_was_looked_for_in_vain_is_told_apart() -> None:
    home = house(people=[{"role": "neighbor", "name": "Number 9", "phone": "none"}])
    assert contact(home, "neighbor").missing == "The neighbor has no number."


def test_of_several_people_the_first_who_has_a_number_is_called() -> None:
    people = [
        {"role": "electrician", "name": "First", "phone": "unknown"},
        {"role": "electrician", "name": "Second", "phone": "555-0107"},
    ]
    assert contact(house(people=people), "electrician").name == "Second"


def test_a_number_for_after_hours_alone_is_the_number() -> None:
    people = [{"role": "electrician", "after_hours": "555-0108"}]
    assert str(contact(house(people=people), "electrician").phone) == "555-0108"


def test_every_role_has_a_plain_name_and_every_need_its_words() -> None:
    known = table("whom").values
    for said in known["situations"]:
        for part in (said, *said["duties"]):
            assert set(part.get("needs", ())) <= set(known["needs"])
            assert part.get("role", "emergency") in known["called"]


def test_the_utilitys_valve_is_told_apart_by_its_tag_from_the_owners_main_in_the_same_box() -> None:
    outside = {"place": {"level": "outside", "where": "in the meter box"}}
    utility = {"id": "V1", "name": "Street valve", "kind": "curb stop", "utility": True, **outside}
    own = {"id": "V2", "name": "Outer main", "kind": "ball", "main": True, **outside}
    valves = [{**utility, "from": "street"}, {**own, "from": "V1"}]
    meter = asked(water={"valves": valves})["meter"]
    assert meter.never == "Turn V1, the utility's valve unless they tell you to."
    assert meter.you.endswith("V2 (Outer main) is not theirs: you may close it.")
    assert ALL["meter"].never == "Turn the utility's valve unless they tell you to."
