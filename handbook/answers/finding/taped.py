"""From what a thing can be taped: the outline it stands in or before, and the best pair of points.

Outdoors the tapes are held to corners of the building, indoors to corners of the room. Of all
pairs of corners that can be seen in a straight line, the one is taken at which the tapes cross
best. Close before a long wall no two corners cross well: there one tape starts from a mark on the
wall, itself taped from a corner, square across from the thing. Only where that fails too, a
landmark that stays (a hydrant, a manhole) is used; never a deck, a plant or a driveway.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations
from math import acos, ceil, degrees, dist, radians, sin

from handbook.answers.finding.corners import Corner, Frame, corners, frame, room_frame
from handbook.answers.finding.faces import Faces, faces
from handbook.answers.finding.sight import XY, Outline, cross, edges, foot, is_inside, off, sees
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.places import BY_EYE
from handbook.measures import Length, say_length
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.gas import Appliance
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.places import OUTSIDE, Site
from handbook.record.grammar.water import Equipment, Irrigation, Softener
from handbook.tables import table

HOUSE = "the house"
JUTS = "corner that sticks out into the room"
Pair = tuple[Corner, Corner]
BULKY = (Equipment, Softener, Heater, Irrigation, Appliance)
"""What stands in the way of a tape held near the ground."""


@dataclass(frozen=True)
class Plan:
    """One outline to tape from, `of` what, and the point to tape to."""

    outline: Outline
    corners: tuple[Corner, ...]
    axes: Frame
    indoors: bool
    point: XY
    of: str
    in_the_way: tuple[XY, ...] = ()
    steps: tuple[tuple[XY, XY], ...] = ()
    faces: Faces | None = None
    """Of a room: how its finished walls are known."""


def plan_of(house: House, item: Item) -> Plan | str:
    """Return the outline that a thing is taped from, or what the record lacks."""
    place, name = item.place, house.called(item.id)
    if place is None or place.at is None:
        return f"where {name} is on the plan (its `place: at`)"
    point = (place.at.x, place.at.y)
    level = house.places.level_id(place)
    if level is None:
        return f"whether {name} is indoors or outside (its `place: level`)"
    if OUTSIDE in (level, place.room):
        found = _outdoors(house, name, point)
    else:
        found = _indoors(house, name, place, level, point)
    if isinstance(found, str):
        return found
    return replace(found, in_the_way=_standing(house, item), steps=_steps(house, level))


def _steps(house: House, level: str) -> tuple[tuple[XY, XY], ...]:
    """Return the lines of the stairs on a level, from foot to head."""
    ends = [(flight.foot, flight.head) for flight in each(house.record.stairs)]
    here = [pair for pair in ends if level in {house.places.level_id(place) for place in pair}]
    return tuple(
        ((foot.at.x, foot.at.y), (head.at.x, head.at.y))
        for foot, head in here
        if foot.at and head.at
    )


def _standing(house: House, item: Item) -> tuple[XY, ...]:
    """Return where other things stand on a thing's level that a tape has to pass."""
    level = house.places.level_id(item.place)
    places = [
        other.place
        for other in house.items.values()
        if other.id != item.id and isinstance(other.entry, BULKY) and other.place
    ]
    here = [place for place in places if house.places.level_id(place) == level]
    return tuple((place.at.x, place.at.y) for place in here if place.at and place.depth is None)


def _outdoors(house: House, name: str, point: XY) -> Plan | str:
    site = house.record.site
    if site is None or not site.building:
        return "the building's corners (`site: building`)"
    outline = [(p.x, p.y) for p in site.building]
    if is_inside(outline, point) and not _at_wall(outline, point):
        return f"where {name} is: it stands outside, but its `at` lies inside the building"
    axes = frame(site, outline)
    named = corners(outline, axes, HOUSE, "inside corner", house.places.units)
    return Plan(outline, named, axes, False, point, HOUSE)


def _indoors(house: House, name: str, place: Place, level: str, point: XY) -> Plan | str:
    rooms = house.places.rooms
    if place.room in rooms:
        room = rooms[place.room][0]
    else:
        holding = [
            room
            for room in each(house.places.levels[level].rooms)
            if room.outline and is_inside([(p.x, p.y) for p in room.outline], point)
        ]
        if not holding:
            return f"which room {name} is in (its `place: room`)"
        room = holding[0]
    if not room.outline:
        return f"the outline of the {room.name.lower()} (`levels: rooms: outline`)"
    outline = [(p.x, p.y) for p in room.outline]
    if not is_inside(outline, point) and not _at_wall(outline, point):
        return f"where {name} is: its `at` lies outside the {room.name.lower()}"
    site = house.record.site or Site()
    axes = room_frame(site, [(p.x, p.y) for p in site.building or ()] or outline)
    of = f"the {room.name.lower()}"
    finished = faces(house, room.id)
    named = corners(finished.outline, axes, of, JUTS, house.places.units)
    return Plan(finished.outline, named, axes, True, point, of, faces=finished)


def best_pair(house: House, plan: Plan) -> Pair | None:
    """Return the two points from which tapes to the thing cross best; None if none cross well."""
    in_sight = [corner for corner in plan.corners if _can_tape(plan, corner.xy)]
    marks = _marks(house, plan)
    return (
        _best(combinations(in_sight, 2), plan)
        or _best(((corner, mark) for mark in marks for corner in in_sight), plan)
        or _best(_with_landmarks(house, plan, in_sight), plan)
    )


def stands_at_wall(plan: Plan) -> bool:
    """Whether a thing is so near to a wall, or in it, that one tape along it is enough."""
    inside = not plan.indoors or is_inside(plan.outline, plan.point)
    return not inside or _at_wall(plan.outline, plan.point)


def _at_wall(outline: Outline, point: XY) -> bool:
    return off(outline, point) < float(table("ties").values["on_the_wall_in"])


def _can_tape(plan: Plan, corner: XY) -> bool:
    longest = 12 * float(table("ties").values["longest_tape_ft"])
    reach = dist(corner, plan.point)
    return 1 < reach <= longest and sees(plan.outline, corner, plan.point, indoors=plan.indoors)


def _best(pairs: Iterable[Pair], plan: Plan) -> Pair | None:
    """Return the pair whose tapes meet least on their way and that forgives a slip best; among
    like ones, that with the shorter tapes."""
    limits, point = table("ties").values, plan.point
    good: list[tuple[int, int, float, str, Pair]] = []
    for a, b in pairs:
        angle = crossing(a, point, b)
        if limits["angle_least_deg"] <= angle <= limits["angle_most_deg"]:
            quarters = ceil(4 * (slip(angle) - 1))
            longer = max(dist(a.xy, point), dist(b.xy, point))
            good.append((_met(plan, (a, b)), quarters, longer, a.name, (a, b)))
    return min(good, key=lambda rated: rated[:4])[4] if good else None


def _met(plan: Plan, pair: Pair) -> int:
    """Return how many things stand so near to one of two tapes that it would have to bend, and
    how many stairs they cross."""
    near = float(table("ties").values["beside_tape_in"])
    crossed = sum(cross(corner.xy, plan.point, *line) for corner in pair for line in plan.steps)
    return crossed + sum(
        dist(at, foot(at, corner.xy, plan.point)) < near
        for corner in pair
        for at in plan.in_the_way
        if dist(at, plan.point) > near
    )


def _marks(house: House, plan: Plan) -> list[Corner]:
    """Return the mark on the nearest wall, square across from a thing that stands off it."""
    at = {corner.xy: corner.name for corner in plan.corners}
    walls = [wall for wall in edges(plan.outline) if wall[0] in at and wall[1] in at]
    if not walls or stands_at_wall(plan):
        return []
    a, b = min(walls, key=lambda wall: dist(foot(plan.point, *wall), plan.point))
    mark = foot(plan.point, a, b)
    if dist(a, mark) > dist(b, mark):
        a, b = b, a
    if not dist(a, mark) or not sees(plan.outline, mark, plan.point, indoors=plan.indoors):
        return []
    along = say_length(Length(dist(a, mark)), house.record.house.units, BY_EYE)
    other = at[b].split(" of ")[0]
    return [Corner(f"mark on the wall, {along} from the {at[a]} toward the {other}", *mark)]


def _with_landmarks(house: House, plan: Plan, in_sight: list[Corner]) -> Iterator[Pair]:
    """Yield each corner, and each landmark, with each landmark that stays where it is."""
    words = table("ties").values["fixed_features"]
    site = house.record.site
    if plan.indoors or site is None:
        return
    fixed = [
        Corner(f"middle of the {feature.name.lower()}", feature.place.at.x, feature.place.at.y)
        for feature in each(site.features)
        if feature.name
        and feature.place
        and feature.place.at
        and any(word in feature.name.lower() for word in words)
    ]
    seen = [mark for mark in fixed if _can_tape(plan, mark.xy)]
    yield from ((corner, mark) for corner in in_sight for mark in seen)
    yield from combinations(seen, 2)


def crossing(a: Corner, point: XY, b: Corner) -> float:
    """Return the angle at `point` between the tapes to `a` and `b`, in degrees."""
    one = (a.x - point[0], a.y - point[1])
    two = (b.x - point[0], b.y - point[1])
    lengths = dist(a.xy, point) * dist(b.xy, point)
    if not lengths:
        return 0.0
    cosine = (one[0] * two[0] + one[1] * two[1]) / lengths
    return degrees(acos(max(-1.0, min(1.0, cosine))))


def slip(angle_deg: float) -> float:
    """Return how far the point moves, in inches, when one tape is an inch out: 1 / sin(angle).

    It moves along the other tape's arc until it has gained an inch on the first tape.
    """
    return 1 / sin(radians(angle_deg))
