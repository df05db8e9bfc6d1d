"""From a house to everything that is made of it: the pages are composed, then written together."""

from collections.abc import Callable, Collection
from pathlib import Path

from handbook.house.house import House
from handbook.output.build import NAMES, Content, build
from handbook.pages.book import book
from handbook.pages.content import Site
from handbook.pages.sheet import emergency_sheet
from handbook.pages.tags import tag_sheet
from handbook.pages.things import thing_pages


def write_whole(
    house: House,
    out: Path,
    only: Collection[str] = NAMES,
    done: Callable[[str], None] = lambda name: None,
) -> tuple[str, ...]:
    """Write the outputs named in `only` into `out`; return warnings. Raises OutputError."""
    handbook = book(house)
    content = Content(
        handbook,
        emergency_sheet(house),
        tag_sheet(house),
        Site(handbook, thing_pages(house)),
        house.folder,
    )
    return build(content, out, only, done)
