"""A way on foot as lines on the plans of the levels that it crosses.

The shortest way touches the corners that it turns round, and runs inside the wall from one of its
doors to the next; on a map it keeps off the corners and steps through doors, as a person does.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from math import hypot

from handbook.answers.finding.directions import path
from handbook.house.floor_plan import Anchor
from handbook.house.house import House
from handbook.pages.plan.geometry import distance, edges, inside, tidy
from handbook.pages.plan.shapes import Outline, Point, Room
from handbook.record.grammar.places import OUTSIDE

OFF_CORNER = 10.0
"""Inches that a drawn way keeps off a corner that it turns round."""


STEP = 16.0
"""Inches that a drawn way steps out of a door before it turns along the wall."""

ON_WALL = 1.5
"""Inches within which a point lies on the line of a wall."""


@dataclass(frozen=True)
class Leg:
    """The part of a way that lies on one level: its points, in the order of walking."""

    level: str
    points: Outline


def legs(walked: Sequence[tuple[str, Sequence[Point]]]) -> tuple[Leg, ...]:
    """Join the parts of a way, zone by zone, into one line a level."""
    found = []
    for level, parts in groupby(walked, key=lambda part: part[0]):
        points = [point for _, part in parts for point in part]
        kept = [points[0], *(b for a, b in pairwise(points) if distance(a, b) > 0.5)]
        found.append(Leg(level, tidy(kept)))
    return tuple(leg for leg in found if len(leg.points) > 1 or leg is found[-1])


def stepped(
    house: House, zones: Sequence[str], walked: Sequence[tuple[str, Sequence[Point]]]
) -> list[tuple[str, Sequence[Point]]]:
    """Return the parts of a way, each stepping into its zone from the doors at its ends."""
    found: list[tuple[str, Sequence[Point]]] = []
    for zone, (level, points) in zip(zones, walked, strict=False):
        space = house.plan.zones[zone].space
        if space is not None and len(points) > 1:
            first = _into(space.outline, points[0], around=space.around)
            last = _into(space.outline, points[-1], around=space.around)
            found.append((level, (points[0], *first, *points[1:-1], *last, points[-1])))
        else:
            found.append((level, points))
    return found


def _into(outline: Outline, at: Point, *, around: bool) -> tuple[Point, ...]:
    """Return the point a step into a space from a door in its outline; none from elsewhere."""
    for a, b in edges(outline):
        long = distance(a, b)
        ux, uy = (b[0] - a[0]) / (long or 1.0), (b[1] - a[1]) / (long or 1.0)
        along = (at[0] - a[0]) * ux + (at[1] - a[1]) * uy
        if abs((at[1] - a[1]) * ux - (at[0] - a[0]) * uy) > ON_WALL or not 0 < along < long:
            continue
        sides = [(at[0] - uy * side, at[1] + ux * side) for side in (STEP, -STEP)]
        return tuple(side for side in sides if inside(outline, side) != around)[:1]
    return ()


def off_corners(leg: Leg, rooms: Sequence[Room]) -> Outline:
    """Return a leg's points, those at corners of rooms moved away from the wall."""
    corners = [corner for room in rooms for corner in room.outline]
    moved = [*leg.points]
    for i in range(1, len(leg.points) - 1):
        a, at, b = leg.points[i - 1 : i + 2]
        if any(distance(at, corner) < 1.0 for corner in corners):
            moved[i] = _outward(a, at, b)
    return tidy(moved)


def nearest_way(house: House, thing: str) -> tuple[Leg, ...]:
    """Return the way to a thing from the nearest stairs or outer door of its level; none where
    it cannot be measured."""
    item = house.items[thing]
    owner = house.items.get(item.owner or "")
    goal = house.plan.anchor(item.place, owner.place if owner else None)
    if goal.zone is None or goal.point is None:
        return ()
    level = house.plan.zones[goal.zone].level
    ways = [(house.plan.walks.to(start, goal), start) for start in _ways_in(house, level)]
    measured = [(walk.length, walk, start) for walk, start in ways if walk and walk.length]
    if not measured:
        return ()
    _, walk, start = min(measured, key=lambda way: way[0])
    return legs(stepped(house, walk.zones, list(path(house.plan, walk, start, goal))))


def _ways_in(house: House, level: str | None) -> list[Anchor]:
    """Return where one comes onto a level: the ends of its stairs, its outer doors; for the
    ground, the steps or doors that lead out onto it."""
    found = []
    for passage in house.plan.passages:
        for zone in (passage.a, passage.b):
            other = passage.other(zone)
            if house.plan.zones[zone].level != level or not passage.line:
                continue
            outer = passage.kind == "door" and house.plan.zones[other].name == OUTSIDE
            if passage.kind in ("stairs", "steps") or outer or OUTSIDE in (zone, other):
                found.append(Anchor(zone, passage.toward(zone)[-1]))
    return found


def _outward(a: Point, at: Point, b: Point) -> Point:
    """Move a bend away from the corner on its inside."""
    before, after = distance(a, at) or 1.0, distance(at, b) or 1.0
    x = (a[0] - at[0]) / before + (b[0] - at[0]) / after
    y = (a[1] - at[1]) / before + (b[1] - at[1]) / after
    long = hypot(x, y)
    if long < 0.05:
        return at
    return (at[0] - x / long * OFF_CORNER, at[1] - y / long * OFF_CORNER)
