"""The straight walls of a room as somebody in it faces them, and which room is behind each.

From the finished outlines of the plan, each wall from its left corner to its right one.
"""

from __future__ import annotations

from itertools import pairwise
from math import dist, hypot

from handbook.answers.finding.corners import Frame
from handbook.answers.finding.faces import faces
from handbook.answers.finding.hidden_pipes import Piped
from handbook.answers.finding.surroundings import SHARED, WALL
from handbook.house.house import House
from handbook.house.once import once
from handbook.house.spaces import XY
from handbook.record.grammar.common import Place, each, given
from handbook.record.grammar.fixtures import GasConnection, WaterConnection

Side = tuple[XY, XY]
"""A straight piece of wall, from its left corner to its right one, seen from inside."""

STEP = SHARED / 2
"""Inches from one place of a wall to the next at which it is looked what lies behind."""


@once
def sides(house: House, room: str) -> tuple[Side, ...]:
    """Return the walls of a room that has an outline."""
    if house.plan.zones[room].space is None:
        return ()
    return _sides(faces(house, room).outline)


@once
def sides_toward(house: House, room: str, other: str) -> tuple[Side, ...]:
    """Return the walls of a room behind which the other room lies, somewhere along them."""
    return tuple(side for side in sides(house, room) if _leads(house, room, side, other))


def compass(house: House, side: Side) -> str:
    """Return on which side of its room a wall is, by the compass; empty without a known north."""
    site, (x, y) = house.record.site, _outward(side)
    if site is None or site.north is None:
        return ""
    return Frame((0.0, 1.0), "compass", float(site.north)).wind((x, y))


def foot(side: Side, point: XY) -> tuple[float, float] | None:
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


def beyond(house: House, room: str, side: Side, at: float) -> str | None:
    """Return the room behind a wall at this place along it; None where there is none."""
    (ax, ay), (bx, by) = side
    length, (ox, oy) = dist(*side), _outward(side)
    along = at / length
    behind = (
        ax + along * (bx - ax) + 1.5 * WALL * ox,
        ay + along * (by - ay) + 1.5 * WALL * oy,
    )
    for other in each(house.places.rooms[room][1].rooms):
        space = house.plan.zones[other.id].space
        if other.id != room and space is not None and space.holds(behind):
            return other.id
    return None


def end_point(house: House, pipe: Piped, room: str) -> XY | None:
    """Return where on a room's level a pipe ends; a stack stands over one point on all levels."""
    item, place = house.items[pipe.thing], _end(house, pipe)
    level = house.places.rooms[room][1].id
    here = item.kind == "stack" or house.places.level_id(place) == level
    return house.plan.anchor(place).point if here else None


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


def _leads(house: House, room: str, side: Side, other: str) -> bool:
    """Whether two places next to each other along a wall have the other room behind them."""
    steps = int(dist(*side) / STEP)
    behind = [beyond(house, room, side, STEP * step) == other for step in range(1, steps)]
    return any(one and then for one, then in pairwise(behind))


def _outward(side: Side) -> XY:
    """Return the step of one inch out of the room: to the left of a clockwise ring's direction."""
    (ax, ay), (bx, by) = side
    length = dist(*side)
    return (ay - by) / length, (bx - ax) / length


def _sides(outline: tuple[XY, ...]) -> tuple[Side, ...]:
    """Return the walls of an outline, each from left to right as seen from inside."""
    from shapely import Polygon
    from shapely.geometry.polygon import orient

    # Clockwise, as one faces a side from inside it runs from left to right.
    ring = orient(Polygon(outline).simplify(0.5), sign=-1.0).exterior.coords
    corners = [(float(x), float(y)) for x, y in ring]
    straight = [*pairwise(corners)]
    if len(straight) > 1 and _in_line(straight[-1], straight[0]):
        straight = [(straight[-1][0], straight[0][1]), *straight[1:-1]]
    return tuple(straight)


def _in_line(first: Side, then: Side) -> bool:
    (ax, ay), (bx, by) = first
    cx, cy = then[1]
    return abs((bx - ax) * (cy - by) - (by - ay) * (cx - bx)) < 1.0
