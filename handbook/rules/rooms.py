"""Rules for rooms and levels: outlines that can be, and shutoffs that are not above the ceiling."""

from collections.abc import Iterator
from itertools import combinations, pairwise

from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.spaces import Space
from handbook.measures import Length, say_length
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.places import OUTSIDE, Level, Room
from handbook.rules import facts
from handbook.rules.looks import shutoffs
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Gap, Outcome, rule, told
from handbook.tables import table

OPEN_JOISTS = 10.0
"""Inches above a ceiling's height within which a shutoff may stand between open joists (2x10)."""

CEILING_VOID = 24.0
"""Inches above a ceiling within which a shutoff may be hidden over it, by its `behind`."""


def _drawn(house: House, level: Level) -> Iterator[tuple[Room, Space | None]]:
    """Yield the rooms of a level that have an outline, each with its space; None: it has none."""
    for room in each(level.rooms):
        if room.outline is not None:
            yield room, house.plan.zones[room.id].space


@rule(
    "RC-05",
    "outline-crosses-itself",
    "fault",
    why="No room has such walls: it can be neither drawn nor walked through.",
    remedy="List its corners again, one after the other in the order in which you pass them.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def outline_crosses_itself(house: House) -> Iterator[Outcome]:
    """Each room's outline goes round the room once and never crosses itself."""
    yield from told(house.record.levels, facts.ROOMS)
    for level in each(house.record.levels):
        for room, space in _drawn(house, level):
            if space is None:
                said = f"The outline of the {room.name} crosses itself, or encloses nothing"
                yield Broken(None, said, room.mark_of("outline"))
            else:
                yield Clear()


@rule(
    "RC-06",
    "rooms-overlap",
    "fault",
    why="What lies where they overlap is in two rooms at once, and is looked for in the wrong one.",
    remedy="Measure both again: corners are how far right, then how far up, on one plan for all.",
    stages=("rough-in", "handover"),
    table="map_walls",
)
def rooms_overlap(house: House) -> Iterator[Outcome]:
    """No two rooms of a level overlap by more than the thickness of a wall."""
    wall = float(table("map_walls").values["outer_in"])
    yield from told(house.record.levels, facts.ROOMS)
    for level in each(house.record.levels):
        drawn = [(room, space) for room, space in _drawn(house, level) if space]
        yield from (Clear() for _ in drawn)
        for (one, first), (other, second) in combinations(drawn, 2):
            if first.overlaps(second, wall):
                said = f"The {one.name} and the {other.name} overlap on the {level.name}"
                yield Broken(None, said, other.mark_of("outline"))


@rule(
    "RC-16",
    "room-too-small",
    "gap",
    why="What stands in it is drawn, and walked to, in a room that nobody can enter.",
    remedy="Measure again, each corner with its unit: `12 ft`, not `12 in`.",
    stages=("rough-in", "handover"),
    table="room_sizes",
)
def room_too_small(house: House) -> Iterator[Outcome]:
    """Each room's outline is as large as a shallow closet at least."""
    yield from told(house.record.levels, facts.ROOMS)
    for level in each(house.record.levels):
        for room, space in _drawn(house, level):
            if space:
                yield _size(house, room, space)


def _size(house: House, room: Room, space: Space) -> Outcome:
    least, (left, low, right, high) = table("room_sizes").values, space.polygon.bounds
    sides = (right - left, high - low)
    square_feet = space.polygon.area / 144
    if min(sides) >= least["least_side_in"] and square_feet >= least["least_area_sq_ft"]:
        return Clear()
    wide, deep = (say_length(Length(side), house.record.house.units) for side in sides)
    said = f"The {room.name} is recorded {wide} wide and {deep} deep, which hardly any room is"
    return Gap(None, said, room.mark_of("outline"), room_too_small.remedy)


@rule(
    "RC-07",
    "level-out-of-order",
    "fault",
    why="Heights, pressures and the way up or down the stairs are reckoned from the levels.",
    remedy="Put `elevation` right (it is below zero under the main floor), list the levels from "
    "the lowest up, and give each stair's `foot` its lower end.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def level_out_of_order(house: House) -> Iterator[Outcome]:
    """The levels are listed from the lowest up, and each stair's foot is below its head."""
    yield from told(house.record.levels, facts.ROOMS)
    for level in each(house.record.levels):
        yield CannotTell(facts.ELEVATION, None) if level.elevation is None else Clear()
    known = [level for level in each(house.record.levels) if level.elevation is not None]
    for below, above in pairwise(known):
        if _high(above) < _high(below):
            said = f"The {above.name} comes after the {below.name}, but its floor is lower"
            yield Broken(None, said, above.mark_of("elevation"))
    for stair in each(house.record.stairs):
        foot, head = (_level(house, place) for place in (stair.foot, stair.head))
        if foot and head and foot.elevation and head.elevation and _high(head) <= _high(foot):
            said = f"The stairs {stair.id} have their foot on the {foot.name}, which is not below "
            yield Broken(None, f"{said}the {head.name}", stair.mark_of("foot"))


def _high(level: Level) -> float:
    return level.elevation.inches if level.elevation else 0.0


def _level(house: House, place: Place | None) -> Level | None:
    return house.places.levels.get(house.places.level_id(place) or "")


@rule(
    "RC-08",
    "shutoff-above-its-ceiling",
    "fault",
    why="Nobody finds what is written to be higher than the room; it is on another level.",
    remedy="Measure its `height` again, from the floor of its own level, or put its level right; "
    "of what the ceiling hides, say so under `behind`.",
    stages=("rough-in", "trim-out", "handover"),
    source=PRACTICE,
)
def shutoff_above_its_ceiling(house: House) -> Iterator[Outcome]:
    """No shutoff is recorded higher above its floor than its level's ceiling lets it be."""
    yield from told(house.record.levels, facts.ROOMS)
    for item, _ in shutoffs(house):
        place = item.place
        if place is None or (place.at is None and place.height is None):
            continue  # a stop beside its fixture
        level_id = house.places.level_id(place)
        if level_id == OUTSIDE:
            continue
        level = house.places.levels.get(level_id or "")
        if level is None:
            yield CannotTell(facts.INDOORS, item.id)
        elif level.ceiling is None:
            yield CannotTell(facts.CEILING, item.id)
        elif place.height is None:
            yield CannotTell(facts.SHUTOFF_HEIGHT, item.id)
        else:
            yield _below(house, item, place, level.ceiling)


def _below(house: House, item: Item, place: Place, ceiling: Length) -> Outcome:
    height = place.height or Length(0.0)
    over = OPEN_JOISTS if place.behind in (None, ABSENT) else CEILING_VOID
    if height.inches <= ceiling.inches + over:
        return Clear(item.id)
    units = house.record.house.units
    said = f"{house.called(item.id)} is recorded {say_length(height, units)} above the floor, "
    said += f"and the ceiling there is at {say_length(ceiling, units)}"
    return Broken(item.id, said, place.mark_of("height"))


RULES = (
    outline_crosses_itself,
    rooms_overlap,
    room_too_small,
    level_out_of_order,
    shutoff_above_its_ceiling,
)
