"""Rules for the plan: points that lie in their rooms, doors that stand in a wall.

How far off a point may lie is what the floor plan itself believes; see `floor_plan.FAR_OFF`.
"""

from collections.abc import Iterator
from fractions import Fraction
from math import dist

from handbook.house.floor_plan import FAR_OFF
from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.record import ids
from handbook.record.entry import Entry
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.places import OUTSIDE, Door, Stair
from handbook.record.notation import Point
from handbook.rules import facts
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Outcome, rule, told


@rule(
    "RC-03",
    "point-outside-its-room",
    "fault",
    why="A wrong point sends whoever looks for it, or cuts for it, to the wrong wall.",
    remedy="Measure again: `at` is how far right, then how far up, on the plan of all the rooms.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def point_outside_its_room(house: House) -> Iterator[Outcome]:
    """Each recorded point lies in the room that its place names."""
    yield from told(house.record.levels, facts.ROOMS)
    for owner, place in _placed(house):
        off = _off(house, place.room, place.at)
        if off is None:
            continue
        name = getattr(owner, "id", None)
        if off <= FAR_OFF:
            yield Clear(name)
            continue
        said = f"the stairs {name}" if isinstance(owner, Stair) else house.called(name or "a thing")
        room = house.places.room_name(place)
        yield Broken(
            name,
            f"The point recorded for {said} lies {_far(house, off)} outside the {room}",
            place.mark_of("at"),
        )


@rule(
    "RC-04",
    "door-in-no-wall",
    "fault",
    why="Ways are measured through doors; one that is in no wall makes them wrong.",
    remedy="Measure again: `at` is the middle of the opening, in the wall between its two rooms.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def door_in_no_wall(house: House) -> Iterator[Outcome]:
    """Each door's point lies at the walls of the rooms that it joins."""
    yield from told(house.record.levels, facts.ROOMS)
    for level in each(house.record.levels):
        if level.doors is None and len(each(level.rooms)) > 1:
            yield CannotTell(facts.DOORS)
        for door in each(level.doors):
            yield from _door(house, door)


def _door(house: House, door: Door) -> Iterator[Outcome]:
    offs = {room: _off(house, room, door.at) for room in door.between}
    known = {room: off for room, off in offs.items() if off is not None}
    far = [room for room, off in known.items() if off > FAR_OFF]
    first, second = (_name(house, room) for room in door.between)
    for room in far[:1]:
        yield Broken(
            None,
            f"The door between {first} and {second} is recorded {_far(house, known[room])} "
            f"from the wall of the {_name(house, room)}",
            door.mark_of("at"),
        )
    if far:
        return
    inside = [off for room, off in offs.items() if room != OUTSIDE]
    yield CannotTell(facts.DOOR_PLACE) if None in inside else Clear()


def _placed(house: House) -> Iterator[tuple[Entry, Place]]:
    """Yield each entry with each of its places that names a room of the house."""
    for entry in ids.entries(house.record):
        for name in type(entry).model_fields:
            place = getattr(entry, name)
            if isinstance(place, Place) and place.room in house.places.rooms:
                yield entry, place


def _off(house: House, room: str | None, at: Point | None) -> float | None:
    """How far a point lies outside a room, in inches; None where either is not recorded."""
    zone = house.plan.zones.get(room or "")
    if at is None or zone is None or zone.space is None:
        return None
    return dist(zone.space.nearest((at.x, at.y)), (at.x, at.y))


def _name(house: House, room: str) -> str:
    return room if room == OUTSIDE else house.plan.zones[room].name


def _far(house: House, inches: float) -> str:
    return say_length(Length(inches), house.places.units, Fraction(1))


RULES = (point_outside_its_room, door_in_no_wall)
