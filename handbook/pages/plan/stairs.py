"""Flights of stairs as a level shows them: treads from where one sets foot, and UP or DN.

A flight is drawn straight from its foot toward its head, as far as the room reaches in which it
starts. Without a recorded number of steps there are no treads, only the line up or down.
"""

from collections.abc import Sequence

from handbook.house.house import House
from handbook.pages.plan.geometry import distance, inside, leaves, point, tidy, toward
from handbook.pages.plan.shapes import Flight, Outline, Point, Room
from handbook.record.grammar.common import each
from handbook.record.grammar.places import Stair
from handbook.tables import table

WIDEST = 36.0
"""Inches to either side of a flight's middle within which a wall is taken for its side."""


def flights(house: House, level: str, rooms: Sequence[Room]) -> tuple[Flight, ...]:
    """Return every flight that starts or ends on a level and whose two ends are on the plan."""
    found = []
    for stair in each(house.record.stairs):
        if stair.foot.at is None or stair.head.at is None:
            continue
        foot, head = point(stair.foot.at), point(stair.head.at)
        if house.places.level_id(stair.foot) == level:
            found.append(_flight(stair, foot, head, rooms, "UP"))
        if house.places.level_id(stair.head) == level:
            found.append(_flight(stair, head, foot, rooms, "DN"))
    return tuple(found)


def _flight(stair: Stair, start: Point, end: Point, rooms: Sequence[Room], word: str) -> Flight:
    well = next((room.outline for room in rooms if inside(room.outline, start)), ())
    run = distance(start, end)
    far = (leaves(well, start, end) if well else None) or run
    left, right = _half(well, start, end, 1), _half(well, start, end, -1)
    treads = []
    if stair.steps and stair.steps > 1 and run:
        going = run / (stair.steps - 1)
        treads = [
            _across(start, end, i * going, left, right)
            for i in range(stair.steps)
            if i * going <= far + 0.5
        ]
    reach = toward(start, end, far)
    low, high = _across(start, end, 0, left, right), _across(start, end, far, left, right)
    outline = tidy((low[0], low[1], high[1], high[0]))
    return Flight(tuple(treads), outline, start, tidy((reach,))[0], word)


def _half(well: Outline, start: Point, end: Point, hand: int) -> float:
    """Return how wide a flight is to one hand: to the wall, or half the usual least width."""
    usual: float = table("map_walls").values["stair_in"] / 2
    middle = toward(start, end, min(distance(start, end), 12.0))
    aside = _aside(middle, start, end, WIDEST * hand)
    met = leaves(well, middle, aside) if well else None
    return (met if met is not None else usual) * hand


def _aside(at: Point, start: Point, end: Point, far: float) -> Point:
    """Return the point `far` to the left of the way from start to end, beside `at`."""
    length = distance(start, end) or 1.0
    return (
        at[0] - (end[1] - start[1]) * far / length,
        at[1] + (end[0] - start[0]) * far / length,
    )


def _across(start: Point, end: Point, far: float, left: float, right: float) -> tuple[Point, Point]:
    at = toward(start, end, far)
    a, b = tidy((_aside(at, start, end, left), _aside(at, start, end, right)))
    return a, b
