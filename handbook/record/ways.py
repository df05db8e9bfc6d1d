"""Doors and stairs that contradict themselves: a door into its own room, stairs to nowhere."""

from collections.abc import Iterator

from handbook.record.grammar import places
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.record import Record
from handbook.record.problems import Problem

Levels = dict[str, places.Level]
"""The level of each room, by the room's id."""


def levels(record: Record, lost: set[str]) -> Levels:
    """Return the level of each room; a room whose id is `lost` too may be on another."""
    found = ((room.id, level) for level in each(record.levels) for room in each(level.rooms))
    return {room: level for room, level in found if room not in lost}


def check_ways(record: Record, lost: set[str]) -> Iterator[Problem]:
    """Yield a problem for each door and each flight of stairs that cannot be walked."""
    level_of = levels(record, lost)
    for level in each(record.levels):
        for door in each(level.doors):
            yield from _door(door, level, level_of)
    for stair in each(record.stairs):
        yield from _stair(stair, level_of)


def _door(door: places.Door, level: places.Level, level_of: Levels) -> Iterator[Problem]:
    first, second = door.between
    mark = door.mark_of("between")
    if first == second:
        yield Problem(
            mark,
            f"this door leads from `{first}` to `{first}`",
            "name the two rooms that it joins; out of the house: `[kitchen, outside]`",
        )
        return
    if isinstance(door.swings_into, str) and door.swings_into not in door.between:
        yield Problem(
            door.mark_of("swings_into"),
            f"this door joins `{first}` and `{second}`, so it cannot swing into "
            f"`{door.swings_into}`",
            f"write the room that its leaf comes into: `{first}` or `{second}`",
        )
    for room in door.between:
        found = level_of.get(room)
        if found is not None and found.id != level.id:
            yield Problem(
                mark,
                f"this door is on the level `{level.id}`, but `{room}` is on `{found.id}`",
                "a door joins rooms of one level; what joins two levels goes under `stairs`",
            )


def _stair(stair: places.Stair, level_of: Levels) -> Iterator[Problem]:
    foot, head = (_level(place, level_of) for place in (stair.foot, stair.head))
    if foot is not None and foot == head and foot != places.OUTSIDE:
        yield Problem(
            stair.mark_of("head"),
            f"the foot and the head of these stairs are both on the level `{foot}`",
            "give `foot` the lower level's room and `head` the upper one's",
        )


def _level(place: Place, level_of: Levels) -> str | None:
    if place.room in level_of:
        return level_of[place.room].id
    return places.OUTSIDE if place.room == places.OUTSIDE else place.level
