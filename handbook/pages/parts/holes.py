"""What is not recorded: every fact that this book asks for and does not have, thing by thing.

A field is a hole where it was left out or is `unknown`; `none` is knowledge, and no hole.
"""

from collections.abc import Iterator

from handbook.answers.heating.at_rest import GAS_FUELS
from handbook.answers.whom import to_call
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Bullets, Line, Page, Para, Part, Tag
from handbook.pages.parts.asked import (
    CONNECTIONS,
    DRAINS,
    FACTS,
    FLUE,
    GAS,
    HOUSE,
    SAFEGUARDS,
    SECTIONS,
    WALLS,
    WATER,
    WITHOUT_MODEL,
    Words,
)
from handbook.pages.parts.phrases import joined, short, table
from handbook.pages.words import keyless
from handbook.record.entry import Entry
from handbook.record.grammar import drains, fixtures, gas, heaters, water
from handbook.record.grammar.common import Ending, Stop, Thing, given
from handbook.rules import check
from handbook.tables import table as table_of


def holes_part(house: House) -> tuple[Part, ...]:
    """Return the part on what is not recorded; a single sentence where nothing is missing."""
    rows = [(name, (", ".join(facts),)) for name, facts in holes(house)]
    blocks = table("Not recorded", ("Of", "What is not recorded"), rows, (3, 7))
    waiting = _waiting(house)
    if waiting:
        text = "The check of this house also waits for these facts:"
        blocks += (Para((text,)), Bullets(waiting))
    intro = (
        "None of these facts was filled in. An answer that has to take something for granted says "
        "so beside it. Each of these facts can still be looked up and added."
        if blocks
        else "Every fact that this book asks for is recorded."
    )
    page = Page("not_recorded", "What is not recorded", (Para((intro,)), *blocks))
    return (Part("holes_part", "What is not recorded", (page,)),)


def holes(house: House) -> Iterator[tuple[Line, tuple[str, ...]]]:
    """Yield (of what, the facts missing of it): the house first, then thing by thing."""
    record = house.record
    facts = (*_missing(record.house, HOUSE), *_missing(record, SECTIONS))
    for section, words in (
        (record.water, WATER),
        (record.drains, DRAINS),
        (given(record.gas), GAS),
        (record.safeguards, SAFEGUARDS),
        (record.walls, WALLS),
    ):
        facts += tuple(_missing(section, words)) if section else ()
    if facts:
        yield ("The house",), facts
    people = tuple(_people(house))
    if people:
        yield ("Phone numbers",), people
    for item in house.items.values():
        missing = tuple(dict.fromkeys((*_placed(house, item), *_inside(item.entry))))
        if missing:
            name: Line = (Tag(item.id), f" {item.name}") if item.tagged else (item.name,)
            yield name, missing


def _people(house: House) -> Iterator[str]:
    """Yield whose number is missing of all those that the page of numbers names."""
    return (who.called for who in to_call(house) if who.phone is None and not who.none)


def _placed(house: House, item: Item) -> Iterator[str]:
    if item.kind in {"tee", "gas tee"} or (item.system == "drain" and not item.tagged):
        return
    if house.where(item.id) is None:
        yield "where it is"
    if item.tagged and getattr(item.entry, "seen", None) is None:
        yield "when and how it was checked"


def _inside(entry: Entry) -> Iterator[str]:
    """Yield what is missing of an entry and of the parts inside it that are no things."""
    for kind, words in FACTS.items():
        if isinstance(entry, kind):
            yield from _missing(entry, words)
    yield from _burning(entry)
    if isinstance(entry, water.Equipment) and entry.kind not in WITHOUT_MODEL:
        yield from _missing(entry, {"model": "its model"})
    if isinstance(entry, fixtures.Fixture):
        usual = table_of("fixture_connections").values[entry.kind]
        yield from _missing(entry, {side: CONNECTIONS[side] for side in usual})
    if isinstance(entry, drains.Vent) and entry.ends is None and entry.to is None:
        yield "where it ends, or which vent it joins"
    if isinstance(entry, Ending) and entry.to is None and entry.drain is None:
        yield "where its pipe ends"
    for name in type(entry).model_fields:
        part = given(getattr(entry, name))
        if isinstance(part, Entry) and not isinstance(part, Thing | Stop):
            side = {"cold": "cold: ", "hot": "hot: "}.get(name, "")
            yield from (side + fact for fact in _inside(part))


def _burning(entry: Entry) -> Iterator[str]:
    """Yield what is missing of something that burns gas."""
    words = {"vent": "where its flue ends"}
    if isinstance(entry, heaters.Heater) and entry.fuel in GAS_FUELS:
        yield from _missing(entry, {"gas": "its gas supply", "ignition": "what lights it", **words})
    if isinstance(entry, gas.Appliance) and entry.kind in FLUE:
        yield from _missing(entry, words)


def _missing(entry: Entry, words: Words) -> Iterator[str]:
    return (said for field, said in words.items() if getattr(entry, field) is None)


def _waiting(house: House) -> tuple[Line, ...]:
    """Return the facts of single things that rules wait for; whole sections are listed above."""
    lines: list[Line] = []
    for unknown in check(house).cannot_tell:
        if not unknown.things:
            continue
        said = keyless(unknown.fact.says)
        things = joined([short(house, thing) for thing in unknown.things])
        lines.append((f"{said[:1].upper()}{said[1:]}: ", *things, "."))
    return tuple(lines)
