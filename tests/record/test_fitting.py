"""What a hint shows to be written can be written: its ids are free, its rooms are the record's."""

import re

import pytest

from handbook.record.fitting import fitted, known
from handbook.record.grammar.drains import Cleanout
from handbook.record.grammar.gas import Appliance
from handbook.record.grammar.places import Door, Level
from handbook.record.grammar.record import Record
from handbook.record.problems import RecordError
from handbook.record.pruning import pruned
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense

TEXT = """format: 1
house: {name: Test}
levels: [{id: low, name: Low, rooms: [{id: den, name: Den}, {id: wash, name: Wash}]}]
water:
  valves:
    - {id: W1, main: yes, from: street, place: {room: den}}
    - {id: W2, from: W1}
    - {id: S1, from: W1}
drains: {stretches: [{id: BD, to: SEW}, {id: SEW}], cleanouts: [{id: C1, on: BD}]}
"""


def read(text: str) -> Record:
    return read_text(text, "house.yaml", Record, (check_ids, check_sense))


RECORD = read(TEXT)


def test_an_id_that_is_given_is_counted_on_to_the_next_free_one():
    assert fitted("id: W1", Cleanout, known(RECORD)) == "id: W3"
    assert fitted("id: C1, on: D1", Cleanout, {}) == "id: C1, on: D1"


def test_a_place_and_a_drain_are_those_of_the_record():
    shown = fitted("{id: C1, on: D1, place: {room: hall}}", Cleanout, known(RECORD))
    assert shown == "{id: C2, on: BD, place: {room: den}}"


def test_outdoors_stays_outdoors_whatever_levels_the_record_has():
    shown = "{id: C2, place: {level: outside}}"
    assert fitted(shown, Cleanout, known(RECORD)) == shown


def test_one_room_of_an_example_stays_one_room_and_two_stay_two():
    door = "doors: [{between: [hall, bath], swings_into: bath}]"
    shown = "doors: [{between: [den, wash], swings_into: wash}]"
    assert fitted(door, Level, known(RECORD)) == shown


@pytest.mark.parametrize("own", ["hall", "kitchen"])
def test_a_door_of_an_example_joins_two_rooms_of_which_one_has_the_examples_own_name(own):
    rooms = f"{{id: {own}, name: Own}}, {{id: laundry, name: Laundry}}"
    text = f"format: 1\nhouse: {{name: T}}\nlevels: [{{id: low, name: Low, rooms: [{rooms}]}}]\n"
    shown = fitted(f"{{{Door.written}}}", Door, known(read(text)))
    first, second = re.search(r"between: \[([\w-]+), ([\w-]+)\]", shown).groups()
    assert {first, second} == {own, "laundry"}


@pytest.mark.parametrize(
    ("gas", "feeds"),
    [("", None), ("gas: {valves: [{id: GV, kind: gas cock}]}\n", "GV")],
)
@pytest.mark.parametrize("stop", ["S1", "GM"])
def test_a_sample_of_gas_is_fed_by_what_carries_gas_and_never_by_a_toilets_stop(gas, feeds, stop):
    toilet = f"{{id: wc, kind: water closet, cold: {{stop: {{id: {stop}, kind: angle stop}}}}}}"
    there = known(read(f"format: 1\nhouse: {{name: T}}\nfixtures: [{toilet}]\n{gas}"))
    shown = re.search(r"from: (\w+)", pruned(Appliance.written, Appliance, there))
    assert (shown and shown[1]) == feeds


def test_text_that_is_no_example_of_the_entry_is_left_alone():
    for text in ("put it in quotes: [", "key: value", "id W1", "W1"):
        assert fitted(text, Cleanout, known(RECORD)) == text


@pytest.mark.parametrize(
    ("old", "new", "hint"),
    [
        ("- {id: S1, from: W1}", "- {from: W1}", "{id: W3, name: Upstairs shutoff"),
        (
            "- {id: W2, from: W1}",
            "- W2",
            "{id: W2, name: Upstairs shutoff, kind: ball, from: W1, place: {room: den}}",
        ),
        ("{id: C1, on: BD}", "C1", "{id: C1, name: Front cleanout, kind: two-way, on: BD"),
    ],
)
def test_the_hint_about_a_slip_shows_what_is_free_and_there(old, new, hint):
    assert TEXT.count(old) == 1
    with pytest.raises(RecordError) as refused:
        read(TEXT.replace(old, new))
    assert any(hint in each.hint for each in refused.value.problems)
