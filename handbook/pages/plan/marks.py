"""Things as marks on a plan: which symbol of the table `map_marks`, and what stands beside it."""

from collections.abc import Iterable

from handbook.answers.ties import unseen
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.plan.geometry import point
from handbook.pages.plan.shapes import Mark
from handbook.record.grammar.common import Handle
from handbook.record.grammar.drains import Cleanout, Discharge, DrainEquipment, Stretch
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.gas import Appliance, GasMeter, GasOutlet, GasTee, GasValve, Regulator
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.safeguards import Condensate, Pan, Sensor
from handbook.record.grammar.water import Equipment, Irrigation, Meter
from handbook.record.grammar.water import Valve as LineValve
from handbook.tables import table

MAIN, USUAL, BESIDE = 3, 2, 1
"""Ranks of labels: the mains, what the map is about, what helps to find it."""

_CLEANOUTS = {
    "wall": "wall cleanout",
    "floor": "floor cleanout",
    "two-way": "two-way cleanout",
}


def mark(house: House, item: Item, rank: int = USUAL) -> Mark | None:
    """Return the mark of a thing; None where its point on the plan is not recorded."""
    if item.place is None or item.place.at is None:
        return None
    kind = kind_of(house, item)
    tag = item.id if item.tagged else ""
    main = kind in ("main shutoff", "gas main")
    words = _words(item, kind, main)
    room = item.place.room or ""
    at, rank = point(item.place.at), MAIN if main else rank
    return Mark(kind, at, tag, words, rank, (item.id,), room=room, unseen=unseen(item))


def marks(house: House, items: Iterable[Item], rank: int = USUAL) -> tuple[Mark, ...]:
    """Return the marks of those things whose point is recorded."""
    return tuple(found for item in items if (found := mark(house, item, rank)))


def kind_of(house: House, item: Item) -> str:
    """Return the name of a thing's symbol in the table `map_marks`."""
    match item.entry:
        case LineValve() | GasValve() as valve:
            return _valve(valve)
        case Handle():
            return _stop(house, item)
        case Cleanout(kind=kind):
            return _CLEANOUTS.get(kind or "", "cleanout")
        case Stretch():
            return "stack"
        case Discharge(kind=kind):
            return "septic tank" if kind == "septic tank" else "discharge"
        case Fixture(kind="floor drain" | "hose bibb" as kind):
            return kind
        case DrainEquipment(kind=kind):
            return kind
        case Equipment(kind="backflow preventer"):
            return "backflow preventer"
    if item.kind == "breaker panel":
        return "panel"
    usual = "landmark" if item.system == "site" else "equipment"
    return next((name for kind, name in _KINDS.items() if isinstance(item.entry, kind)), usual)


_KINDS: dict[type, str] = {
    Meter: "water meter",
    Irrigation: "irrigation",
    GasMeter: "gas meter",
    Regulator: "gas regulator",
    GasOutlet: "gas outlet",
    GasTee: "gas tee",
    Sensor: "leak sensor",
    Pan: "drain pan",
    Condensate: "condensate drain",
    Heater: "water heater",
    Fixture: "fixture",
    Appliance: "fixture",
}


def _valve(valve: LineValve | GasValve) -> str:
    gas = isinstance(valve, GasValve)
    if isinstance(valve, LineValve) and valve.utility:
        return "utility's valve"
    if valve.main:
        return "gas main" if gas else "main shutoff"
    if valve.kind == "automatic shutoff":
        return "automatic shutoff"
    return "gas valve" if gas else _by_kind(valve, "shutoff")


def _by_kind(valve: Handle, usual: str) -> str:
    return "stop and waste" if valve.kind == "stop and waste" else usual


def _stop(house: House, item: Item) -> str:
    owner = house.items[item.owner].entry if item.owner else None
    if isinstance(owner, GasMeter):
        return "utility's valve"
    if item.system == "gas":
        return "gas valve"
    usual = "fixture stop" if isinstance(owner, Fixture) else "shutoff"
    return _by_kind(item.entry, usual) if isinstance(item.entry, Handle) else usual


def _words(item: Item, kind: str, main: bool) -> str:
    """Return what follows the tag: the name of a main and of what has no tag, else the trade's
    abbreviation and a cleanout's size."""
    if isinstance(item.entry, Cleanout):
        size = f" {item.entry.size}" if item.entry.size else ""
        return f"{_short(kind)}{size}"
    if main or kind == "automatic shutoff":
        return item.name
    short = _short(kind)
    if kind == "gas tee":
        return item.id
    if item.tagged:
        return "" if short in item.id else short
    return short if kind == "floor drain" else item.name


def _short(kind: str) -> str:
    short: str = table("map_marks").values[kind]["short"]
    return short
