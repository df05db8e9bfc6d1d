"""What stands beside a point or in its frame on a riser diagram: tag, abbreviation, size."""

from collections.abc import Iterable

from handbook.house.house import House
from handbook.house.items import Item
from handbook.measures import PipeSize
from handbook.pages.parts.say import Say
from handbook.record.grammar.common import Handle
from handbook.record.grammar.drains import Cleanout
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.heaters import ExpansionTank, Heater
from handbook.record.grammar.water import (
    Equipment,
    Irrigation,
    Manifold,
    Meter,
    Recirculation,
    Softener,
    Source,
    Tee,
)
from handbook.tables import table

Words = tuple[str, ...]


def size(pipe: PipeSize | None) -> str:
    """Return a pipe's size as drawings have it: `3/4`, inches being understood; `20 mm`."""
    return pipe.text.removesuffix(" in") if pipe else ""


def symbol_of(item: Item) -> str:
    """Return the row of the table `riser_marks` that a thing of the water is drawn as."""
    match item.entry:
        case Handle(kind=kind, stands=stands):
            return f"{kind or 'valve'}:closed" if stands == "closed" else kind or "valve"
        case Equipment(kind=kind):
            return kind
        case Meter():
            return "meter"
        case Recirculation():
            return "pump"
        case Tee():
            return "tee"
        case Manifold():
            return "header"
        case Fixture():
            return "fixture"
        case Source():
            return "source"
        case ExpansionTank():
            return "expansion tank"
    return "check valve" if item.kind == "check valve" else "equipment"


def words_of(house: House, item: Item) -> Words:
    """Return what is written at a thing of the water, its tag first."""
    lines = (item.id, *_more(house, item))
    return tuple(line for line in lines if line)


def _more(house: House, item: Item) -> Words:
    say = Say.of(house, "")
    match item.entry:
        case Handle(condition=condition):
            return (condition if condition not in (None, "works") else "",)
        case Equipment(kind="pressure-reducing valve", set_to=set_to):
            return ("reducing valve", say.pressure(set_to))
        case Equipment(kind="hammer arrester"):
            return ()
        case Equipment(kind=kind):
            return (kind,)
        case Meter(size=meter):
            return ("meter", size(meter))
        case Recirculation():
            return ("pump",)
        case Manifold(carries=carries):
            return (f"{carries} header" if carries else "header",)
        case Heater(capacity=capacity, kind=kind):
            return ("water heater", say.volume(capacity) or kind or "")
        case Softener():
            return ("water softener",)
        case Irrigation(zones=zones):
            return ("irrigation", f"{zones} zones" if zones is not None else "")
        case Source(kind=kind):
            return (kind or "water source",)
        case ExpansionTank(size=volume):
            return ("expansion tank", say.volume(volume))
    return ("check valve",) if item.kind == "check valve" else ()


def abbreviation(item: Item) -> str:
    """Return a fixture's abbreviation in capitals; its own name where its kind has none."""
    row = table("riser_abbreviations").values.get(item.kind)
    return str(row["short"]) if row else item.name


def fixture_words(house: House, fixtures: Iterable[Item]) -> dict[str, Words]:
    """Return for each fixture its abbreviation and its room.

    Fixtures of one kind in one room are numbered in the order of the record.
    """
    listed = [(item, abbreviation(item), house.places.room_name(item.place)) for item in fixtures]
    named = [(short, room) for _, short, room in listed]
    words: dict[str, Words] = {}
    for number, (item, short, room) in enumerate(listed):
        alike = named.count((short, room)) > 1
        nth = f" {named[:number].count((short, room)) + 1}" if alike else ""
        words[item.id] = (f"{short}{nth}", room) if room else (f"{short}{nth}",)
    return words


def explained(house: House, fixtures: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Return (abbreviation, its words) for exactly the fixtures drawn, in alphabetical order."""
    rows = table("riser_abbreviations").values
    kinds = {house.items[fixture].kind for fixture in fixtures}
    return tuple(sorted((rows[k]["short"], rows[k]["words"]) for k in kinds if k in rows))


def cleanout_symbol(cleanout: Cleanout) -> tuple[str, str]:
    """Return a cleanout's symbol and its abbreviation."""
    short = {"wall": "WCO", "floor": "FCO", "two-way": "2-WAY CO"}
    kind = cleanout.kind or ""
    return (f"{kind} cleanout" if kind in short else "cleanout"), short.get(kind, "CO")


def cleanout_words(cleanout: Cleanout) -> Words:
    """Return a cleanout's tag and abbreviation, whether it stands at the base of a stack, its
    size and which way it faces."""
    _, short = cleanout_symbol(cleanout)
    more = ", ".join(word for word in (size(cleanout.size), cleanout.facing or "") if word)
    base = "stack base" if cleanout.kind == "stack base" else ""
    return tuple(line for line in (f"{cleanout.id} {short}", base, more) if line)
