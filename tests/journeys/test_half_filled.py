"""A half-filled record still makes a true and readable book."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import pytest
from plain_reading import read

from handbook.house.house import House, build
from handbook.output import paper
from handbook.output.photos import Photos
from handbook.pages.book import book
from handbook.pages.content import Book, Facts, Page, Part, Table
from handbook.pages.parts.gas_left import left_for_later
from handbook.pages.parts.holes import holes
from handbook.pages.parts.phrases import within
from handbook.pages.tags import tag_sheet
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


TWO_LEVELS = """
format: 1
house: {name: Two levels half known}
people: [{role: licensed plumber, phone: 555-0142}, {role: water utility, phone: 555-0143}]
levels:
  - id: low
    name: Lower level
    elevation: -9 ft
    rooms:
      - id: util
        name: Utility room
        outline: [[0 ft, 0 ft], [9 ft, 0 ft], [9 ft, 9 ft], [0 ft, 9 ft]]
      - {id: den, name: Den}
  - {id: main, name: Main floor, elevation: 0 ft, rooms: [{id: bath, name: Bath}]}
water:
  meter: {id: M1, name: Water meter, from: W0}
  valves:
    - {id: W0, name: Curb stop, utility: yes, from: street}
    - id: W1
      name: Main shutoff
      main: yes
      kind: ball
      from: M1
      place: {room: util, where: front wall}
fixtures:
  - {id: wc, kind: water closet, name: Toilet, place: {room: bath}, cold: {from: W1}}
  - {id: lav, kind: lavatory, name: Sink, place: {room: bath}, cold: {from: W1}}
"""


MANY_DRAINS = """
format: 1
house: {name: Drains half known}
people: [{role: licensed plumber, phone: 555-0142, after_hours: 555-0143}]
levels: [{id: main, name: Main floor, rooms: [{id: hall, name: Hall}]}]
water:
  valves: [{id: W1, name: Main shutoff, main: yes, kind: ball, from: street, place: {room: hall}}]
fixtures:
  - {id: dw, kind: dishwasher, name: Dishwasher}
  - {id: box, kind: laundry box, name: "Washer, utility room"}
heaters: [{id: WH, name: Water heater, cold: {from: W1}}]
drains: {cleanouts: [{id: C1, name: Front}, {id: C2, name: Back}, {id: C3, name: Stack}]}
"""


def house_of(text: str) -> House:
    return build(read_text(text, "house.yaml", Record), Path())


def pages_of(house: House) -> dict[str, Page]:
    return {page.id: page for part in book(house).parts for page in part.pages}


@pytest.fixture(scope="module")
def two_levels() -> dict[str, Page]:
    return pages_of(house_of(TWO_LEVELS))


@pytest.fixture(scope="module")
def pages() -> dict[str, Page]:
    return pages_of(house_of(HALF))


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


def test_no_page_shows_the_key_of_a_record(pages: dict[str, Page]) -> None:
    assert [name for name, page in pages.items() if "`" in said(page)] == []


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


def test_no_page_of_maps_is_printed_without_a_map(
    pages: dict[str, Page], two_levels: dict[str, Page]
) -> None:
    """In the one no room has an outline, in the other one has, and no valve has a point."""
    assert "shutoff_maps" not in pages
    assert "shutoff_maps" not in two_levels


def test_a_valve_without_a_place_says_that_its_place_is_not_recorded(
    pages: dict[str, Page],
) -> None:
    assert "Curb stop . Where it is: not recorded." in said(pages["in_a_minute"])


def tables(page: Page) -> list[list[str]]:
    found = [block for block in page.blocks if isinstance(block, Table)]
    return [[" ".join(words(row)) for row in table.rows] for table in found]


def test_what_follows_the_main_is_not_the_main_again(two_levels: dict[str, Page]) -> None:
    """All that is above the lower level hangs on W1; no other valve of the house follows it."""
    page = two_levels["if_ceiling-low"]
    assert [row.count("W1") for row in tables(page)[0]] == [1]
    assert "If it still runs, see " in said(page)


def test_a_main_farther_out_follows_the_one_inside() -> None:
    outdoors = "    - {id: W2, name: Garden main, main: yes, from: M1}\n"
    outer = TWO_LEVELS.replace("      from: M1", "      from: W2")
    outer = outer.replace("    - {id: W0", f"{outdoors}    - {{id: W0")
    rows = tables(pages_of(house_of(outer))["if_ceiling-low"])[0]
    assert ["W1" in row for row in rows] == [True, False]
    assert "W2" in rows[1]


def test_before_the_utility_is_called_the_main_is_closed(two_levels: dict[str, Page]) -> None:
    """Common practice, no source: the pipe ahead of the main is for the utility to stop."""
    row = " ".join(tables(two_levels["if_wall-low"])[0][0].split())
    assert "W1 . Front wall. If it still runs: Call the water company: 555-0143" in row
    assert row.index("W1") < row.index("W0")


def test_the_tag_of_a_meter_does_not_send_to_a_valve_behind_it() -> None:
    """Water that leaves the meter is stopped ahead of it or not at all."""
    loose = TWO_LEVELS.replace("name: Water meter, from: W0", "name: Water meter")
    for house in map(house_of, (TWO_LEVELS, loose, HALF)):
        meter = next(card for card in tag_sheet(house).cards if card.name == "Water meter")
        assert meter.turn == "If it leaks: call the water utility."


def test_each_red_page_of_drains_half_known_is_one_sheet(tmp_path: Path) -> None:
    red = next(part for part in book(house_of(MANY_DRAINS)).parts if part.id == "emergency_part")
    linked = Book("Handbook", "Half", (), (red, *_targets(red)))
    assert paper.book_pdf(linked, Photos(tmp_path), tmp_path / "red.pdf").warnings == ()


def _targets(red: Part) -> tuple[Part, ...]:
    """The pages that the red ones lead to, without their content."""
    rest = [part for part in book(house_of(MANY_DRAINS)).parts if part.id != red.id]
    bare = [replace(page, blocks=()) for part in rest for page in part.pages]
    return (Part("rest", "The rest", tuple(bare)),)


def test_the_valve_to_close_instead_is_another_one() -> None:
    """The only recorded valve of this heater is the main."""
    for text, instead in ((MANY_DRAINS, False), (heater_with_a_stop(), True)):
        page = read(pages_of(house_of(text))["if_heater-leaks"])
        assert ("If spray is in the way, close" in page.text) == instead


def heater_with_a_stop() -> str:
    stop = "cold: {from: W1, stop: {id: W9, name: Heater shutoff, kind: ball}}"
    return MANY_DRAINS.replace("cold: {from: W1}", stop)


UNSAID = """
format: 1
house: {name: Not all said}
water: {equipment: [{id: PRV, kind: pressure-reducing valve, from: street}]}
drains: {stretches: [{id: D1, kind: building drain}]}
gas:
  fuel: natural gas
  outlets: none
  meter: {id: GM}
  appliances:
    - {id: FU, kind: furnace, gas: {from: GM}}
    - {id: GR, kind: grill, gas: {from: GM}}
heaters: [{id: WH, kind: storage, fuel: natural gas}]
"""


def test_what_is_not_recorded_names_bonding_inverts_flues_and_models() -> None:
    of = {"".join(words(name)): facts for name, facts in holes(house_of(UNSAID))}
    assert "how the gas pipe is bonded" in of["The house"]
    missing = {
        tag: facts
        for name, facts in of.items()
        for tag in ("PRV", "D1", "FU", "GR", "WH")
        if tag in name.split() or name.startswith(tag)
    }
    assert "its model" in missing["PRV"]
    assert "where its flue ends" in missing["WH"]
    assert sum("where its flue ends" in facts for facts in of.values()) == 2  # not the grill's
    assert sum("how high it begins (its invert)" in facts for facts in of.values()) == 1


def test_outlets_for_later_that_were_looked_for_are_not_said_to_be_unrecorded() -> None:
    said_of = " ".join(words(left_for_later(house_of(UNSAID))))
    assert "Outlets for later: none (looked)." in said_of
    unsaid = UNSAID.replace("  outlets: none\n", "")
    assert "No outlet for later is recorded." in " ".join(words(left_for_later(house_of(unsaid))))


CALLED = """
format: 1
house: {name: Few numbers}
people:
  - {role: licensed plumber, phone: 555-0142}
  - {role: insurer, phone: none}
gas: none
"""


def test_the_holes_name_everybody_whose_number_the_page_of_numbers_lacks() -> None:
    """The gas company is not asked for: the house has no gas. `none` is no hole."""
    house = house_of(CALLED)
    (facts,) = (
        block for block in pages_of(house)["whom_to_call"].blocks if isinstance(block, Facts)
    )
    lacking = [
        " ".join(words(label)) for label, told in facts.rows if "not recorded" in words(told)
    ]
    (missing,) = (facts for of, facts in holes(house) if of == ("Phone numbers",))
    plain = [name.removeprefix("the ").removeprefix("a ") for name in missing]
    assert plain == [name.lower() for name in lacking]
    assert "electrician" in " ".join(plain)
    assert not {"gas company", "insurer", "licensed plumber"} & set(plain)


@pytest.mark.parametrize(
    ("place", "said"),
    [
        ("{room: bath}", "in it; no spot recorded"),
        ("{room: bath, at: [2 ft, 3 ft]}", "in it, at its point on the plan"),
        ("{room: bath, where: left of the door}", "Left of the door"),
    ],
)
def test_a_thing_with_a_point_has_a_spot(place: str, said: str) -> None:
    text = HALF.replace("place: {room: bath}", f"place: {place}")
    house = house_of(text)
    assert within(house, house.items["wc"], room=True) == said
