"""The tags: a card for each thing that can be touched, and what its code says.

The code leads to the thing's page where the record says where the pages are hosted. Where it does
not, the code is itself the instruction, in the capitals that a QR code packs tightest.
"""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from typing import cast

from handbook.answers.serves import stops
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.once import once
from handbook.pages.content import Kind, TagCard, TagSheet, plain
from handbook.pages.parts.phrases import NOT_RECORDED
from handbook.pages.parts.tag_besides import besides, spare
from handbook.pages.parts.tersely import action, one_line
from handbook.pages.parts.valve import handle_of, is_utilitys, what_it_stops
from handbook.pages.words import bare, sentences
from handbook.record.grammar.common import given
from handbook.tables import table

LONGEST = 110
"""Characters of an instruction: the most that a code of the tag's size prints large enough."""


LONGEST_PLACE = 90
"""Characters of a place on a card: two lines."""


@once
def tag_sheet(house: House) -> TagSheet:
    """Return the cards of all tagged things, in the order of the record."""
    facts = house.record.house
    cards = tuple(_card(house, item) for item in house.items.values() if item.tagged)
    recorded = facts.recorded.on if facts.recorded else None
    return TagSheet("Tags", facts.name, cards, recorded or facts.handover)


def _card(house: House, item: Item) -> TagCard:
    return TagCard(
        item.id,
        item.name,
        one_line(house, item),
        action(house, item),
        _place(house, item),
        payload(house, item),
        cast(Kind, item.system),
        besides(house, item),
        spare(house, item),
    )


def _place(house: House, item: Item) -> str:
    """Return where the tag belongs: the room, and of the words for it as much, up to a comma, as
    does not fill the card; the level goes before any of them."""
    room = house.places.room_and_level(item.place)
    there = (item.place.where if item.place else None) or ""
    if room is None:
        return sentences(there) if there else f"Place {NOT_RECORDED}"
    parts = re.split(r"(?<=[,;]) ", there)
    heads = (room, house.places.room_name(item.place) or room)
    tries = (f"{head}; {' '.join(parts[:n])}" for n in range(len(parts), 0, -1) for head in heads)
    fits = (words for words in tries if len(bare(words)) <= LONGEST_PLACE)
    return sentences(next(fits, room))


def payload(house: House, item: Item) -> str:
    """Return the address of the thing's page, or its instruction where no address is recorded."""
    address = given(house.record.house.pages_at)
    if address is None:
        return instruction(house, item)
    return f"{address.rstrip('/')}/{item.id.upper()}/"


def instruction(house: House, item: Item) -> str:
    """Return what to know at the thing in at most LONGEST characters of a QR code's alphabet.

    Where room is short, what it stops is cut to the first of it, and how much more there is; then
    the name goes. How it is turned stays.
    """
    label, words, last = _said(house, item)
    for text in _shorter(f"{item.id} {capitals(item.name)}".strip(), item.id, label, words, last):
        if len(text) <= LONGEST:
            return text
    return f"{item.id.upper()}. {last}"[:LONGEST].rstrip()


def _said(house: House, item: Item) -> tuple[str, list[str], str]:
    """Return the label, the parts and the action of an instruction, in capitals."""
    handle = handle_of(item)
    if handle is None:
        return "", [capitals(plain(one_line(house, item)))], capitals(action(house, item))
    several = item.system != "gas" and len(stops(house, item.id).said) > 1
    words = stops(house, item.id).said if several else (what_it_stops(house, item),)
    short = table("tag_words").values.get(handle.kind, handle.turn or f"how is {NOT_RECORDED}")
    if is_utilitys(house, item):
        short = f"the {item.system} utility only"
    close = capitals(f"close: {short}.")
    if item.system == "gas":
        close = capitals(f"smell gas: leave at once. only if told: {short}.")
    of, parts = _once(words)
    return f"STOPS: {capitals(of)}".rstrip() + " ", [capitals(part) for part in parts], close


def _once(words: Sequence[str]) -> tuple[str, list[str]]:
    """Return what all of these begin with, such as `cold water to:`, and their other words."""
    heads = {word.partition(": ")[0] if ": " in word else "" for word in words}
    of = heads.pop() if len(heads) == 1 else ""
    return (f"{of}:", [word.partition(": ")[2] for word in words]) if of else ("", list(words))


def _shorter(full: str, bare: str, label: str, words: list[str], last: str) -> Iterator[str]:
    """Yield the instruction from its longest form to its shortest."""
    for head in (full.upper(), bare.upper()):
        for count in range(len(words), 0, -1):
            more = f" + {len(words) - count} MORE" if count < len(words) else ""
            yield f"{head}. {label}{' + '.join(words[:count]).rstrip('.')}{more}. {last}"
    for head in (full.upper(), bare.upper()):
        if len(words) > 1:  # not one name fits: how many there are still does
            yield f"{head}. {label}{len(words)} IN ALL. {last}"
    for head in (full.upper(), bare.upper()):
        yield f"{head}. {last}"


def capitals(text: str) -> str:
    """Return text in the alphanumeric set of ISO/IEC 18004: capitals, figures, space $%*+-./:"""
    folded = unicodedata.normalize("NFKD", text.upper()).replace("&", " AND ")
    kept = re.sub(r"[^0-9A-Z $%*+\-./:]+", " ", re.sub("[\u0300-\u036f'\u2019]", "", folded))
    return re.sub(r" +", " ", kept).replace(" .", ".").strip()
