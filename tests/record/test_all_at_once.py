"""All slips of a record are told at once, whatever kind they are, and none that only follows."""

import itertools

import pytest

from handbook.record.grammar.record import Record
from handbook.record.problems import RecordError
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense

GOOD = """format: 1
house: {name: Test}
people: [{role: owner, name: Owner, phone: 555-0100}]
levels:
  - {id: low, name: Lower, rooms: [{id: kitchen, name: Kitchen}, {id: utility, name: Utility}]}
  - {id: up, name: Upper, rooms: [{id: bath, name: Bath}, {id: den, name: Den}]}
water:
  static_pressure: {value: 60 psi, near: W1}
  inside_main: W1
  valves:
    - {id: W1, main: yes, kind: ball, from: street, place: {room: utility, height: 4 ft}}
    - {id: W2, kind: ball, from: T2, place: {room: bath}}
    - {id: W3, kind: ball, from: T5}
  tees:
    - {id: T1, from: W1, by: 12 ft of 3/4 in PEX}
    - {id: T2, feeds: [{from: T1, by: 9 ft of 3/4 in PEX}, {from: T3}]}
    - {id: T3, from: T2}
    - {id: T4, from: T5}
    - {id: T5, from: T1}
  recirculation: {id: RP, from: T1}
fixtures:
  - {id: sink, kind: kitchen sink, place: {room: kitchen}, cold: {from: T3, stop: {id: S1}}}
heaters:
  - {id: WH1, kind: storage, setting: 120 F, cold: {from: T1}}
"""

SLIPS = {
    "a key of the file": ("people:", "peopel:"),
    "a key in braces": ("place: {room: bath}", "place: {room: bath, hight: 2 ft}"),
    "a wrong unit": ("value: 60 psi", "value: 60 ft"),
    "a wrong word": ("W2, kind: ball", "W2, kind: bal"),
    "a wrong word that is needed": ("kind: kitchen sink", "kind: kitchen sinc"),
    "an unknown room": ("{room: kitchen}", "{room: kitchn}"),
    "an unknown id": ("cold: {from: T3,", "cold: {from: T33,"),
    "an id of another kind": (
        "recirculation: {id: RP, from: T1",
        "recirculation: {id: RP, from: sink",
    ),
    "a circle": ("{id: T1, from: W1,", "{id: T1, from: T4,"),
    "a figure that cannot be": ("120 F", "400 F"),
    "a main that is none": ("inside_main: W1", "inside_main: W2"),
    "a heading without its name": ("house: {name: Test}", "house: {nam: Test}"),
    "a thing given twice": ("{id: W3", "{id: T5"),
    "a room given twice": ("{id: den, name: Den}", "{id: kitchen, name: Den}"),
    "an id that is misspelt as a key": ("{id: S1}", "{ID: S1}"),
    "a feed with a wrong unit": ("9 ft of 3/4", "9 psi of 3/4"),
    "the id of a wanted valve": ("{id: W1, main", "{idd: W1, main"),
    "the word that a main is one": ("main: yes", "mian: yes"),
    "the wrong level": ("height: 4 ft}", "height: 4 ft, level: up}"),
}


def found(*slips: str) -> set[tuple[int, str]]:
    """Return line and message of all that is told of the record with these slips in it."""
    text = GOOD
    for old, new in (SLIPS[slip] for slip in slips):
        assert GOOD.count(old) == 1, old
        text = text.replace(old, new)
    try:
        read_text(text, "house.yaml", Record, (check_ids, check_sense))
    except RecordError as error:
        return {(each.mark.line, each.message) for each in error.problems}
    return set()


def test_the_record_without_slips_is_sound():
    assert found() == set()


@pytest.mark.parametrize("slip", SLIPS)
def test_one_slip_is_one_problem(slip):
    assert len(found(slip)) == 1


MEET = {
    # of two things with one id, which one is meant is not known: neither is a circle's
    ("a circle", "a thing given twice"): "a thing given twice",
    # whether the valve is a main, and where it stands, is what has been lost with its id
    ("the id of a wanted valve", "the wrong level"): "the id of a wanted valve",
}
"""Two slips of which only the first found can be told, and that one."""


@pytest.mark.parametrize("both", list(itertools.combinations(SLIPS, 2)))
def test_two_slips_are_told_as_each_is_told_alone(both):
    one, other = (found(slip) for slip in both)
    assert found(*both) == (found(MEET[both]) if both in MEET else one | other)


def test_all_slips_of_different_things_are_told_in_one_run():
    many = [slip for slip in SLIPS if slip not in {"a thing given twice", "the wrong level"}]
    assert found(*many) == set().union(*(found(slip) for slip in many))


def test_a_place_in_a_room_that_is_given_twice_contradicts_nothing():
    there = ("{id: W3, kind: ball, from: T5}", "{id: W3, place: {level: low, room: bath}}")
    text = GOOD.replace(*there).replace("{id: kitchen, name: Kitchen}", "{id: bath, name: Kitchen}")
    with pytest.raises(RecordError) as refused:
        read_text(text, "house.yaml", Record, (check_ids, check_sense))
    said = [each.message for each in refused.value.problems]
    assert said == ["the id `bath` is given twice", "nothing in this record has the id `kitchen`"]
