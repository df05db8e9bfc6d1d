"""Text of the record and of the tables, made into the sentences of a page."""

import re
from collections.abc import Iterable

from handbook.house import items
from handbook.house.house import House
from handbook.record.grammar.common import Ending
from handbook.record.knowing import Absent
from handbook.tables import table


def bare(text: str) -> str:
    """A text for the middle or the end of a sentence: on one line, without its own full stop."""
    return " ".join(text.split()).rstrip(".;,: ")


def sentences(*texts: str | None) -> str:
    """Parts set apart by semicolons, as sentences: "turn it; wait" becomes "Turn it. Wait."."""
    parts = [part for text in texts if text for part in bare(text).split("; ")]
    return " ".join(f"{part[:1].upper()}{part[1:]}." for part in parts if part)


def lower(name: str) -> str:
    """A name as it stands inside a sentence; `HB1 tap` and the like keep their capitals."""
    return items.lower(name)


def keyless(said: str) -> str:
    """A fact that is not recorded, without the key under which a record would hold it."""
    return re.sub(r" ?\((?:record )?`[^)]*\)", "", said)


def capital(text: str) -> str:
    """A text that begins a line: its first letter as a capital, the rest as it is."""
    return text[:1].upper() + text[1:]


def plainly(kind: str) -> str:
    """A kind in plain words, the trade's in brackets: `small valve (angle stop)`."""
    plain: str | None = table("plain_names").values.get(kind)
    return f"{plain} ({kind})" if plain else kind


def listed(words: Iterable[str], joint: str = "and") -> str:
    """Words in a row: `a`, `a and b`, `a, b and c`."""
    said = list(words)
    return f" {joint} ".join(filter(None, [", ".join(said[:-1]), *said[-1:]]))


def ending(house: House, end: Ending | Absent | None) -> str:
    """Where a drain ends, in words; `not recorded`, or that there is none."""
    if isinstance(end, Absent):
        return "none"
    if end is None:
        return "not recorded"
    said = [_over(house, end), end.where, house.places.say(end.place)]
    return bare("; ".join(word for word in said if word)) or "not recorded"


def _over(house: House, end: Ending) -> str | None:
    """What it ends over: a thing with a tag by its tag, another by its name, else in general."""
    if end.drain is None:
        return end.to
    item = house.items[end.drain]
    return house.called(item.id) if item.tagged else lower(item.name)


def situation(name: str) -> str:
    """The id of a situation's page; its underscore keeps it apart from any id of a record."""
    return f"if_{name}"
