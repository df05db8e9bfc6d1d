"""Know your house: the whole of it in a minute, and the schedule of all its valves."""

from collections.abc import Iterator

from handbook.answers.care import worked
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Facts, Line, Page, Para, Part, Photo, Tag
from handbook.pages.maps import map_page
from handbook.pages.parts.care import WORKED
from handbook.pages.parts.cleanouts import first_to_try
from handbook.pages.parts.leaks import automatic_shutoffs
from handbook.pages.parts.order import by_level
from handbook.pages.parts.phrases import NOT_RECORDED, called, said, table, told, where, within
from handbook.pages.parts.say import Say
from handbook.pages.parts.spills import why_blocks
from handbook.pages.parts.tersely import action
from handbook.pages.parts.valve import (
    how_to_close,
    is_utilitys,
    kind_of,
    stands,
    valves,
    what_it_stops,
)
from handbook.pages.plan.layers import SHUTOFFS
from handbook.pages.words import listed, sentences
from handbook.record.grammar.common import each, given
from handbook.record.grammar.water import Water
from handbook.record.knowing import Absent

Row = tuple[str, Line]


def know_part(house: House) -> tuple[Part, ...]:
    """Return the part that somebody reads on the first day in the house."""
    where_they_are = map_page(house, SHUTOFFS, "shutoff_maps", "Where the shutoffs are")
    why = why_blocks(house)
    spilled = (Page("why_know_valves", "Why to know the valves", why),) if why else ()
    pages = (_minute(house), *spilled, *where_they_are, *_schedule(house))
    return (Part("know_part", "Know your house", pages),)


def _minute(house: House) -> Page:
    rows = (*_water(house), *_panel(house), *_gas(house), *_drains(house), *_heaters(house))
    blocks: tuple[Block, ...] = (
        Para(
            (
                "Walk to each of these once and look at it. Put your hand on the water shutoffs "
                "that you may turn, and leave the rest alone.",
            )
        ),
        Facts(rows),
    )
    if cover := given(house.record.house.cover_photo):
        blocks += (Photo(cover, f"The house: {house.record.house.name}"),)
    return Page("in_a_minute", "Your house in a minute", blocks)


def _water(house: House) -> Iterator[Row]:
    water = house.record.water or Water()
    inside, outside = given(water.inside_main), given(water.outside_main)
    mains = [main for main in house.water.mains if main not in (inside, outside)]
    for main in mains:
        yield "All water", _main(house, main, None)
    if not mains or water.inside_main is not None:
        yield "All water, inside", _main(house, inside, water.inside_main)
    if not mains or water.outside_main is not None:
        yield "All water, outside", _main(house, outside, water.outside_main)
    for item in house.items.values():
        if item.kind == "shutoff" and is_utilitys(house, item):
            yield (
                "The utility's own valve",
                (Tag(item.id, item.name), f". {_place(house, item.id)}"),
            )
    for item in automatic_shutoffs(house):
        yield "Automatic shutoff", (Tag(item.id, item.name), f". {_place(house, item.id)}")


def _place(house: House, thing: str) -> str:
    """The place of a thing in a sentence, after its name."""
    return sentences(house.where(thing) or f"Where it is: {NOT_RECORDED}")


def _main(house: House, valve: str | None, recorded: str | Absent | None) -> Line:
    if valve is None:
        return (said(recorded),)
    item = house.items[valve]
    how = sentences(how_to_close(house, item))
    return (Tag(item.id, item.name), f". {_place(house, valve)} {how}")


def _panel(house: House) -> Iterator[Row]:
    panel = house.record.electrical.panel if house.record.electrical else None
    words = where(house, panel.id) if panel else NOT_RECORDED
    yield "Breaker panel", (told(words),)


def _gas(house: House) -> Iterator[Row]:
    gas = given(house.record.gas)
    if gas is None:
        yield "Gas", (said(house.record.gas),)
        return
    mains = [valve.id for valve in each(gas.valves) if valve.main]
    meter = given(gas.meter.shutoff) if gas.meter else None
    for valve in mains:
        item = house.items[valve]
        act = f". {_place(house, valve)} {action(house, item)}"
        yield "All gas", (Tag(item.id, item.name), act)
    if meter:
        item = house.items[meter.id]
        yield "Gas, the utility's valve", (Tag(item.id, item.name), f". {_place(house, item.id)}")
    if not mains and not meter:
        yield "Gas shutoff", (NOT_RECORDED,)


def _drains(house: House) -> Iterator[Row]:
    first = first_to_try(house)
    line: Line = (NOT_RECORDED,)
    if first:
        line = (*called(house, first.id), f". {_place(house, first.id)} Leave it shut.")
    yield "Cleanout, for the plumber", line


def _heaters(house: House) -> Iterator[Row]:
    heaters = each(house.record.heaters)
    if not heaters:
        yield (
            "Water heater",
            (said(house.record.heaters if isinstance(house.record.heaters, Absent) else None),),
        )
    for heater in heaters:
        setting = Say.of(house).temperature(heater.setting)
        words = sentences(f"fuel: {said(heater.fuel)}, set to {setting}")
        yield "Water heater", (*called(house, heater.id), f". {_place(house, heater.id)} {words}")


def _schedule(house: House) -> tuple[Page, ...]:
    blocks: list[Block] = []
    head = ("Tag", "Valve", "Where", "Kind", "Closing it stops")
    for level, items in by_level(house, valves(house)):
        rows = [_row(house, item) for item in items]
        blocks += table(level, head, rows, (1, 2, 3.6, 2, 2.6), tagged=True)
    if not blocks:
        return ()
    text = "In walking order, level by level; after its kind, how each usually stands. "
    return (Page("valve_schedule", "Valve schedule", (Para((text, _counted(house))), *blocks)),)


def _counted(house: House) -> str:
    """Return how many valves are listed, and of what sort, as care and its table count them."""
    hands = worked(house)
    gas = [item for item in valves(house) if item.system == "gas"]
    water = [item for item in valves(house) if item.system != "gas"]
    theirs = [item for item in water if is_utilitys(house, item)]
    cared = sum(len(things) for things in hands.values())
    sorts = (
        *((len(hands[key]), called) for key, called in WORKED.items()),
        (len(hands["automatic_shutoff"]), "for water that closes by itself"),
        (len(theirs), "of the water utility"),
        (len(water) - len(theirs) - cared, "for water that does not work as it should"),
        (len(gas), "for gas"),
    )
    said = listed(f"{count} {sort}" for count, sort in sorts if count)
    return f"In all {len(water) + len(gas)}: {said}."


def _row(house: House, item: Item) -> tuple[Line, ...]:
    return (
        (Tag(item.id),),
        (item.name,),
        (within(house, item),),
        (f"{kind_of(item)}, {stands(item)}",),
        (what_it_stops(house, item),),
    )
