"""Looking after the house: what is due how often, for whom, with the source of each interval."""

from handbook.answers.care import FROM_MEMORY, Chore, care
from handbook.house.house import House
from handbook.pages.content import (
    Block,
    Bullets,
    Go,
    HouseNote,
    Line,
    Page,
    Para,
    Part,
    SubHead,
    Tag,
)
from handbook.pages.parts.phrases import day, joined, table
from handbook.pages.parts.spills import freeze_page
from handbook.tables import table as published

_YOU = "you"
_PRACTICE = "common practice"
WORKED = {"exercise_valves": "water shutoffs", "exercise_stops": "stops at fixtures"}
"""What valves are called that are worked by hand, the same where they are counted and listed."""
MOST_NAMED = 12
"""More than this are not named one by one: only valves are so many, and they have their list."""


def care_part(house: House) -> tuple[Part, ...]:
    """Return the part on care; none where nothing recorded asks for any."""
    chores = care(house)
    own = [chore for chore in chores if chore.who == _YOU]
    pages = (
        *_page("care_yours", "What you look after", _table(house, own, "The most frequent first")),
        *_page("care_others", "What others look after", _others(house, chores)),
        *_page("care_notes", "Notes on care", _notes(house)),
        *freeze_page(house),
        *_page("care_sources", "Where these intervals come from", _sources(chores)),
    )
    return (Part("care_part", "Care", pages),) if pages else ()


def _page(name: str, title: str, blocks: tuple[Block, ...]) -> tuple[Page, ...]:
    return (Page(name, title, blocks),) if blocks else ()


def _others(house: House, chores: tuple[Chore, ...]) -> tuple[Block, ...]:
    """Return a table for each trade."""
    trades = dict.fromkeys(chore.who for chore in chores if chore.who != _YOU)
    return tuple(
        block
        for trade in trades
        for block in _table(house, [c for c in chores if c.who == trade], _called(trade))
    )


def _called(trade: str) -> str:
    """Return a trade as a caption, by the name that it has beside its number."""
    called: str = published("whom").values["called"].get(trade, trade)
    return "The " + called.removeprefix("the ").removeprefix("a ")


def _table(house: House, chores: list[Chore], caption: str) -> tuple[Block, ...]:
    rows = [
        (
            (chore.title,),
            (often(chore),),
            (f"{chore.do} {chore.why}{_when(chore)}",),
            things(house, chore),
        )
        for chore in chores
    ]
    head = ("What", "How often", "How, and why", "Which")
    return table(caption, head, rows, (2, 1.5, 4.4, 1.9))


def often(chore: Chore) -> str:
    """Return the interval in words, with the season where it matters."""
    months = chore.every_months
    words = {1: "every month", 12: "every year"}.get(months)
    if words is None:
        words = f"every {months // 12} years" if months % 12 == 0 else f"every {months} months"
    return f"{words}, {chore.season}" if chore.season else words


def things(house: House, chore: Chore) -> Line:
    """Return what a chore is done to: tags, and names for what has none."""
    lines: list[Line] = []
    for thing in chore.things:
        item = house.items[thing]
        lines.append((Tag(thing),) if item.tagged else (item.name,))
    if len(lines) > MOST_NAMED:
        of = " ".join(("all", str(len(lines)), WORKED.get(chore.key, "valves"), "of the "))
        return (of, Go("valve_schedule", "valve schedule"))
    return joined(lines) or ("wherever they are",)


def _when(chore: Chore) -> str:
    """Return when it was last done and is next due, where the record says so."""
    if chore.last is None or chore.due is None:
        return ""
    return f" Last done {day(chore.last)}; next due {day(chore.due)}."


def _sources(chores: tuple[Chore, ...]) -> tuple[Block, ...]:
    """Return what is published for each interval; the rest is the trade's common practice."""
    if not chores:
        return ()
    found: dict[str, list[str]] = {}
    for chore in chores:
        if not chore.source.startswith(_PRACTICE):
            found.setdefault(chore.source, []).append(chore.title)
    lines = tuple((f"{source}: {'; '.join(titles)}.",) for source, titles in found.items())
    text = "The maker's own manual takes precedence over every interval here. "
    rest = "All others are common practice, without a published source."
    memory = ""
    if any(FROM_MEMORY in source for source in found):
        memory = " Stated from memory: written down without the source at hand."
    return (Para((text, rest, memory)), *((Bullets(lines),) if lines else ()))


def _notes(house: House) -> tuple[Block, ...]:
    blocks: list[Block] = []
    for note in house.record.notes or ():
        if note.part == "care":
            blocks += (SubHead(note.title), HouseNote(note.text))
    return tuple(blocks)
