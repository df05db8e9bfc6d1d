"""On which band of a riser diagram a thing stands, and where on the plan, as far as recorded."""

from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.pages.riser.content import OUTDOORS, RiserLevel
from handbook.record.grammar.common import Place
from handbook.record.grammar.places import Level

NOWHERE = ""
"""The level of what has none recorded."""

UNDER = "/under"
"""Ends the id of the band under a level's floor."""


def level_of(house: House, place: Place | None) -> str:
    """Return the id of the band that a place is in, or NOWHERE."""
    return house.places.level_id(place) or NOWHERE


def at_of(house: House, place: Place | None) -> tuple[float, float] | None:
    """Return where a place is on the plan, in feet: its point, else the middle of its room."""
    if place is None:
        return None
    if place.at is not None:
        return place.at.x / 12, place.at.y / 12
    room, _ = house.places.rooms.get(place.room or "", (None, None))
    corners = (room.outline if room else None) or ()
    if not corners:
        return None
    n = 12 * len(corners)
    return sum(p.x for p in corners) / n, sum(p.y for p in corners) / n


def height_of(place: Place | None) -> float | None:
    """Return a place's height above its floor in feet, or None."""
    return place.height.feet if place and place.height is not None else None


def levels_from_top(house: House) -> list[Level]:
    """Return the levels, the highest first; in the record's order where no heights are known."""
    levels = list(house.places.levels.values())
    if all(level.elevation is not None for level in levels):
        return sorted(levels, key=_elevation, reverse=True)
    return levels[::-1]


def _elevation(level: Level) -> float:
    return level.elevation.inches if level.elevation is not None else 0.0


def bands(house: House, used: set[str], roof: str | None = None) -> tuple[RiserLevel, ...]:
    """Return the bands that hold something, from the top down, with what their lines say."""
    found = [RiserLevel(roof, "Roof")] if roof else []
    for level in levels_from_top(house):
        below = f"{level.id}{UNDER}"
        if level.id in used or below in used:
            found.append(RiserLevel(level.id, _said(house, level.name, level.elevation)))
        if below in used:
            found.append(RiserLevel(below, ""))
    if NOWHERE in used:
        found.append(RiserLevel(NOWHERE, "Level not recorded"))
    if OUTDOORS in used:
        grade = house.record.site.grade if house.record.site else None
        found.append(RiserLevel(OUTDOORS, _said(house, "Outside", grade, "ground")))
    return tuple(found)


def _said(house: House, name: str, height: Length | None, what: str = "floor") -> str:
    if height is None:
        return name
    said = say_length(height, house.record.house.units)
    sign = "+" if height.inches > 0 else ""
    return f"{name}, {what} at {sign}{said}"


def lowest(house: House) -> str:
    """Return the band under the lowest floor; NOWHERE where no level is recorded."""
    levels = levels_from_top(house)
    return f"{levels[-1].id}{UNDER}" if levels else NOWHERE


def under_floor(house: House, invert: Length | None) -> str | None:
    """Return the band under the floor that a drain with this invert lies under, or None.

    That is the next floor above it, if it lies above the ceiling of the level below, or if there
    is no level below. None where the inverts, floors or ceilings that say so are not recorded.
    """
    levels = [level for level in levels_from_top(house) if level.elevation is not None]
    if invert is None or not levels:
        return None
    above = [level for level in levels if _elevation(level) > invert.inches]
    if not above:
        return None
    floor = above[-1]
    if floor is levels[-1]:
        return f"{floor.id}{UNDER}"
    below = levels[levels.index(floor) + 1]
    if below.ceiling is None or _elevation(below) + below.ceiling.inches > invert.inches:
        return None
    return f"{floor.id}{UNDER}"
