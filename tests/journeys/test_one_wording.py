"""The book calls a thing by one name, and in words of the person who holds the paper."""

import re
from functools import cache

from plain_reading import read

from handbook import assets, load
from handbook.pages.book import book


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
