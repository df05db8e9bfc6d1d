"""Where the book sends a plumber who looks for a cleanout: to its own tapes, and to the list."""

import pytest

from handbook import assets, load
from handbook.answers.ties import ties
from handbook.house.house import House
from handbook.pages.book import book
from handbook.pages.content import Go, Page, Para, Table


@pytest.fixture(scope="module")
def home() -> House:
    return load(assets.example_house()).house


def links(page: Page) -> list[Go]:
    lines = (block.line for block in page.blocks if isinstance(block, Para))
    found = (span for line in lines for span in line if isinstance(span, Go))
    return [go for go in found if go.page == "cleanout_list"]


def test_each_cleanouts_page_leads_to_the_row_with_its_tapes_and_to_the_list(home: House) -> None:
    pages = {page.id: page for page in book(home).pages}
    tables = [b for b in pages["cleanout_list"].blocks if isinstance(b, Table) and b.marks]
    rows = {mark for shown in tables for mark in shown.marks}
    taped = [name for name in home.drains.cleanouts if ties(home, name).ties]
    assert rows == {f"tapes_{name}" for name in taped}
    for name in taped:
        found = [(go.page, go.spot) for go in links(pages[name])]
        assert found == [("cleanout_list", f"tapes_{name}"), ("cleanout_list", "")]


def test_the_page_at_a_glance_leads_to_the_first_cleanout_to_try_and_its_tapes(home: House) -> None:
    (page,) = (page for page in book(home).pages if page.id == "at_a_glance")
    assert [go.spot for go in links(page)] == ["", "tapes_C1"]
