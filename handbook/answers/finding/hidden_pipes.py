"""Every recorded run of pipe, with the rooms that hide it and whether in floor or in wall.

A run's rooms are those that its record names (`through`), and those of the things at its two
ends. Where `way` says nothing of floor, ceiling or wall, it may be in any of them.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from handbook.answers.finding.way_words import read
from handbook.house.house import House
from handbook.record import ids
from handbook.record.grammar.common import Fed, Place, Run, each, given
from handbook.record.grammar.fixtures import GasConnection, WaterConnection
from handbook.record.grammar.gas import GasFed
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.water import Feed, Tee

CEILING_WORDS = re.compile(r"ceiling|attic", re.IGNORECASE)

NEAR_CEILING = 24.0
"""Inches below the ceiling from which on a thing counts as being in it."""


@dataclass(frozen=True)
class Piped:
    """A run of pipe. `end` is the water network's node where it ends, or a drain's id.

    `thing` is what it is recorded with; `flat` and `upright`: whether it may be in a floor or
    ceiling, and in a wall; `high`: rooms at whose ceiling it is known to be.
    """

    end: str
    thing: str
    system: Literal["water", "drain", "gas"]
    run: Run | None
    rooms: frozenset[str] = frozenset()
    flat: bool = True
    upright: bool = True
    high: frozenset[str] = frozenset()

    @property
    def way(self) -> str:
        """How it goes, in the record's words; empty where not recorded."""
        return " ".join(self.run.way.split()) if self.run and self.run.way else ""


def supply_pipes(house: House) -> tuple[Piped, ...]:
    """Every supply pipe, in the order of the record."""
    return tuple(_supplies(house))


def _supplies(house: House) -> Iterator[Piped]:
    for entry in ids.entries(house.record):
        if isinstance(entry, Fed):
            yield _water(house, f"{entry.id}.in", entry, entry.by)
        if isinstance(entry, Tee):
            for feed in each(entry.feeds):
                yield _water(house, f"{entry.id}.in", feed, feed.by)
    for fixture in each(house.record.fixtures):
        for side, connection in (("cold", fixture.cold), ("hot", fixture.hot)):
            if pipe := given(connection):
                yield _water(house, f"{fixture.id}.{side}", pipe, pipe.by)
    for heater in each(house.record.heaters):
        if heater.cold:
            yield _water(house, f"{heater.id}.cold", heater.cold, heater.cold.by)


def _water(house: House, end: str, fed: Fed | Feed | WaterConnection, run: Run | None) -> Piped:
    thing = end.rpartition(".")[0]
    return _piped(house, Piped(end, thing, "water", run), fed.from_)


def drain_pipes(house: House) -> tuple[Piped, ...]:
    """Every stretch of drain and every fixture's own drain, in the order of the record."""
    found = []
    for fixture in each(house.record.fixtures):
        if drain := given(fixture.drain):
            found.append(_piped(house, Piped(fixture.id, fixture.id, "drain", drain.by)))
    drains = house.record.drains
    for stretch in each(drains.stretches if drains else None):
        found.append(_piped(house, Piped(stretch.id, stretch.id, "drain", stretch.by)))
    return tuple(found)


def vent_pipes(house: House) -> tuple[Piped, ...]:
    """Every vent, by its place and the words for it: a record gives it no run of its own."""
    drains = house.record.drains
    found = []
    for vent in each(drains.vents if drains else None):
        way = vent.place.where if vent.place else None
        through = vent.through
        run = Run.model_construct(size=vent.size, length=vent.length, way=way, through=through)
        found.append(_piped(house, Piped(vent.id, vent.id, "drain", run)))
    return tuple(found)


def gas_pipes(house: House) -> tuple[Piped, ...]:
    """Every gas pipe, in the order of the record."""
    found = []
    for entry in ids.entries(house.record):
        fed = entry if isinstance(entry, GasFed) else given(getattr(entry, "gas", None))
        thing = getattr(entry, "id", None)
        if thing and isinstance(fed, GasFed | GasConnection):
            found.append(_piped(house, Piped(thing, thing, "gas", fed.by), fed.from_))
    return tuple(found)


def _piped(house: House, pipe: Piped, from_: str | None = None) -> Piped:
    """The same run with its rooms, and with where in them it is hidden."""
    run = pipe.run
    places = [_place(house, name) for name in (pipe.thing, from_) if name]
    ends = [place.room for place in places if place and place.room]
    rooms = {room for room in (*ends, *((run.through or ()) if run else ())) if room != OUTSIDE}
    way = read(pipe.way)
    high = {place.room for place in places if place and place.room and _high(house, place)}
    if CEILING_WORDS.search(pipe.way):
        high |= {room for room in rooms if _named(house, room, pipe.way)} or rooms
    known = way.flat or way.upright
    return replace(
        pipe,
        rooms=frozenset(rooms),
        flat=way.flat or not known,
        upright=way.upright or not known,
        high=frozenset(high),
    )


def _place(house: House, thing: str) -> Place | None:
    item = house.items.get(thing)
    return item.place if item else None


def _high(house: House, place: Place) -> bool:
    """Whether a place is at its room's ceiling, or above it."""
    level = house.places.levels.get(house.places.level_id(place) or "")
    if level is None or level.ceiling is None or place.height is None:
        return False
    return level.ceiling.inches - place.height.inches <= NEAR_CEILING


def _named(house: House, room: str, way: str) -> bool:
    """Whether words name this room's ceiling, not the room alone."""
    name = re.escape(house.places.rooms[room][0].name.lower())
    ceiling = rf"\b{name}('s)? ceiling|\bceilings? of (the )?{name}\b"
    return bool(re.search(ceiling, way.lower()))


def at_ceiling(house: House, thing: str) -> bool:
    """Whether a thing hangs at the ceiling of its room, or in the attic above it."""
    place = _place(house, thing)
    return place is not None and _high(house, place)
