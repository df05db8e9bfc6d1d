"""A half-filled record still makes a true and readable book."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path

import pytest

from handbook.house.house import House, build
from handbook.pages.book import book
from handbook.pages.content import Page
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text

HALF = """
format: 1
house: {name: Half a record}
people: [{role: licensed plumber, phone: 555-0142}]
levels: [{id: main, name: Main floor, rooms: [{id: bath, name: Bath}, {id: hall, name: Hall}]}]
water:
  meter: {id: WM, name: Water meter}
  valves:
    - {id: U1, name: Curb stop, utility: yes, from: WM}
    - {id: W1, name: Main shutoff, main: yes, kind: ball, from: PRV, place: {room: hall}}
  equipment: [{id: PRV, kind: pressure-reducing valve, from: U1}]
heaters: [{id: WH, name: Water heater, cold: {from: W1}}]
fixtures: [{id: wc, kind: water closet, name: Bath toilet, place: {room: bath}}]
drains: {cleanouts: [{id: C1, name: Front cleanout}]}
"""


@pytest.fixture(scope="module")
def pages() -> dict[str, Page]:
    house: House = build(read_text(HALF, "house.yaml", Record), Path())
    return {page.id: page for part in book(house).parts for page in part.pages}


def words(part: object) -> Iterator[str]:
    """Every text of a page, in its order."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple | list):
        for inner in part:
            yield from words(inner)
    elif is_dataclass(part):
        for field in fields(part):
            yield from words(getattr(part, field.name))


def said(page: Page) -> str:
    return " ".join(words(page))


def test_no_page_for_the_household_shows_the_key_of_a_record(pages: dict[str, Page]) -> None:
    assert [name for name, page in pages.items() if "`" in said(page)] == ["table_sources"]


def test_the_utilitys_valve_is_for_the_utility_to_close(pages: dict[str, Page]) -> None:
    """Common practice, no source: what stands before it is theirs, and so is the valve."""
    row = said(pages["if_water-elsewhere"])
    assert "Pressure-reducing valve U1 Call the water company" in " ".join(row.split())


def test_a_recorded_valve_of_the_utilitys_is_not_said_to_be_missing(pages: dict[str, Page]) -> None:
    assert "No valve of the utility is recorded" not in said(pages["U1"])


def test_a_fixture_whose_pipe_is_not_recorded_still_says_what_to_close(
    pages: dict[str, Page],
) -> None:
    assert "Bath toilet (what feeds it: not recorded) W1" in said(pages["room_bath"])


def test_a_cleanout_of_which_nothing_is_known_says_so_once(pages: dict[str, Page]) -> None:
    assert "not recorded; not recorded" not in said(pages["cleanout_list"])
