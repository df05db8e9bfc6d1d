"""How a fact is put into words on a page: recorded, confirmed absent, or not recorded.

Nothing is left blank and nothing is guessed: `none` is printed as "none (looked)", a hole as "not
recorded".
"""

from collections.abc import Callable, Iterable
from datetime import date
from typing import TypeVar

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import (
    Block,
    Bullets,
    Line,
    Para,
    Span,
    Table,
    Tag,
    plain,
)
from handbook.pages.words import bare, listed, lower, sentences
from handbook.record.entry import Entry
from handbook.record.grammar.common import Seen
from handbook.record.ids import STREET
from handbook.record.knowing import Absent

T = TypeVar("T")
Rows = tuple[tuple[str, Line], ...]

NOT_RECORDED = "not recorded"
NONE = "none (looked)"
HOLE = "n/r"
"""What stands in a narrow column for what is not recorded; the caption says so."""

NOTHING = "-"
"""What stands in a cell that has nothing to say; the caption says so."""

_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_HOW = {
    "walked": "seen on the walk",
    "drawing": "read off a drawing",
    "told": "told",
    "photo": "seen in a photo",
}


def said(fact: T | Absent | None, say: Callable[[T], str] = str, hole: str = NOT_RECORDED) -> str:
    """Return a fact in words, whichever of the three kinds of knowing it is."""
    if fact is None:
        return hole
    return NONE if isinstance(fact, Absent) else say(fact)


def day(when: date) -> str:
    """Return `April 10, 2026`, whatever the machine's own language."""
    return f"{_MONTHS[when.month - 1]} {when.day}, {when.year}"


def yes_no(fact: bool) -> str:
    """Return `yes` or `no`."""
    return "yes" if fact else "no"


def established(seen: Seen | None, tested: str = "turned or tried") -> str:
    """Return how a fact is known: `turned or tried by superintendent, April 10, 2026`; `tested` is
    what one does to such a thing to test it."""
    if seen is None:
        return NOT_RECORDED
    how = tested if seen.how == "tested" else _HOW[seen.how] if seen.how else "seen"
    by = f" by {seen.by}" if seen.by else ""
    unseen = ", not seen" if seen.how == "told" else ""
    return f"{how}{by}{unseen}, {day(seen.on) if seen.on else 'day not recorded'}"


def sentence(words: str) -> str:
    """Return words as one sentence, lists with semicolons in them left whole."""
    words = bare(words)
    return f"{words[:1].upper()}{words[1:]}."


def told(words: str) -> str:
    """Return a recorded text as sentences; a hole, or `none`, as the two words that it is."""
    return words if words in (NOT_RECORDED, NONE) else sentences(words)


def several(words: Iterable[str]) -> str:
    """Return words in a row; semicolons where one of them has a comma in it: `sink, bath; tub`."""
    said = list(words)
    return "; ".join(said) if any("," in word for word in said) else listed(said)


def lost(words: Iterable[str]) -> str:
    """Return what is shut off, as it stands inside a sentence; names without their capital."""
    return several(" to: ".join(lower(part) for part in word.split(" to: ")) for word in words)


def joined(lines: Iterable[Line], between: str = ", ") -> Line:
    """Return several lines as one."""
    spans: list[Span] = []
    for number, line in enumerate(lines):
        spans += ([between] if number else []) + list(line)
    return tuple(spans)


def called(house: House, thing: str | None) -> Line:
    """Return how a page points at a thing: its tag and name, or the name alone without a tag."""
    if thing is None:
        return (NOT_RECORDED,)
    if thing == STREET:
        return ("the street",)
    item = house.items.get(thing)
    if item is None:
        return (thing,)
    return (Tag(item.id, item.name),) if item.tagged else (item.name,)


def short(house: House, thing: str | None, hole: str = NOT_RECORDED) -> Line:
    """Return a thing for a dense table: its id, linked where it has a page; a fixture's name."""
    if thing is None:
        return (hole,)
    if thing == STREET:
        return ("street",)
    item = house.items.get(thing)
    if item is None:
        return (house.places.rooms[thing][0].name if thing in house.places.rooms else thing,)
    return (item.name,) if item.system == "fixture" else (Tag(thing),)


def all_called(house: House, things: Iterable[str] | None) -> Line:
    """Return several things, named; `not recorded` for None."""
    if things is None:
        return (NOT_RECORDED,)
    lines = [called(house, thing) for thing in things]
    between = "; " if any("," in plain(line) for line in lines) else ", "
    return joined(lines, between) or (NONE,)


def thing_line(house: House, thing: Entry | Absent | None) -> Line:
    """Return a thing by its tag and name, or which kind of hole stands in its place."""
    name = getattr(thing, "id", None)
    return called(house, name) if name else (said(thing),)


def where(house: House, thing: str) -> str:
    """Return the place of a thing in words, or that it is not recorded."""
    return house.where(thing) or NOT_RECORDED


def within(house: House, item: Item, *, room: bool = False) -> str:
    """Return its place where the heading has said the level, and with `room` the room too."""
    if item.place is None:
        return NOT_RECORDED
    there = house.places.say_there(item.place)
    if not room and house.places.level_id(item.place) in house.places.levels:
        name = house.places.room_name(item.place)
        return "; ".join(word for word in (name, lower(there or "")) if word) or NOT_RECORDED
    return there or (
        "in it, at its point on the plan" if item.place.at else "in it; no spot recorded"
    )


def checked(house: House, items: Iterable[Item]) -> tuple[Block, ...]:
    """Return in a line how several things are known; which, where they differ."""
    groups: dict[str, list[Line]] = {}
    for item in items:
        words = established(getattr(item.entry, "seen", None))
        groups.setdefault(words, []).append(short(house, item.id))
    if len(groups) < 2:
        return tuple(Para((f"Checked: all {words}.",)) for words in groups)
    return (
        Bullets(
            tuple((f"Checked, {words}: ", *joined(things)) for words, things in groups.items())
        ),
    )


def table(
    caption: str,
    head: tuple[str, ...],
    rows: Iterable[tuple[Line, ...]],
    widths: tuple[float, ...] = (),
    tagged: bool = False,
) -> tuple[Block, ...]:
    """Return the table, or nothing at all where it would have no rows; its caption tells what
    its cells are short for."""
    filled = tuple(rows)
    return (Table(_keyed(caption, filled), head, filled, widths, tagged),) if filled else ()


def _keyed(caption: str, rows: tuple[tuple[Line, ...], ...]) -> str:
    """Return a caption with the key to the short words that stand in its cells, if any do."""
    cells = [plain(cell) for row in rows for cell in row]
    keys = [f"{HOLE}: {NOT_RECORDED}"] if any(HOLE in cell for cell in cells) else []
    keys += [f"{NOTHING}: none"] if NOTHING in cells else []
    if not keys:
        return caption
    head, more = (caption[:-1], "; ") if caption.endswith(")") else (caption, " (")
    return f"{head}{more}{'; '.join(keys)})"
