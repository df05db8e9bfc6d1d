"""How far along a room's wall stands what a pipe in it ends at, for somebody about to drill.

Counted from the left corner of the finished walls as one faces the wall from inside the room. A
supply ends at its stop, from where a hose or a connector goes on to the fixture. Known
only where the end has a point on the plan, on the room's level; a stack stands over one point on
all levels that it passes.
"""

from itertools import pairwise
from math import dist, hypot

from handbook.answers.finding.faces import faces
from handbook.answers.finding.hidden_pipes import Piped
from handbook.answers.finding.surroundings import AT_THE_WALL, WALL
from handbook.answers.finding.which_wall import toward
from handbook.house.house import House
from handbook.house.spaces import XY
from handbook.record.grammar.common import Place, each, given
from handbook.record.grammar.fixtures import GasConnection, WaterConnection

Side = tuple[XY, XY]
"""A straight piece of wall, from its left corner to its right one, seen from inside."""

AT_IT = 12.0
"""Inches from a wall within which a point is at it, where the wall's name does not tell which."""


def along(house: House, pipe: Piped, room: str, wall: str) -> float | None:
    """Return the inches along the room's wall of that name; None where the record has no point
    for it there."""
    item = house.items[pipe.thing]
    place = _end(house, pipe)
    point, space = house.plan.anchor(place).point, house.plan.zones[room].space
    level = house.places.rooms[room][1].id
    upright = item.kind == "stack" or house.places.level_id(place) == level
    if point is None or space is None or not upright:
        return None
    named = wall.startswith("wall toward ")
    near = [
        (away, at)
        for side in _sides(faces(house, room).outline)
        if (found := _foot(side, point)) is not None
        for away, at in [found]
        if away <= (AT_THE_WALL if named else AT_IT)
        if not named or _beyond(house, room, side, at) == wall
    ]
    return min(near)[1] if near else None


def _end(house: House, pipe: Piped) -> Place | None:
    """The place of the stop that ends a supply, if it has a point; else of the thing it serves."""
    item = house.items[pipe.thing]
    side = "gas" if pipe.system == "gas" else pipe.end.rpartition(".")[2]
    connection = given(getattr(item.entry, side, None)) if pipe.system != "drain" else None
    match connection:
        case GasConnection():
            stop = given(connection.shutoff)
        case WaterConnection():
            stop = given(connection.stop)
        case _:
            stop = None
    place = house.items[stop.id].place if stop else None
    return place if house.plan.anchor(place).point else item.place


def _sides(outline: tuple[XY, ...]) -> list[Side]:
    """Return the walls of an outline, each from left to right as seen from inside."""
    from shapely import Polygon
    from shapely.geometry.polygon import orient

    # Clockwise, as one faces a side from inside it runs from left to right.
    ring = orient(Polygon(outline).simplify(0.5), sign=-1.0).exterior.coords
    corners = [(float(x), float(y)) for x, y in ring]
    straight = [*pairwise(corners)]
    if len(straight) > 1 and _in_line(straight[-1], straight[0]):
        straight = [(straight[-1][0], straight[0][1]), *straight[1:-1]]
    return straight


def _in_line(first: Side, then: Side) -> bool:
    (ax, ay), (bx, by) = first
    cx, cy = then[1]
    return abs((bx - ax) * (cy - by) - (by - ay) * (cx - bx)) < 1.0


def _foot(side: Side, point: XY) -> tuple[float, float] | None:
    """Return how far a point is from a wall, and how far along it; None beyond its ends."""
    (ax, ay), (bx, by) = side
    length = dist(*side)
    if not length:
        return None
    dx, dy = (bx - ax) / length, (by - ay) / length
    at = (point[0] - ax) * dx + (point[1] - ay) * dy
    if not 0 <= at <= length:
        return None
    return hypot(point[0] - ax - at * dx, point[1] - ay - at * dy), at


def _beyond(house: House, room: str, side: Side, at: float) -> str:
    """Name the wall by the room behind it at this place; empty where there is none."""
    (ax, ay), (bx, by) = side
    length = dist(*side)
    dx, dy = (bx - ax) / length, (by - ay) / length
    # Outward of a clockwise ring is to the left of its direction.
    behind = (ax + at * dx - dy * 1.5 * WALL, ay + at * dy + dx * 1.5 * WALL)
    for other in each(house.places.rooms[room][1].rooms):
        space = house.plan.zones[other.id].space
        if other.id != room and space is not None and space.holds(behind):
            return toward(house, other.id)
    return ""
