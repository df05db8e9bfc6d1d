"""Levels and rooms by id, and how a place is said to somebody who has never been there."""

from dataclasses import dataclass
from fractions import Fraction

from handbook.measures import Units, say_length
from handbook.record.grammar.common import Place, each, given
from handbook.record.grammar.places import OUTSIDE, Level, Room
from handbook.record.grammar.record import Record

BY_EYE = Fraction(1, 2)
"""Heights and depths are said to the half inch (metric: to the centimetre)."""


@dataclass(frozen=True)
class Places:
    """The levels, and the rooms with the level that each is on; lowest level first."""

    levels: dict[str, Level]
    rooms: dict[str, tuple[Room, Level]]
    units: Units

    def level_id(self, place: Place | None) -> str | None:
        """Return the level's id, from the place itself or from its room; None if not recorded."""
        if place is None:
            return None
        if place.level is None and place.room in self.rooms:
            return self.rooms[place.room][1].id
        if place.level is None and place.room == OUTSIDE:
            return OUTSIDE
        return place.level

    def level_name(self, place: Place | None) -> str | None:
        """Return the level's name in the middle of a sentence: `upper level`, `outside`."""
        level = self.level_id(place)
        if level is None or level == OUTSIDE:
            return level
        return self.levels[level].name.lower()

    def room_name(self, place: Place | None) -> str | None:
        """Return the room's name in the middle of a sentence, `outside`, or None."""
        if place is None:
            return None
        if place.room in self.rooms:
            return self.rooms[place.room][0].name.lower()
        return OUTSIDE if OUTSIDE in (place.room, self.level_id(place)) else None

    def room_and_level(self, place: Place | None) -> str | None:
        """Return `hall bath, upper level`; less where less is recorded; None for nothing."""
        room, level = self.room_name(place), self.level_name(place)
        said = [room, level] if room != level else [room]
        return ", ".join(word for word in said if word) or None

    def say(self, place: Place | None) -> str | None:
        """Return the whole place: room, level, the record's own words, height or depth."""
        if place is None:
            return None
        return _joined(self.room_and_level(place), *self._there(place))

    def say_there(self, place: Place) -> str | None:
        """Return a place to who is in its room, or on its side of the house, already."""
        return _joined(*self._there(place))

    def _there(self, place: Place) -> tuple[str | None, ...]:
        return place.where, hidden(place), self._up(place)

    def _up(self, place: Place) -> str | None:
        if place.depth is not None:
            return f"{say_length(place.depth, self.units, BY_EYE)} below the ground"
        base = "ground" if self.level_id(place) == OUTSIDE else "floor"
        if place.height is not None and not place.height.inches:
            return f"at {base} level"
        if place.height is not None:
            return f"{say_length(place.height, self.units, BY_EYE)} above the {base}"
        return None


def _joined(*said: str | None) -> str | None:
    words = "; ".join(word for word in said if word)
    return words[:1].upper() + words[1:] if words else None


def hidden(place: Place) -> str | None:
    """Return what hides it: `behind white door`; for a lid, or in the ground: `under iron lid`."""
    cover = given(place.behind)
    if not cover:
        return None
    flat = place.depth is not None or "lid" in cover.lower().split()
    return f"{'under' if flat else 'behind'} {cover}"


def places(record: Record) -> Places:
    """Build the places of a record."""
    levels = {level.id: level for level in each(record.levels)}
    rooms = {room.id: (room, level) for level in levels.values() for room in each(level.rooms)}
    return Places(levels, rooms, record.house.units)
