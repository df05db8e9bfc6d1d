"""Which ids a record declares, which it points at, and what each pointer may point at.

The one place that knows how entries refer to each other; `sense` checks it, the house is built
on it. Places (levels, rooms) and things share one set of ids: a question takes either.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from handbook.record.entry import Entry, key_of
from handbook.record.grammar import (
    common,
    drains,
    fixtures,
    gas,
    heaters,
    places,
    safeguards,
    walls,
    water,
)

STREET = "street"
"""The source that needs no entry: the utility's main, where no sources are listed."""

TAKEN = {
    STREET: "it always exists, as the source of the water",
    places.OUTSIDE: "it always exists, as the level and the room outdoors",
    "house": "in questions it means the whole house",
    "none": "it means that there isn't one",
    "unknown": "it means that it is not recorded",
}
"""Words that mean something of their own in a record or in a question, so they are nobody's id."""

_THING = (common.Thing, common.Stop, walls.Photo)
_WATER = (
    water.Source,
    water.Meter,
    water.Valve,
    water.Tee,
    water.Manifold,
    water.Equipment,
    water.Softener,
    water.Recirculation,
    heaters.Heater,
    common.Stop,
)
_GAS = (gas.GasMeter, gas.Regulator, gas.GasTee, gas.GasValve, common.Stop)
_GAS_OWNERS = (fixtures.GasConnection, gas.GasMeter, gas.GasOutlet)
_DRAIN = (drains.Stretch, drains.Discharge)
_LEVEL = (places.Level,)
_ROOM = (places.Room,)

Kinds = tuple[type[Entry], ...]

_POINTERS: dict[tuple[type[Entry], str], Kinds] = {
    (common.Place, "level"): _LEVEL,
    (common.Place, "room"): _ROOM,
    (common.Run, "through"): _ROOM,
    (places.Door, "between"): _ROOM,
    (places.Door, "swings_into"): _ROOM,
    (common.Fed, "from_"): _WATER,
    (water.Feed, "from_"): _WATER,
    (water.Recirculation, "to"): _WATER,
    (water.StaticPressure, "near"): (*_WATER, fixtures.Fixture),
    (water.Softener, "drain"): (fixtures.Fixture, drains.Stretch),
    (water.Water, "inside_main"): (water.Valve,),
    (water.Water, "outside_main"): (water.Valve,),
    (fixtures.WaterConnection, "from_"): _WATER,
    (fixtures.DrainConnection, "to"): (*_DRAIN, fixtures.Fixture),
    (fixtures.GasConnection, "from_"): _GAS,
    (gas.GasFed, "from_"): _GAS,
    (drains.Stretch, "to"): _DRAIN,
    (drains.Cleanout, "on"): (drains.Stretch,),
    (drains.DrainEquipment, "on"): (drains.Stretch,),
    (drains.Vent, "to"): (drains.Vent,),
    (drains.Vent, "through"): _ROOM,
    (drains.Vent, "serves"): (drains.Stretch, fixtures.Fixture),
    (common.Ending, "drain"): (fixtures.Fixture, safeguards.Pan, drains.Stretch),
    (heaters.Heater, "pan"): (safeguards.Pan,),
    (safeguards.Pan, "under"): _THING,
    (safeguards.Condensate, "pan"): (safeguards.Pan,),
    (safeguards.Sensor, "watches"): _THING,
    (safeguards.Sensor, "closes"): (water.Valve,),
    (walls.Shield, "protects"): _THING,
    (walls.Insulation, "protects"): _THING,
    (walls.Photo, "shows"): _THING,
}


@dataclass(frozen=True)
class Pointer:
    """A reference in the record: who makes it, in which field, to what, and what may be there."""

    entry: Entry
    field: str
    ref: str
    kinds: Kinds

    @property
    def system(self) -> str:
        """Which system the stop is of that may stand here; empty where none may, or any."""
        if self.kinds == _GAS:
            return "gas"
        return "water" if self.kinds == _WATER else ""

    @property
    def at_place(self) -> bool:
        """Whether it names a level or a room rather than a thing."""
        return self.kinds in (_LEVEL, _ROOM)


def entries(entry: Entry) -> Iterator[Entry]:
    """Yield the entry and every entry inside it, in the order of the grammar."""
    yield entry
    for name in type(entry).model_fields:
        yield from _inside(getattr(entry, name))


def _inside(value: object) -> Iterator[Entry]:
    if isinstance(value, Entry):
        yield from entries(value)
    elif isinstance(value, tuple):
        for each in value:
            yield from _inside(each)


def gas_stops(record: Entry) -> set[str]:
    """Return the ids of the stops that shut off gas; every other one shuts off water."""
    owners = [it for it in entries(record) if isinstance(it, _GAS_OWNERS)]
    return {stop.id for it in owners if (stop := common.given(it.shutoff))}


def declared(record: Entry) -> Iterator[tuple[str, Entry, bool]]:
    """Yield (id, entry, whether it is a place) for everything that has an id."""
    for entry in entries(record):
        name = getattr(entry, "id", None)
        if isinstance(name, str):
            yield name, entry, isinstance(entry, places.Level | places.Room)


def pointers(record: Entry) -> Iterator[Pointer]:
    """Yield every reference that the record makes."""
    for entry in entries(record):
        for (owner, field), kinds in _POINTERS.items():
            if isinstance(entry, owner):
                value = getattr(entry, field)
                refs = value if isinstance(value, tuple) else (value,)
                yield from (Pointer(entry, field, r, kinds) for r in refs if isinstance(r, str))


def points_at(model: type[Entry], key: str) -> Kinds | None:
    """Return what a key of an entry may point at; None where it points at nothing."""
    for (owner, field), kinds in _POINTERS.items():
        if issubclass(model, owner) and key_of(field) == key:
            return kinds
    return None


def may_be(model: type[Entry], key: str) -> Kinds | None:
    """Return what a key of an example may point at; None where that is nothing, or anything.

    A stop ends its line, and does not say of itself whether water or gas stands before it.
    """
    kinds = points_at(model, key)
    if kinds is None or kinds is _THING:
        return None
    return tuple(kind for kind in kinds if kind is not common.Stop)


def always(kinds: Kinds) -> tuple[str, ...]:
    """Return the names that need no entry: outdoors for a place, the street's main for water."""
    if kinds in (_LEVEL, _ROOM):
        return (places.OUTSIDE,)
    return (STREET,) if kinds is _WATER else ()


def always_there(pointer: Pointer) -> bool:
    """Whether the reference is to a name that needs no entry."""
    return pointer.ref in always(pointer.kinds)
