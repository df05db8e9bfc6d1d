"""Looking after the house: what is due how often, for whom, with the source of each interval."""

from handbook.answers.care import Chore, care
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
from handbook.pages.parts.phrases import NOT_RECORDED, day, joined, table

_YOU = "you"
MOST_NAMED = 12
"""More than this are not named one by one: only valves are so many, and they have their list."""


def care_part(house: House) -> tuple[Part, ...]:
    """Return the part on care; none where nothing recorded asks for any."""
    chores = care(house)
    whose = list(dict.fromkeys((_YOU, *(chore.who for chore in chores))))
    pages = [_page(house, who, [chore for chore in chores if chore.who == who]) for who in whose]
    made = [page for page in pages if page.blocks]
    made += _notes(house)
    if not made:
        return ()
    return (Part("care_part", "Care", (*made, *_sources(chores))),)


def _page(house: House, who: str, chores: list[Chore]) -> Page:
    rows = [
        (
            (chore.title,),
            (often(chore),),
            (f"{chore.do} {chore.why}",),
            things(house, chore),
            (_when(chore),),
        )
        for chore in chores
    ]
    head = ("What", "How often", "How, and why", "Which", "Last done, next due")
    title = "What you look after" if who == _YOU else f"For the {who}"
    blocks = table("The most frequent first", head, rows, (2, 1.4, 3.8, 1.8, 1.6))
    return Page("care_" + who.replace(" ", "_"), title, blocks)


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
        return (f"all {len(lines)} of them, in the ", Go("valve_schedule", "valve schedule"))
    return joined(lines) or ("wherever they are",)


def _when(chore: Chore) -> str:
    if chore.last is None or chore.due is None:
        return f"last done: {NOT_RECORDED}"
    return f"{day(chore.last)}; next {day(chore.due)}"


def _sources(chores: tuple[Chore, ...]) -> tuple[Page, ...]:
    found: dict[str, list[str]] = {}
    for chore in chores:
        found.setdefault(chore.source, []).append(chore.title)
    lines = tuple((f"{source}: {'; '.join(titles)}.",) for source, titles in found.items())
    text = "The maker's own manual takes precedence over every one of these."
    blocks: tuple[Block, ...] = (Para((text,)), Bullets(lines))
    return (Page("care_sources", "Where these intervals come from", blocks),) if lines else ()


def _notes(house: House) -> list[Page]:
    notes = [note for note in house.record.notes or () if note.part == "care"]
    blocks: list[Block] = []
    for note in notes:
        blocks += (SubHead(note.title), HouseNote(note.text))
    return [Page("care_notes", "Notes on care", tuple(blocks))] if blocks else []
