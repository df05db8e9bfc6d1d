"""Where a main stands closed by the record, the tables say that, not that no shutoff is there."""

from pathlib import Path

import pytest
from plain_reading import read

from handbook.house.house import House, build
from handbook.pages.book import book
from handbook.pages.content import Page
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text

CLOSED = """
format: 1
house: {name: Closed main}
people: [{role: licensed plumber, phone: 555-0142}]
levels: [{id: low, name: Lower, rooms: [{id: bath, name: Bath}, {id: util, name: Utility}]}]
water:
  valves:
    - {id: W0, utility: yes, kind: curb stop, from: street, place: {level: outside}}
    - id: W1
      main: yes
      kind: ball
      stands: closed
      from: W0
      place: {room: util, where: by the door}
fixtures:
  - id: lav
    kind: lavatory
    name: Basin
    place: {room: bath}
    cold: {from: W1, stop: {id: S1, kind: angle stop}}
  - {id: tap, kind: hose bibb, name: Tap, place: {level: outside}, cold: {from: W1, stop: none}}
safeguards:
  sensors: [{id: L1, watches: [lav], does: [sounds], place: {room: bath}}]
"""


@pytest.fixture(scope="module")
def house() -> House:
    return build(read_text(CLOSED, "house.yaml", Record), Path())


def page(house: House, name: str) -> Page:
    return next(page for part in book(house).parts for page in part.pages if page.id == name)


@pytest.mark.parametrize("name", ["if_water-low", "if_water-outside", "if_alarm", "if_frozen"])
def test_a_closed_main_is_named_as_what_keeps_the_water_away(house: House, name: str) -> None:
    said = " ".join(read(page(house, name)).lines)
    assert "no shutoff is recorded" not in said
    assert "W1 is recorded as closed: see that it is" in said


def test_where_water_comes_all_the_same_the_next_valve_is_named(house: House) -> None:
    lines = read(page(house, "if_water-outside")).lines
    assert "W0" in lines
    assert any("by the door" in line for line in lines)
