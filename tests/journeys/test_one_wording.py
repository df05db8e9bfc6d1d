"""The book calls a thing by one name, and in words of the person who holds the paper."""

import re
from functools import cache

from plain_reading import read

from handbook import assets, load
from handbook.answers.care import worked
from handbook.pages.book import book
from handbook.pages.content import Table, plain
from handbook.pages.parts.phrases import table
from handbook.pages.parts.valve import valves


@cache
def pages() -> dict[str, str]:
    """Each page of the example's book as its reader has it, title first."""
    made = book(load(assets.example_house()).house)
    return {
        page.id: f"{page.title}\n{read(page, assets.example_house()).text}" for page in made.pages
    }


def whole() -> str:
    return "\n".join(pages().values())


def test_the_breaker_panel_has_one_name() -> None:
    assert "Breaker panel" in pages()["in_a_minute"]
    assert not re.search("electrical panel", whole(), re.I)


def test_no_word_of_the_records_own_files_stands_on_a_page() -> None:
    assert "`" not in whole()


def test_where_a_source_was_not_read_itself_it_says_who_quotes_it() -> None:
    assert "secondary" not in whole()
    assert "Moritz and Henriques, as others quote it" in pages()["table_sources"]


def test_care_and_the_schedule_count_the_same_valves() -> None:
    example = load(assets.example_house()).house
    hands = worked(example)
    shutoffs, stops = len(hands["exercise_valves"]), len(hands["exercise_stops"])
    listed = len(valves(example))
    schedule, care = pages()["valve_schedule"], pages()["care_yours"]
    assert f"In all {listed}: {shutoffs} water shutoffs, {stops} stops at fixtures" in schedule
    assert f"all {shutoffs} water shutoffs of the valve schedule" in care
    assert f"all {stops} stops at fixtures of the valve schedule" in care
    # With the one that closes by itself, the water company's and the gas: none is left out.
    parts = [
        int(count) for count in re.findall(r"(\d+) \w", schedule.split("In all")[1].split(".")[0])
    ]
    assert sum(parts) == listed


def test_one_of_several_is_offered_with_or() -> None:
    assert re.search(r"Enough for one of these: [^.]* or [^.]*\.", pages()["gas_system"])


def test_the_time_of_day_is_said_by_twelve_hours() -> None:
    assert not re.search(r"\b(1[3-9]|2[0-3]):\d\d\b", whole())


def test_a_count_and_an_angle_do_not_stand_side_by_side() -> None:
    assert "3 ells of 90°" in pages()["water_pipe"]
    assert not re.search(r"\d \d+°", whole())


def test_who_looks_after_the_lawn_watering_has_one_name() -> None:
    assert "The lawn watering contractor" in pages()["care_others"]
    assert not re.search("landscape contractor|irrigation contractor", whole(), re.I)


def test_the_words_are_spelled_as_in_the_houses_own_country() -> None:
    """American spelling, as its units and its language are; common practice, no source."""
    british = (
        r"colour|grey|centre|metre|mould|licence|storey|organis|recognis|neighbour|labell|plough"
    )
    assert re.findall(british, whole(), re.I) == []


def test_a_table_tells_the_short_words_that_stand_in_it_and_no_other() -> None:
    rows = [(("a",), ("n/r",)), (("b",), ("2 ft",))]
    (short,) = table("Pipe", ("To", "Length"), rows)
    (plain_words,) = table("Pipe", ("To", "Length"), rows[1:])
    (both,) = table("Pipe (height: floor = 0)", ("To", "Length"), [*rows, (("c",), ("-",))])
    assert [it.caption for it in (short, plain_words, both)] == [
        "Pipe (n/r: not recorded)",
        "Pipe",
        "Pipe (height: floor = 0; n/r: not recorded; -: none)",
    ]


def test_the_signs_that_a_plumber_is_told_begin_with_a_capital() -> None:
    made = book(load(assets.example_house()).house)
    (page,) = (page for page in made.pages if page.id == "if_which-drains")
    (signs,) = (block for block in page.blocks if isinstance(block, Table))
    assert all(plain(row[0])[0].isupper() for row in signs.rows)


def test_a_tag_that_a_valve_counts_on_is_told_by_what_it_does() -> None:
    assert "This counts on CK1, which lets no water back" in pages()["W31"]
