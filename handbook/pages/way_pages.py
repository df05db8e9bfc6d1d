"""The ways to the shutoffs on maps: for each row of the emergency pages, from its room to there.

Rows with the same valves share a map; what stands in the room itself is shown on a larger plan of
that room.
"""

from collections.abc import Collection, Sequence
from dataclasses import replace

from handbook.answers.route import route
from handbook.house.house import House
from handbook.pages import by_room, through_pages
from handbook.pages.content import Go, Line, Map, MapRow, Page, Para
from handbook.pages.levels import caption, top_down
from handbook.pages.maps import BESIDE_WALL
from handbook.pages.parts.phrases import several
from handbook.pages.plan.crop import crop
from handbook.pages.plan.geometry import box, point
from handbook.pages.way_maps import way_maps
from handbook.pages.words import listed, lower, situation
from handbook.record.grammar.places import OUTSIDE

INTRO = (
    "A map for each row of the emergency pages, from the middle of its room. Where a way leads to "
    "another level, its next map follows. Where two valves are named, turn both."
)

Group = tuple[tuple[str, ...], tuple[str, ...]]
"""Valves, and the rooms (outdoors: the things) from which one walks to them."""


def way_pages(house: House) -> tuple[Page, ...]:
    """Return a page of maps for each level that has rows and a plan."""
    made = []
    for level in (*top_down(house), OUTSIDE):
        maps = _maps(house, level)
        if maps:
            title = f"Ways to the shutoffs: {lower(caption(house, level))}"
            made.append(Page(f"ways_{level}", title, (Para((INTRO,)), MapRow(maps)), wide=True))
    return tuple(made)


def with_pointers(
    house: House, emergency: Sequence[Page], ways: Sequence[Page]
) -> tuple[Page, ...]:
    """Return the emergency pages, each leading to the page with its maps where it has any."""
    lines = _pointers(house, {page.id for page in ways})
    return tuple(
        replace(page, more=lines.get(_level_page(page.id), page.more)) for page in emergency
    )


def _level_page(page: str) -> str:
    """The id of the first of a level's pages: `if_water-main` for `if_water-main_2`."""
    first, _, number = page.rpartition("_")
    return first if number.isdigit() else page


def _pointers(house: House, known: Collection[str]) -> dict[str, Line]:
    found: dict[str, Line] = {}
    for level in (*house.places.levels, OUTSIDE):
        if (name := f"ways_{level}") in known:
            for kind in ("water", "ceiling", "wall"):
                line: Line = ("Maps: ", Go(name, "the way to each valve"), ".")
                found[situation(f"{kind}-{level}")] = line
    return found


def _maps(house: House, level: str) -> tuple[Map, ...]:
    """Return the maps of a level's rows, those in one room last."""
    found: list[Map] = []
    for valves, rooms in _groups(house, level):
        maps = way_maps(house, rooms, valves)
        names = several(lower(route(house, room, valves[0]).start_name) for room in rooms)
        for number, one in enumerate(maps):
            start = f", from: {names}" if number == 0 else f", on: {lower(one.title)}"
            found.append(replace(one, title=f"To {listed(valves)}{start}"))
    for room, valves in _in_room(house, level):
        found += _room(house, room, valves)
    return tuple(found)


def _walks(house: House, level: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    through = through_pages.walks(house, level) if level != OUTSIDE else ()
    return tuple(dict.fromkeys((*by_room.walks(house, level), *through)))


def _groups(house: House, level: str) -> tuple[Group, ...]:
    """Return every set of valves that some rows send one out of the room for, and the rooms."""
    found: dict[tuple[str, ...], dict[str, None]] = {}
    for room, valves in _walks(house, level):
        if any(_room_of(house, valve) != room for valve in valves):
            found.setdefault(valves, {})[room] = None
    return tuple((valves, tuple(rooms)) for valves, rooms in found.items())


def _in_room(house: House, level: str) -> tuple[Group, ...]:
    """Return (room, all valves in it that its own rows name)."""
    found: dict[str, dict[str, None]] = {}
    for room, valves in _walks(house, level):
        if all(_room_of(house, valve) == room for valve in valves):
            found.setdefault(room, {}).update(dict.fromkeys(valves))
    return tuple(((room,), tuple(valves)) for room, valves in found.items())


def _room(house: House, room: Sequence[str], valves: Sequence[str]) -> tuple[Map, ...]:
    """Return a plan of one room with its valves ringed and the ways to them."""
    recorded = house.places.rooms[room[0]][0]
    if not recorded.outline:
        return ()
    left, bottom, right, top = box(point(corner) for corner in recorded.outline)
    by = BESIDE_WALL
    shown = (left - by, bottom - by, right + by, top + by)
    return tuple(
        Map(crop(one.plan, shown), f"{recorded.name}: {listed(valves)}", size="small")
        for one in way_maps(house, room, valves)
    )


def _room_of(house: House, valve: str) -> str | None:
    place = house.items[valve].place
    return place.room if place else None
