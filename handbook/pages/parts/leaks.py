"""What catches or reports a leak: pans and where they drain, sensors, the automatic shutoff."""

from collections.abc import Iterable

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Line, Page, Part, Tag
from handbook.pages.maps import map_page
from handbook.pages.parts.hot_water import ending
from handbook.pages.parts.phrases import (
    Rows,
    all_called,
    called,
    day,
    joined,
    said,
    short,
    table,
    where,
    yes_no,
)
from handbook.pages.parts.say import Say
from handbook.pages.parts.spills import pan_blocks
from handbook.pages.parts.valve import how_to_close, what_it_stops
from handbook.pages.plan.layers import LEAKS
from handbook.pages.words import sentences
from handbook.record.grammar.common import each, given
from handbook.record.grammar.safeguards import Battery, Condensate, Pan, Safeguards, Sensor
from handbook.record.grammar.water import Valve
from handbook.record.knowing import Absent


def leak_part(house: House) -> tuple[Part, ...]:
    """Return the part on leak protection; none where nothing of it is recorded."""
    guards = house.record.safeguards or Safeguards()
    blocks = (
        *_sensors(house, each(guards.sensors)),
        *_automatic(house),
        *_pans(house, each(guards.pans)),
        *pan_blocks(house),
        *_condensate(house, each(guards.condensate)),
    )
    if not blocks:
        return ()
    page = Page("leak_protection", "What catches and reports a leak", blocks)
    maps = map_page(house, LEAKS, "leak_maps", "Where the sensors and pans are")
    return (Part("leak_part", "Leak protection", (page, *maps)),)


def automatic_shutoffs(house: House) -> tuple[Item, ...]:
    """Return the valves in the line that close by themselves."""
    return tuple(
        item
        for item in house.items.values()
        if isinstance(item.entry, Valve) and item.entry.kind == "automatic shutoff"
    )


def _sensors(house: House, sensors: Iterable[Sensor]) -> tuple[Block, ...]:
    rows = [
        (
            (Tag(sensor.id),),
            (house.items[sensor.id].name,),
            all_called(house, sensor.watches),
            (where(house, sensor.id),),
            does(house, sensor),
            (battery(sensor.battery),),
        )
        for sensor in sensors
    ]
    head = ("Tag", "Sensor", "Watches", "Where", "If wet", "Battery")
    return table("Leak sensors", head, rows, (1, 2, 2.2, 2.6, 2, 1.8), tagged=True)


def does(house: House, sensor: Sensor) -> Line:
    """Return what a sensor does when it gets wet: `sounds, closes W3`."""
    if sensor.does is None:
        return (said(None),)
    closes = given(sensor.closes)
    words = [
        ("closes ", *short(house, closes)) if act == "closes a valve" and closes else (act,)
        for act in sensor.does
    ]
    return joined(words) or (said(None),)


def battery(found: Battery | Absent | None) -> str:
    """Return a battery's kind and when it was put in."""
    cell = given(found)
    if cell is None:
        return said(found)
    return f"{said(cell.kind)}, put in: {said(cell.changed, day)}"


def _automatic(house: House) -> tuple[Block, ...]:
    rows = [
        (
            (Tag(item.id),),
            (item.name,),
            (where(house, item.id),),
            (what_it_stops(house, item),),
            (sentences(how_to_close(house, item)),),
        )
        for item in automatic_shutoffs(house)
    ]
    head = ("Tag", "Shutoff", "Where", "Stops", "Closed by hand")
    return table("Automatic shutoff", head, rows, (1, 2, 3, 2, 2.6), tagged=True)


def _pans(house: House, pans: Iterable[Pan]) -> tuple[Block, ...]:
    rows = [
        (
            (Tag(pan.id),),
            called(house, pan.under),
            ending(house, pan.drain),
            (made_of(house, pan),),
        )
        for pan in pans
    ]
    head = ("Tag", "Pan under", "Drains to", "Made of")
    return table("Drain pans", head, rows, (1, 2.6, 4.4, 2), tagged=True)


def made_of(house: House, pan: Pan) -> str:
    """Return a pan's material and depth."""
    return f"{said(pan.material)}, depth {Say.of(house).length(pan.depth)}"


def _condensate(house: House, drains: Iterable[Condensate]) -> tuple[Block, ...]:
    rows = [
        (
            (Tag(drain.id),),
            (said(drain.serves),),
            ending(house, drain.primary),
            ending(house, drain.secondary),
            _pan(house, drain),
            (said(drain.float_switch, yes_no),),
        )
        for drain in drains
    ]
    head = ("Tag", "Drains", "Ends at", "Second drain ends at", "Pan", "Float switch")
    return table(
        "Cooling drains (condensate)", head, rows, (1, 1.8, 2.6, 2.6, 1.4, 1.2), tagged=True
    )


def _pan(house: House, drain: Condensate) -> Line:
    pan = given(drain.pan)
    return short(house, pan) if pan else (said(drain.pan),)


def sensor_facts(house: House, sensor: Sensor) -> Rows:
    """Return what is recorded about one sensor."""
    return (
        ("Watches", all_called(house, sensor.watches)),
        ("If it gets wet", does(house, sensor)),
        ("Battery", (battery(sensor.battery),)),
    )


def pan_facts(house: House, pan: Pan) -> Rows:
    """Return what is recorded about one pan."""
    return (
        ("Under", called(house, pan.under)),
        ("Drains to", ending(house, pan.drain)),
        ("Made of", (made_of(house, pan),)),
    )


def condensate_facts(house: House, drain: Condensate) -> Rows:
    """Return what is recorded about one condensate drain."""
    return (
        ("Drains", (said(drain.serves),)),
        ("Ends at", ending(house, drain.primary)),
        ("Second drain ends at", ending(house, drain.secondary)),
        ("Pan", _pan(house, drain)),
        ("Float switch", (said(drain.float_switch, yes_no),)),
    )
