"""What else stands in the drain line: backwater valves and ejectors, one by one; and how a drain
and a thing's place in it are said."""

from handbook.answers.draining.standing_waste import standing_words
from handbook.answers.serves import drained_through
from handbook.house.drains import BACKWATER, EJECTOR
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Line, Page, Para, Strong, plain
from handbook.pages.drain_groups import group_words
from handbook.pages.parts.order import walking
from handbook.pages.parts.own import own_blocks
from handbook.pages.parts.phrases import (
    NOT_RECORDED,
    Rows,
    established,
    joined,
    said,
    sentence,
    told,
    where,
)
from handbook.pages.words import capital, lower
from handbook.record.grammar.drains import Cleanout, DrainEquipment
from handbook.tables import table as published


def equipment_pages(house: House) -> tuple[Page, ...]:
    """Return the book's entry of each, in walking order; the plumber opens one before a cable."""
    all_of_them = (it for it in house.items.values() if isinstance(it.entry, DrainEquipment))
    return tuple(_page(house, item) for item in walking(house, all_of_them))


def _page(house: House, item: Item) -> Page:
    assert isinstance(item.entry, DrainEquipment)
    known = (
        ("Where", (told(where(house, item.id)),)),
        *equipment_facts(house, item.entry),
        ("Checked", (told(established(item.entry.seen)),)),
    )
    blocks = (*laid_out(known), *own_blocks(house, item, brief=True))
    return Page(item.id, item.name, blocks, reach(house, item), tag=item.id)


def equipment_facts(house: House, it: DrainEquipment) -> Rows:
    """Return what is recorded about a backwater valve or an ejector."""
    cable: Rows = ()
    diagnosis = published("drain_diagnosis").values
    if it.kind == EJECTOR:
        cable = (("Cable", (f"{capital(diagnosis['check'])}.",)),)
    if it.kind == BACKWATER:
        stands = standing_words(house, it.id)
        lid = f"{capital(diagnosis['lid'])}. {capital(stands)}{'.' if stands else ''}"
        cable = (("Its lid", (lid.strip(),)), ("Cable", (f"{capital(diagnosis['flap'])}.",)))
    return (
        ("Stands in", (stretch_name(house, it.on),)),
        ("Drains through it", (carries(house, it.on),)),
        ("Access", (told(said(it.access)),)),
        *cable,
    )


def laid_out(rows: Rows) -> tuple[Block, ...]:
    """Return facts as sentences, two in a line between the first and the last three, so that two
    things stand on a sheet of the book."""
    lines = [_told(label, said) for label, said in rows]
    last = max(len(lines) - 3, 1)
    pairs = (lines[number : min(number + 2, last)] for number in range(1, last, 2))
    return tuple(Para(joined(few, " ")) for few in (lines[:1], *pairs, lines[last:]))


def _told(label: str, said: Line) -> Line:
    return (Strong(f"{label}: "), sentence(plain(said)))


def stretch_name(house: House, stretch: str | None) -> str:
    """Return a stretch of drain as people say it, with its id: `hall bath branch (D5)`; a fixture
    whose trap takes another one's waste by its name alone."""
    if stretch is None:
        return NOT_RECORDED
    item = house.items[stretch]
    return lower(item.name) + ("" if item.system == "fixture" else f" ({stretch})")


def carries(house: House, stretch: str | None) -> str:
    """Return the fixtures whose waste passes a stretch."""
    if stretch is None:
        return NOT_RECORDED
    through = [item.id for item in drained_through(house, stretch)]
    if not through and _all_drains_known(house):
        return "nothing: it is there to reach the drain with a cable"
    if len(through) == len(house.drains.rims) > 1:
        return "everything that drains"
    return group_words(house, through) or f"{NOT_RECORDED} what drains through it"


def _all_drains_known(house: House) -> bool:
    """Whether the way of every fixture's waste is recorded."""
    tree = house.drains
    return bool(tree.rims) and all(tree.ends_known(fixture) for fixture in tree.rims)


def reach(house: House, item: Item) -> Line:
    """Return in one line what hangs on a cleanout or a piece of equipment in the drain."""
    on = getattr(item.entry, "on", None)
    verb = "Opens into" if isinstance(item.entry, Cleanout) else "Stands in"
    facing = getattr(item.entry, "facing", None)
    return (f"{verb} {stretch_name(house, on)}" + (f", facing {facing}" if facing else ""),)
