"""What lies above, beside and below a room, from the outlines of the plan.

Rooms lie over each other where their outlines overlap, and beside each other where they share a
wall. Where outlines are missing, whole levels are taken instead, which finds too much rather than
too little; where not even the order of the levels is known, None says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import dist

from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.spaces import XY, Space
from handbook.record.grammar.common import each
from handbook.record.grammar.places import Level

LEAST_OVERLAP = 144.0
"""Square inches of overlap below which two rooms are not one above the other."""

WALL = 8.0
"""Inches between two outlines that are still one wall."""

SHARED = 12.0
"""Inches of wall that two neighbours share at the least."""

AT_THE_WALL = 36.0
"""Inches from a wall within which a fixture stands at it."""


@dataclass(frozen=True)
class Surroundings:
    """Room ids; None where it cannot be told. `assumed` says what was taken for granted."""

    above: tuple[str, ...] | None
    beside: tuple[str, ...] | None
    below: tuple[str, ...] | None
    assumed: tuple[str, ...]


def surroundings(house: House, room: str) -> Surroundings:
    """Return what lies round a room. The room must be one of the record's."""
    level = house.places.rooms[room][1]
    assumed: list[str] = []
    up, down = _next_levels(house, level)
    return Surroundings(
        _over(house, room, up, "above", assumed),
        _beside(house, room, level, assumed),
        _over(house, room, down, "below", assumed),
        tuple(assumed),
    )


def _next_levels(house: House, level: Level) -> tuple[Level | str | None, Level | str | None]:
    """The next level up and down: the level, `""` for none, None where it is not known."""
    levels = list(house.places.levels.values())
    if len(levels) == 1:
        return "", ""
    if not all(one.elevation for one in levels):
        return None, None
    levels.sort(key=lambda one: one.elevation.inches if one.elevation else 0.0)
    at = levels.index(level)
    return (levels[at + 1] if at + 1 < len(levels) else ""), (levels[at - 1] if at else "")


def _over(
    house: House, room: str, level: Level | str | None, where: str, assumed: list[str]
) -> tuple[str, ...] | None:
    """The rooms of a level whose outlines overlap this room's."""
    if level is None or isinstance(level, str):
        return None if level is None else ()
    mine = house.plan.zones[room].space
    others = [other.id for other in each(level.rooms)]
    if mine is None and others:
        name, level_name = _named(house, [room]), level.name.lower()
        assumed.append(
            f"No outline of {name} is recorded: the whole {level_name} is taken to lie {where}."
        )
    if mine is None:
        return tuple(others)
    shapes = {other: house.plan.zones[other].space for other in others}
    _unknown(house, [other for other in others if shapes[other] is None], where, assumed)
    return tuple(
        other
        for other, theirs in shapes.items()
        if theirs is None or mine.polygon.intersection(theirs.polygon).area >= LEAST_OVERLAP
    )


def _beside(house: House, room: str, level: Level, assumed: list[str]) -> tuple[str, ...] | None:
    mine = house.plan.zones[room].space
    others = [other.id for other in each(level.rooms) if other.id != room]
    if mine is None:
        return None if others else ()
    shapes = {other: house.plan.zones[other].space for other in others}
    _unknown(house, [other for other in others if shapes[other] is None], "beside", assumed)
    return tuple(
        other for other, theirs in shapes.items() if theirs is None or _share_a_wall(mine, theirs)
    )


def _unknown(house: House, rooms: list[str], where: str, assumed: list[str]) -> None:
    """Say of rooms without an outline, all of them at once, where they are taken to lie."""
    if rooms:
        names = _named(house, rooms)
        assumed.append(f"No outline of {names} is recorded: taken to lie {where}.")


def _share_a_wall(mine: Space, theirs: Space) -> bool:
    grown = mine.polygon.buffer(WALL, join_style="mitre", cap_style="flat")
    line = theirs.polygon.exterior.intersection(grown)
    return bool(line.length >= SHARED)


def at_wall_of(house: House, item: Item, room: str) -> bool:
    """Whether a thing in a neighbouring room stands at this room's wall; so if nobody knows."""
    space = house.plan.zones[room].space
    point = house.plan.anchor(item.place).point
    if space is None or point is None:
        return True
    near: XY = space.nearest(point)
    return dist(near, point) <= AT_THE_WALL


def _named(house: House, rooms: list[str]) -> str:
    *names, last = [house.places.rooms[room][0].name for room in rooms]
    return f"{', '.join(names)} and {last}" if names else last
