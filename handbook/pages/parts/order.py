"""The order in which things are met on a walk: level by level, room by room, outdoors last."""

from collections.abc import Iterable

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.levels import caption, top_down
from handbook.record.grammar.places import OUTSIDE

ALL = "All of them"
"""The heading where no level is recorded of any."""


def walking(house: House, items: Iterable[Item]) -> tuple[Item, ...]:
    """Return the items in walking order; within a room as the record has them."""
    levels = [*top_down(house), OUTSIDE]
    rooms = list(house.places.rooms)
    last = max(len(levels), len(rooms))

    def rank(item: Item) -> tuple[int, int]:
        level = house.places.level_id(item.place)
        room = item.place.room if item.place else None
        return (
            levels.index(level) if level in levels else last,
            rooms.index(room) if room in rooms else last,
        )

    return tuple(sorted(items, key=rank))


def by_level(house: House, items: Iterable[Item]) -> tuple[tuple[str, tuple[Item, ...]], ...]:
    """Return (heading, its items in walking order) for each level that has any."""
    found: dict[str | None, list[Item]] = {}
    for item in walking(house, items):
        found.setdefault(house.places.level_id(item.place), []).append(item)
    if set(found) == {None}:
        return ((ALL, tuple(found[None])),)
    return tuple((caption(house, level), tuple(group)) for level, group in found.items())


def by_room(house: House, items: Iterable[Item]) -> tuple[tuple[str | None, tuple[Item, ...]], ...]:
    """Return (room id, or level id where no room is recorded; its items) in walking order."""
    found: dict[str | None, list[Item]] = {}
    for item in walking(house, items):
        room = item.place.room if item.place else None
        found.setdefault(room or house.places.level_id(item.place), []).append(item)
    return tuple((room, tuple(group)) for room, group in found.items())
