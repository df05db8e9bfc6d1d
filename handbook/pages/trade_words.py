"""Words of the trade on a homeowner's page, told at its foot; and what the letters of tags mean."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from itertools import takewhile

from handbook.house.house import House
from handbook.pages.content import (
    Drawing,
    Go,
    Guide,
    HouseNote,
    Line,
    Map,
    MapRow,
    Page,
    Part,
    Photo,
    Profile,
    Signs,
    Strong,
    Tag,
    Words,
)
from handbook.pages.riser.content import Riser
from handbook.record.grammar.common import Handle
from handbook.record.grammar.drains import Stretch
from handbook.tables import table

_NOT_READ = Drawing | Guide | Map | MapRow | Profile | Riser | Signs | HouseNote | Go
"""What has words of its own that explain it, or words of others."""

SEVERAL = 2
"""So many tags with the same letters on a page are worth a word."""


def explained(parts: Iterable[Part]) -> tuple[Part, ...]:
    """Return parts with the trade's words of each page told at its foot; the page of a thing, and
    of a drawing, stay as they are."""
    return tuple(replace(part, pages=tuple(map(_with_words, part.pages))) for part in parts)


def _with_words(page: Page) -> Page:
    if page.tag or page.wide:
        return page
    told = meanings(" ".join(_texts(page.blocks)))
    if not told:
        return page
    said = "; ".join(f"{word}: {meaning}" for word, meaning in told.items())
    return replace(page, blocks=(*page.blocks, Words((Strong("Words here: "), f"{said}."))))


def meanings(text: str) -> dict[str, str]:
    """Return the trade's words that stand in a text, with what they mean."""
    known: dict[str, str] = table("trade_words").values
    found = {match.lower() for match in _pattern().findall(text)}
    return {word: meaning for word, meaning in known.items() if word.lower() in found}


@cache
def _pattern() -> re.Pattern[str]:
    """Longer words first, so that a sediment trap is no trap."""
    words = sorted(table("trade_words").values, key=len, reverse=True)
    told = "|".join(map(re.escape, words))
    return re.compile(rf"(?<![\w-])({told})s?(?![\w-])", re.IGNORECASE)


def _texts(thing: object) -> Iterator[str]:
    """Every text of a page's own blocks, as it is read."""
    if isinstance(thing, _NOT_READ):
        return
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, Photo):
        yield from _texts(thing.caption)
    elif isinstance(thing, tuple):
        for part in thing:
            yield from _texts(part)
    elif is_dataclass(thing):
        for field in fields(thing):
            yield from _texts(getattr(thing, field.name))


def letters(house: House, blocks: object) -> Line:
    """Return what the tags in some blocks are, by their first letters; empty where no two of them
    share any, or things of different kinds do."""
    kinds: dict[str, dict[str, set[str]]] = {}
    for tag in _tags(blocks):
        first = "".join(takewhile(str.isalpha, tag))
        kinds.setdefault(first, {}).setdefault(_kind(house, tag), set()).add(tag)
    by_kind: dict[str, list[str]] = {}
    for first, found in sorted(kinds.items()):
        (kind, tags), *others = found.items()
        if not others and len(tags) >= SEVERAL:
            by_kind.setdefault(kind, []).append(first)
    said = "; ".join(f"{', '.join(firsts)}: {kind}" for kind, firsts in by_kind.items())
    return ("The letters of a tag say what it is. ", said, ".") if said else ()


def _kind(house: House, tag: str) -> str:
    item = house.items[tag]
    if isinstance(item.entry, Stretch):
        return "drain"
    return "shutoff" if isinstance(item.entry, Handle) and item.system != "gas" else item.kind


def _tags(thing: object) -> Iterator[str]:
    if isinstance(thing, Tag):
        yield thing.id
    elif isinstance(thing, tuple):
        for part in thing:
            yield from _tags(part)
    elif is_dataclass(thing):
        for field in fields(thing):
            yield from _tags(getattr(thing, field.name))
