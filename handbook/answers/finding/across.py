"""Which room lies behind the wall that somebody in a room looks at."""

from math import cos, dist, radians, sin

from handbook.answers.finding.surroundings import WALL
from handbook.house.house import House
from handbook.house.spaces import XY
from handbook.record.grammar.common import Place, each

BEARINGS = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}

FAR = 12_000.0
"""Inches: longer than any room."""

BEYOND = 1.5 * WALL
"""Inches past the near face of a wall at which one is behind it."""


def across(house: House, place: Place | None, looks: str | None) -> str | None:
    """Return the room behind the wall that is looked at from a point of a room, by the compass.

    None where there is none, or a fact is missing: the point, the room's outline, north.
    """
    site = house.record.site
    if place is None or place.room is None or place.at is None or looks not in BEARINGS:
        return None
    space = house.plan.zones[place.room].space
    if space is None or site is None or site.north is None:
        return None
    turn = radians(BEARINGS[looks] + float(site.north))
    ahead = (sin(turn), cos(turn))
    start = house.plan.anchor(place).point
    wall = _wall(space.outline, start, ahead) if start else None
    if wall is None:
        return None
    behind = (wall[0] + ahead[0] * BEYOND, wall[1] + ahead[1] * BEYOND)
    level = house.places.rooms[place.room][1]
    for other in each(level.rooms):
        found = house.plan.zones[other.id].space
        if other.id != place.room and found is not None and found.holds(behind):
            return other.id
    return None


def _wall(outline: tuple[XY, ...], start: XY, ahead: XY) -> XY | None:
    """Return where a look from `start` meets the outline first."""
    from shapely import LineString, get_coordinates

    look = LineString([start, (start[0] + ahead[0] * FAR, start[1] + ahead[1] * FAR)])
    met = get_coordinates(look.intersection(LineString([*outline, outline[0]])))
    points = [(float(x), float(y)) for x, y in met]
    return min(points, key=lambda point: dist(point, start), default=None)
