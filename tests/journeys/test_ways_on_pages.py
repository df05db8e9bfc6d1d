"""Water through a ceiling or wall, and the way there, as a reader of the pages gets them."""

import re
from pathlib import Path

import pytest
from plain_reading import read
from situation_houses import FIFTEEN_LINES
from situation_houses import house as made

from handbook.answers.isolating.ladder import cuts
from handbook.answers.route import route, said_far
from handbook.answers.through import through
from handbook.house.house import House
from handbook.loading import load
from handbook.output import paper
from handbook.output.photos import Photos
from handbook.pages.content import Book, Page, Para, Part, Table, Tag, plain
from handbook.pages.emergency import emergency_pages, situation_pages
from handbook.pages.parts.spills import freeze_page
from handbook.pages.sheet import emergency_sheet
from handbook.pages.things import thing_pages
from handbook.pages.through_pages import through_pages

EXAMPLE = Path(__file__).parents[2] / "example_house"


@pytest.fixture(scope="module")
def house() -> House:
    return load(EXAMPLE).house


def rows(page: Page) -> list[tuple[str, list[str], str]]:
    """For each row: the rooms in words, the tags to close, where to look."""
    (table,) = (block for block in page.blocks if isinstance(block, Table))
    return [
        (plain(row[0]), [span.id for span in row[1] if isinstance(span, Tag)], plain(row[2]))
        for row in table.rows
    ]


def test_every_room_with_something_above_has_its_row_with_valves_that_stop_it(
    house: House,
) -> None:
    for sign in ("ceiling", "wall"):
        said = [row for page in through_pages(house, sign) for row in rows(page)]
        for room, (entry, _) in house.places.rooms.items():
            answer = through(house, room, sign)
            if answer.unsure or entry.name == "Stairs":
                continue
            level = house.places.rooms[room][1].id
            (page,) = (p for p in through_pages(house, sign) if p.id.endswith(f"-{level}"))
            name = entry.name.lower()
            mine = [row for row in rows(page) if re.search(rf"(?i)\b{name}( \(|,| and|$)", row[0])]
            assert len(mine) == 1, (room, sign)
            targets = frozenset(
                node
                for suspect in answer.suspects
                if suspect.kind in ("fixture", "equipment")
                for node in house.water.bodies.get(suspect.id, ())
            )
            assert cuts(house.water.network, targets, mine[0][1]), (room, sign)
        assert said[-1][0] == "Anywhere else, or if it still runs"


def test_after_where_it_is_a_row_says_how_far_and_how_long_the_walks_are(house: House) -> None:
    (page,) = (p for p in through_pages(house, "ceiling") if p.id.endswith("-main"))
    feet = max(route(house, "dining", valve).distance_ft or 0 for valve in ("W16", "W17"))
    (table,) = (block for block in page.blocks if isinstance(block, Table))
    (row,) = (row for row in table.rows if "Dining room" in plain(row[0]))
    # from the kitchen 45 ft; from the dining room W17 is the farther one: 49.6 ft; the times, of
    # 18.2 s at most, are rounded up to fives
    assert plain(row[0]) == "Dining room and kitchen"
    assert f". Walk: 45 to {said_far(feet, 'US')}, 20 s; up to " in plain(row[1])


def test_in_doubt_the_main_comes_first_on_the_sheet_and_wherever_less_is_closed(
    house: House,
) -> None:
    main = house.water.mains[0]
    says = f"In doubt, {main} first: it stops all of it."
    for page in through_pages(house):
        less = any(main not in tags for _, tags, _ in rows(page)[:-1] if tags)
        said = " ".join(plain(b.line) for b in page.blocks if isinstance(b, Para))
        assert (says in said) == less, page.id
    notes = [plain(step.note or ()) for band in emergency_sheet(house).bands for step in band.steps]
    indoors = says.replace("it.", "it indoors.")  # what the lawn draws runs on
    assert any(indoors in note for note in notes)
    (water,) = (page for page in emergency_pages(house) if page.id == "if_water")
    assert indoors in read(water).text


def test_nothing_that_is_not_known_is_given_a_red_page() -> None:
    assert through_pages(made(FIFTEEN_LINES)) == ()


def test_each_red_page_of_the_example_is_one_sheet(house: House, tmp_path: Path) -> None:
    pages = (*emergency_pages(house), *situation_pages(house), *freeze_page(house))
    assert all(page in pages for page in through_pages(house))
    book = Book("Handbook", house.record.house.name, (), (Part("red", "Now", pages),))
    printed = paper.book_pdf(book, Photos(EXAMPLE), tmp_path / "red.pdf")
    assert not [warning for warning in printed.warnings if "Water through" in warning]


def test_a_valves_page_tells_the_way_from_each_room_that_it_serves(house: House) -> None:
    pages = {page.id: page for page in thing_pages(house)}
    said = [plain(block.line) for block in pages["W30"].blocks if isinstance(block, Para)]
    answer = route(house, "hall-bath", "W30")
    told = f"{answer.way} There: {answer.standing}."
    assert f"Hall bath: 12 ft, about 5 seconds. {told}" in said
    for room in ("Kitchen", "Powder room", "Hall bath", "Primary bath", "Laundry room"):
        assert any(
            plain(b.line).startswith(f"{room}: ") for b in pages["W5"].blocks if isinstance(b, Para)
        )
