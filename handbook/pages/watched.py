"""What a leak alarm, or water in a pan, warns of; one answer for its tag, its page and the table.

Watched things are of three sorts. Supply water comes from a fixture or equipment: its nearest
step stops it. Through a floor drain comes what ought to leave: no valve of the house stops it.
What drips from a cooling coil comes from the air: the cooling is switched off.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from handbook.house.house import House
from handbook.record.entry import Entry
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.safeguards import Condensate, Pan
from handbook.tables import table


@dataclass(frozen=True)
class Watched:
    """Ids of what is watched, by sort. A pan stands for what stands in it."""

    wet: tuple[str, ...]
    drains: tuple[str, ...]
    cooling: tuple[str, ...]
    mains: tuple[str, ...]
    """The main to close in doubt; after it the next one, where the first is itself watched."""

    @property
    def only_cooling(self) -> bool:
        """Whether no valve can help."""
        return bool(self.cooling) and not self.wet and not self.drains


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


def in_the_same_room(house: House, thing: str, known: Iterable[str]) -> tuple[str, ...]:
    """Fixtures with a supply that stand where a thing does, besides those known already."""
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
