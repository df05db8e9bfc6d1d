"""A trade word on a homeowner's page is told there, in words and not by another trade word."""

from pathlib import Path

import pytest

from handbook import assets, load
from handbook.house.house import build
from handbook.pages.book import book
from handbook.pages.content import Page, Para, Part, Tag, Words, plain
from handbook.pages.trade_words import explained, letters, meanings
from handbook.record.grammar.record import Record
from handbook.tables import table

FOOT = "Words here: "


def foot(page: Page) -> str:
    last = page.blocks[-1]
    said = plain(last.line) if isinstance(last, Words) else ""
    return said.removeprefix(FOOT) if said.startswith(FOOT) else ""


@pytest.fixture(scope="module")
def pages() -> dict[str, Page]:
    return {page.id: page for page in book(load(assets.example_house()).house).pages}


def test_a_word_is_told_on_the_page_where_it_stands(pages: dict[str, Page]) -> None:
    assert "gpm: gallons a minute" in foot(pages["why_know_valves"])
    assert "in wc: inches of water" in foot(pages["gas_system"])


def test_the_plumbers_pages_keep_the_trades_words_to_themselves(pages: dict[str, Page]) -> None:
    assert foot(pages["water_pipe"]) == ""


def test_a_word_inside_a_longer_one_is_not_told() -> None:
    assert list(meanings("It has two sediment traps.")) == ["sediment trap"]
    assert list(meanings("The gpm-meter, the stacked stones and untrapped air.")) == []


def test_a_page_without_a_trade_word_stays_as_it_is() -> None:
    part = Part("p", "P", (Page("x", "X", (Para(("Turn it to the right.",)),)),))
    assert explained([part]) == (part,)


def test_no_meaning_needs_another_word_of_the_table() -> None:
    for word, meaning in table("trade_words").values.items():
        assert not meanings(meaning), word


def test_the_letters_of_tags_are_told_where_all_with_them_are_of_one_kind() -> None:
    tees = [{"id": f"T{n}", "from": "W1"} for n in (1, 2)]
    valves = [{"id": "W1", "from": "street"}]
    record = {"format": "1", "house": {"name": "X"}, "water": {"valves": valves, "tees": tees}}
    house = build(Record.model_validate(record), Path())
    shown = (Para((Tag("T1"), Tag("T2"), Tag("W1"))),)
    assert "T: tee." in plain(letters(house, shown))
    assert "W:" not in plain(letters(house, shown))  # a single one needs no rule
