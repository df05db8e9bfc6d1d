"""Flights of stairs as a level shows them: treads from where one sets foot, and UP or DN.

A flight is drawn from its foot toward its head, round its turns, as far as the room reaches in
which it starts. Without a recorded number of steps there are no treads, only the line up or down.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from handbook.house.house import House
from handbook.pages.plan.geometry import distance, inside, leaves, point, tidy, toward
from handbook.pages.plan.shapes import Flight, Outline, Point, Room
from handbook.record.grammar.common import each, given
from handbook.tables import table

WIDEST = 36.0
"""Inches to either side of a flight's middle within which a wall is taken for its side."""


def flights(house: House, level: str, rooms: Sequence[Room]) -> tuple[Flight, ...]:
    """Return every flight that starts or ends on a level and whose two ends are on the plan."""
    found: list[Flight] = []
    for stair in each(house.record.stairs):
        if stair.foot.at is None or stair.head.at is None:
            continue
        way = [point(p) for p in (stair.foot.at, *(stair.turns or ()), stair.head.at)]
        if house.places.level_id(stair.foot) == level:
            found += _legs(way, stair.steps, rooms, "UP")
        if house.places.level_id(stair.head) == level:
            found += _legs(way[::-1], stair.steps, rooms, "DN")
    return tuple(found)


def outdoor_steps(house: House) -> tuple[Flight, ...]:
    """Return the steps outside outer doors that have both their ends on the plan."""
    found: list[Flight] = []
    for level in house.places.levels.values():
        for door in each(level.doors):
            steps = given(door.steps)
            if steps and steps.starts and steps.ends:
                way = [point(steps.starts), point(steps.ends)]
                found += _legs(way, steps.count, (), "DN")
    return tuple(found)


def _legs(
    way: Sequence[Point], steps: int | None, rooms: Sequence[Room], word: str
) -> Iterator[Flight]:
    """Yield the straight parts of a flight, from where one sets foot, until it leaves its room."""
    well = next((room.outline for room in rooms if inside(room.outline, way[0])), ())
    run = sum(distance(a, b) for a, b in pairwise(way))
    going = run / (steps - 1) if steps and steps > 1 else 0.0
    for start, end in pairwise(way):
        far = leaves(well, start, end) if well else None
        yield _flight(well, (start, end), far or distance(start, end), going, word)
        if far is not None:
            return
        word = ""


def _flight(
    well: Outline, ends: tuple[Point, Point], far: float, going: float, word: str
) -> Flight:
    """Return a straight flight, `far` inches of it, with a tread every `going`."""
    start, end = ends
    left, right = _half(well, start, end, 1), _half(well, start, end, -1)
    count = int((far + 0.5) / going) + 1 if going else 0
    treads = tuple(_across(start, end, i * going, left, right) for i in range(count))
    low, high = _across(start, end, 0, left, right), _across(start, end, far, left, right)
    outline = tidy((low[0], low[1], high[1], high[0]))
    return Flight(treads, outline, start, tidy((toward(start, end, far),))[0], word)


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
