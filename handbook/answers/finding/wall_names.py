"""What a room's walls to the rooms beside it are called: one name for a wall, wherever it is named.

By the room behind it; where two walls lead to one room, by the side of the compass as well.
"""

from __future__ import annotations

from handbook.answers.finding.room_sides import Side, compass, foot, sides_toward
from handbook.answers.finding.surroundings import AT_THE_WALL
from handbook.house.house import House
from handbook.house.items import lower
from handbook.house.spaces import XY

TOWARD = "wall toward "
ONE_OF = "one of the walls"
"""How walls begin that nothing recorded tells apart: which of them is meant is not known."""
AT_IT = 12.0
"""Inches from a wall within which a point is at it, where the wall's name does not tell which."""


def toward(
    house: House, room: str, other: str, point: XY | None = None, told: str | None = None
) -> str:
    """Return what a room's wall to another is called: `wall toward the kitchen`.

    Of several it is the one on the side of the compass that is `told`, else the one at the point:
    `east wall toward the kitchen`.
    """
    several = sides_toward(house, room, other)
    if len(several) < 2:
        return _plain(house, other)
    named = {compass(house, side): called(house, room, other, side) for side in several}
    if told and told in named:
        return named[told]
    feet = [(met[0], side) for side in several if point and (met := foot(side, point))]
    near = sorted(each for each in feet if each[0] <= AT_THE_WALL)
    if not near or sum(away <= AT_IT for away, _ in near) > 1:
        return _one_of(house, other)
    return called(house, room, other, near[0][1])


def called(house: House, room: str, other: str, side: Side) -> str:
    """Return what one wall to another room is called, so that no other wall is called the same."""
    by = [compass(house, each) for each in sides_toward(house, room, other)]
    if len(by) < 2:
        return _plain(house, other)
    mine = compass(house, side)
    alone = mine and by.count(mine) == 1
    return f"{mine} {_plain(house, other)}" if alone else _one_of(house, other)


def leads_to(house: House, wall: str, other: str) -> bool:
    """Whether a wall of this name is one toward another room, whichever of them."""
    return wall.endswith(_plain(house, other).removeprefix("wall"))


def _plain(house: House, other: str) -> str:
    name = lower(house.places.rooms[other][0].name)
    return f"{TOWARD}{'' if name[-1].isdigit() else 'the '}{name}"


def _one_of(house: House, other: str) -> str:
    return f"{ONE_OF}{_plain(house, other).removeprefix('wall')}"
