"""A page's content as plain text and as what it leads to, whatever blocks it is made of."""

import dataclasses
import re
from collections.abc import Iterable, Iterator, Mapping

from handbook.pages.content import Block, Call, Go, Guide, Page, Strong, Tag, plain

SPAN = (str, Tag, Call, Strong, Go)


def lines(thing: object) -> Iterator[str]:
    """Every line of text; guides are others' words, filled and tested elsewhere."""
    if isinstance(thing, Guide):
        return
    if isinstance(thing, tuple) and thing and all(isinstance(part, SPAN) for part in thing):
        yield plain(thing)
    elif isinstance(thing, str):
        yield thing
    elif isinstance(thing, tuple):
        for part in thing:
            yield from lines(part)
    elif dataclasses.is_dataclass(thing):
        for field in dataclasses.fields(thing):
            yield from lines(getattr(thing, field.name))


def text(pages: Page | Iterable[Page]) -> str:
    chosen = [pages] if isinstance(pages, Page) else list(pages)
    return "\n".join(line for page in chosen for line in lines((page.title, page.blocks)))


def spans(thing: object, kind: type) -> Iterator[object]:
    """Every span of a kind, in blocks and in what guides are filled with."""
    if isinstance(thing, kind):
        yield thing
    elif isinstance(thing, Mapping):
        for part in thing.values():
            yield from spans(part, kind)
    elif isinstance(thing, tuple):
        for part in thing:
            yield from spans(part, kind)
    elif dataclasses.is_dataclass(thing):
        for field in dataclasses.fields(thing):
            yield from spans(getattr(thing, field.name), kind)


def blocks(pages: Iterable[Page], kind: type) -> list[Block]:
    return [block for page in pages for block in page.blocks if isinstance(block, kind)]


NUMBER = r"\d+(?:,\d{3})*(?:[ -]\d+/\d+|/\d+|\.\d+)?"
UNIT = "in per ft|in wc|ft|in|psi|gal|°F|°C|F|C|Btu/h|kW|gpm|L/min|mm/m|mm|m|L|kPa|bar|%"
QUANTITY = re.compile(rf"(?<![A-Za-z0-9,./-])({NUMBER}) ({UNIT})(?![A-Za-z0-9])")


def quantities(said: str) -> set[str]:
    """Every number with a unit of measure: `3/4 in`, `199,000 Btu/h`."""
    return {" ".join(match) for match in QUANTITY.findall(said)}
