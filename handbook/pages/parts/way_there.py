"""The way to a thing on foot, for its own page: from the rooms that need it, or from the door."""

from handbook.answers.route import pace, route, said_walk
from handbook.answers.serves import stops
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Para, Strong, SubHead
from handbook.pages.words import capital
from handbook.record.grammar.places import OUTSIDE

WATER_VALVES = ("shutoff", "stop")


def way_there(house: House, item: Item) -> tuple[Block, ...]:
    """Return how to walk there from each room whose water it stops; else from the outer door."""
    said = [para for room in starts(house, item) if (para := _from(house, room, item.id))]
    if not said:
        return ()
    paced = f"Times are for {pace(house.record.house.units)}; looking for it comes on top."
    return (SubHead("The way there"), *said, Para((paced,)))


def starts(house: House, item: Item) -> tuple[str, ...]:
    """Return the rooms that the way is told from."""
    here = item.place.room if item.place else None
    rooms = _served(house, item) if item.kind in WATER_VALVES else ()
    return tuple(room for room in rooms or _front(house) if room != here)


def _from(house: House, room: str, thing: str) -> Para | None:
    answer = route(house, room, thing)
    if not answer.way:
        return None
    measured = said_walk(answer, house.record.house.units)
    name = house.places.rooms[room][0].name
    said = [f"{capital(measured)}." if measured else "", answer.way]
    said += [f"There: {answer.standing}." if answer.standing else ""]
    return Para((Strong(f"{name}: "), " ".join(part for part in said if part)))


def _served(house: House, item: Item) -> tuple[str, ...]:
    """The rooms whose fixtures get their water through a valve, in the order of the record."""
    lost = set(stops(house, item.id).supplies)
    owners = [owner for owner, own in house.water.own.items() if lost & set(own)]
    places = (house.items[owner].place for owner in owners)
    rooms = (place.room for place in places if place)
    return tuple(dict.fromkeys(room for room in rooms if room in house.places.rooms))


def _front(house: House) -> tuple[str, ...]:
    """The room behind the first outer door of the record."""
    zones = house.plan.zones
    for passage in house.plan.passages:
        if passage.kind in ("door", "opening") and zones[passage.b].name == OUTSIDE:
            return (passage.a,)
    return ()
