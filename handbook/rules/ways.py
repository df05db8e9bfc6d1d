"""Rule for the way on foot to the main shutoff: by recorded doors and stairs, from every room."""

from collections.abc import Iterator, Sequence

from handbook.house.house import House
from handbook.record.fields import ABSENT
from handbook.record.fitting import free
from handbook.record.grammar.common import each, given
from handbook.record.grammar.places import OUTSIDE
from handbook.record.ids import declared
from handbook.rules import facts
from handbook.rules.looks import water
from handbook.rules.rule import PRACTICE, CannotTell, Clear, Gap, Outcome, rule, told
from handbook.tables import table

NAMED = 4
"""How many rooms a finding names; of more it says three, and how many there are besides."""

DOOR = "under `doors` of the {level}, as `- {{between: [{one}, {other}], at: [x, y]}}`."
STAIRS = (
    "Record the stairs under `stairs`: `foot` and `head` name the room at either end, as "
    "`- {{id: {id}, foot: {{room: {below}}}, head: {{room: {above}}}}}`."
)

INSTEAD = "If there are stairs after all, record, in place of `stairs: none`, "


@rule(
    "RC-14",
    "no-way-to-the-main",
    "gap",
    why="Who stands in such a room while water runs is not told how to walk to the valve.",
    remedy="Record the door under its level's `doors`, or the stairs under `stairs`.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def no_way_to_the_main(house: House) -> Iterator[Outcome]:
    """From each room, recorded doors and stairs lead to the main shutoff."""
    yield from told(house.record.levels, facts.ROOMS)
    main = given(water(house).inside_main) or next(iter(house.water.mains), None)
    zone = house.plan.anchor(house.items[main].place).zone if main else None
    if not house.places.rooms:
        return
    if main is None or zone is None:
        yield CannotTell(facts.ROOM_OF_MAIN if main else facts.MAIN, main)
        return
    near = house.plan.joined_to(zone)
    yield from (Clear() for room in house.places.rooms if room in near)
    offered = {name.casefold() for name, _, _ in declared(house.record)}
    for rooms in _cut_off(house, near):
        yield _no_way(house, main, near, rooms, offered)


def _cut_off(house: House, near: frozenset[str]) -> Iterator[list[str]]:
    """Yield the rooms from which no way leads there, those together that are joined."""
    left = [room for room in house.places.rooms if room not in near]
    while left:
        joined = house.plan.joined_to(left[0])
        yield [room for room in left if room in joined]
        left = [room for room in left if room not in joined]


def _no_way(
    house: House, main: str, near: frozenset[str], rooms: list[str], offered: set[str]
) -> Outcome:
    """Say which rooms are cut off, unless the doors or the stairs are still asked for as such.

    `offered` are the ids that there are, and those that another finding's stairs were given.
    """
    levels = _levels(house, rooms)
    shared = [level for level in levels if level in _levels(house, near)]
    known = [house.places.levels[level] for level in levels]
    if any(level.doors is None and len(each(level.rooms)) > 1 for level in known):
        return CannotTell(facts.DOORS)
    if house.record.stairs is None and not shared and OUTSIDE not in near:
        return CannotTell(facts.STAIRS)
    said = f"No way from {_named(house, rooms)} to {house.called(main)} is recorded"
    if shared or near == {OUTSIDE}:
        level = house.places.levels[(shared or levels)[0]]
        remedy = _door(house, near, rooms, level.id)
        return Gap(None, said, level.key_mark_of("doors"), remedy)
    steps = [*_doors_first(house, near, rooms), _stairs(house, near, rooms, offered)]
    return Gap(None, said, known[0].mark_of("id"), " Then: ".join(steps))


def _levels(house: House, rooms: Sequence[str] | frozenset[str]) -> list[str]:
    """The levels of these rooms, from the lowest up."""
    found = {house.places.rooms[room][1].id for room in rooms if room in house.places.rooms}
    return [level for level in house.places.levels if level in found]


def _named(house: House, rooms: list[str]) -> str:
    """Name whole levels as such, and the other rooms one by one."""
    whole = [
        level
        for level in house.places.levels.values()
        if level.rooms and all(room.id in rooms for room in level.rooms)
    ]
    names = [f"the {level.name}" for level in whole]
    placed = [house.places.rooms[room] for room in rooms]
    single = [(room, level) for room, level in placed if level not in whole]
    few = single if len(single) <= NAMED else single[: NAMED - 1]
    names += [f"the {room.name} ({level.name})" for room, level in few]
    if len(few) < len(single):
        names.append(f"{len(single) - len(few)} more rooms")
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)


def _door(house: House, near: frozenset[str], rooms: list[str], level: str) -> str:
    """Say which door is missing, as far as the outlines tell what lies side by side."""
    if near == {OUTSIDE}:
        name = house.places.levels[level].name
        asked = DOOR.format(level=name, one=rooms[0], other=OUTSIDE)
        return f"Record the door that leads outdoors {asked}"
    here = [room.id for room in each(house.places.levels[level].rooms)]
    sides = [[r for r in here if r in rooms], [r for r in here if r in near]]
    few, many = sorted(sides, key=len)
    beside = [other for other in many if any(_touch(house, one, other) for one in few)]
    asked = DOOR.format(
        level=house.places.levels[level].name, one=few[0], other=(beside or many)[0]
    )
    if len(few) > 1 or not beside:
        return f"Record the door that leads from {' or '.join(few)} to the rest {asked}"
    return f"Record the door between {few[0]} and {' or '.join(beside)} {asked}"


def _touch(house: House, one: str, other: str) -> bool:
    """Whether two rooms lie wall to wall, as far as their outlines say."""
    first, second = (house.plan.zones[room].space for room in (one, other))
    wall = float(table("map_walls").values["outer_in"])
    return bool(first and second and first.polygon.distance(second.polygon) <= wall)


def _doors_first(house: House, near: frozenset[str], rooms: list[str]) -> Iterator[str]:
    """Say which doors are missing before any stairs: on the level of those who have a way, and,
    where there are no stairs, outdoors."""
    for level in _levels(house, near):
        here = [room.id for room in each(house.places.levels[level].rooms)]
        if apart := [room for room in here if room not in near]:
            yield _door(house, near, apart, level)
            return
    if house.record.stairs is ABSENT:
        walked = [room for room in house.places.rooms if room in near]
        for side in (walked, rooms):
            if side and OUTSIDE not in house.plan.joined_to(side[0]):
                yield _door(house, frozenset({OUTSIDE}), side, _levels(house, side)[0])


def _stairs(house: House, near: frozenset[str], rooms: list[str], offered: set[str]) -> str:
    """Say how stairs from the nearest level that has a way are written."""
    order, walked = list(house.places.levels), _levels(house, near)
    pairs = [(cut, ok) for cut in _levels(house, rooms) for ok in walked]
    cut, ok = min(pairs, key=lambda pair: abs(order.index(pair[0]) - order.index(pair[1])))
    ends = {cut: rooms, ok: [room for room in house.places.rooms if room in near]}
    below, above = (
        next(room for room in ends[level] if house.places.rooms[room][1].id == level)
        for level in sorted((cut, ok), key=order.index)
    )
    name = free("stair-1", offered)
    offered.add(name)
    asked = STAIRS if house.record.stairs is not ABSENT else INSTEAD + STAIRS[len("Record ") :]
    return asked.format(id=name, below=below, above=above)


RULES = (no_way_to_the_main,)
