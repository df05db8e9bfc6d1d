"""What a leak alarm, or water in a pan, warns of; one answer for its tag, its page and the table.

Watched things are of three sorts. Supply water comes from a fixture or equipment, or from a heater
of which a pipe ends over the drain that is watched: its nearest step stops it. Through a floor
drain comes what ought to leave: no valve of the house stops it. What drips from a cooling coil
comes from the air: the cooling is switched off.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from handbook.house.house import House
from handbook.record.entry import Entry
from handbook.record.grammar.common import each, given
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.safeguards import Condensate, Pan, Sensor
from handbook.tables import table


@dataclass(frozen=True)
class Watched:
    """Ids of what is watched, by sort. A pan stands for what stands in it."""

    wet: tuple[str, ...]
    drains: tuple[str, ...]
    cooling: tuple[str, ...]
    mains: tuple[str, ...]
    """The main to close in doubt; after it the next one, where the first is itself watched."""
    beside: tuple[str, ...] = ()
    """Other fixtures with a supply in a sensor's room, whose water gets there too."""

    @property
    def only_cooling(self) -> bool:
        """Whether no valve can help."""
        return bool(self.cooling) and not self.wet and not self.drains


def wet_heaters(house: House, known: Watched) -> list[Heater]:
    """The water heaters that may have wetted what warns."""
    return [it for it in each(house.record.heaters) if it.id in known.wet]


def warned_of(house: House, alarm: str) -> Watched:
    """What a sensor watches or a pan stands under; at a sensor on the floor what stands beside it
    too. Into a pan, and to a sensor that watches one, comes only what the pan stands under."""
    entry = house.items[alarm].entry
    if isinstance(entry, Pan):
        return watched(house, (entry.under,))
    things = tuple(entry.watches or ()) if isinstance(entry, Sensor) else ()
    known = watched(house, things)
    in_pan = any(isinstance(house.items[name].entry, Pan) for name in things if name in house.items)
    if in_pan or known.only_cooling:
        return known
    wet = tuple(dict.fromkeys((*known.wet, *_ends_over(house, known.drains))))
    return replace(known, wet=wet, beside=_in_the_same_room(house, alarm, wet))


def watched(house: House, things: Iterable[str | None]) -> Watched:
    """Sort what is watched. Things that are not in the record are passed over."""
    ids = tuple(dict.fromkeys(_in_pan(house, thing) for thing in things if thing in house.items))
    fixtures = {name for name in ids if _dry(house.items[name].entry)}
    mains = house.water.mains[: 2 if set(ids) & set(house.water.mains[:1]) else 1]
    return Watched(
        tuple(name for name in ids if name in house.water.bodies and name not in fixtures),
        tuple(name for name in ids if house.items[name].kind == "floor drain"),
        tuple(name for name in ids if isinstance(house.items[name].entry, Condensate)),
        mains,
    )


def _ends_over(house: House, drains: Iterable[str]) -> tuple[str, ...]:
    """Heaters whose relief pipe, or whose pan's drain, ends over one of these drains."""
    over, guards = set(drains), house.record.safeguards
    pans = {pan.id: given(pan.drain) for pan in each(guards.pans if guards else None)}
    found = []
    for heater in each(house.record.heaters):
        relief = given(heater.relief)
        ends = (given(relief.discharge) if relief else None, pans.get(given(heater.pan) or ""))
        if any(end and end.drain in over for end in ends):
            found.append(heater.id)
    return tuple(found)


def _in_the_same_room(house: House, thing: str, known: Iterable[str]) -> tuple[str, ...]:
    place = house.items[thing].place
    room = place.room if place else None
    beside = [
        item.id
        for item in house.items.values()
        if room and isinstance(item.entry, Fixture) and item.place and item.place.room == room
    ]
    return tuple(name for name in watched(house, beside).wet if name not in set(known))


def _in_pan(house: House, thing: str | None) -> str:
    assert thing is not None
    entry = house.items[thing].entry
    return entry.under if isinstance(entry, Pan) and entry.under else thing


def _dry(entry: Entry) -> bool:
    """Whether a fixture has no supply: none is recorded, and its kind has none as a rule."""
    if not isinstance(entry, Fixture) or entry.cold or entry.hot:
        return False
    return "cold" not in table("fixture_connections").values[entry.kind]
