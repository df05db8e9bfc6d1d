"""The maps of a house: for each level and for the lot, what somebody has to find on it.

A map shows what has a point on the plan; what has none is named under it, so that nothing is
left out silently. Rooms in which symbols have to stand for several things at once are shown once
more, enlarged.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Map, Page, Para, Size
from handbook.pages.levels import caption, top_down
from handbook.pages.parts.phrases import lost, several
from handbook.pages.plan.crop import Box, crop
from handbook.pages.plan.geometry import box, distance, point
from handbook.pages.plan.layers import Layer
from handbook.pages.plan.level import base
from handbook.pages.plan.marks import BESIDE, mark, marks
from handbook.pages.plan.pipes import Lines, stretches
from handbook.pages.plan.shapes import GROUND, Mark, Plan, Point
from handbook.pages.plan.turned import turned
from handbook.pages.words import capital, listed, lower
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Cleanout
from handbook.record.grammar.places import OUTSIDE

ROUND = 72.0
"""Inches of ground shown round what an outdoor map is about."""

BESIDE_WALL = 9.0
"""Inches shown beyond the outline of an enlarged room, so that its walls are whole."""

CROWDED = 7.0
"""Points within which symbols of one kind are drawn as one."""

ACROSS = {"full": 450.0, "half": 300.0}
"""Points across a plan on each size of map."""

LARGER = 2.0
"""So many times as large as on its level's map a room is enlarged at least; if half a sheet does
not hold that, on a whole one."""

MANY = 10
"""With so many symbols and named pipes a level needs a whole sheet of paper."""

TO_SCALE = "Drawn to scale from the record."
WALLS = " How thick {} are is drawn by convention."
CALLED = {
    (): "",
    ("inside",): "walls between rooms",
    ("outside",): "outside walls",
    ("inside", "outside"): "walls",
}
"""The walls whose thickness is not recorded."""
DOORS = " A door is drawn hinged on the side where it opens against the nearer wall."
PIPES = " {} drawn straight from one recorded point to the next; bends between are not recorded."
NAMED = {
    "drains": ("drain", "buried drain", "overhead drain"),
    "water pipe": ("water pipe",),
    "gas pipe": ("gas pipe",),
    "drains of pans": ("pan drain",),
}
"""What the lines of a map are called, in the sentence that says how they are drawn."""


def maps(house: House, layer: Layer) -> tuple[Block, ...]:
    """Return the maps of one kind, a level after another from the top, the lot last; nothing
    where no thing of the kind is recorded, or no outline to draw one in."""
    items = [item for item in house.items.values() if layer.shows(item)]
    blocks: list[Block] = []
    bare: list[str] = []
    for level in (*top_down(house), OUTSIDE):
        here = [item for item in items if house.places.level_id(item.place) == level]
        blocks += _level(house, layer, level, here) if here else ()
        bare += () if here or level == OUTSIDE else (lower(caption(house, level)),)
    if not any(isinstance(block, Map) for block in blocks):
        return ()
    blocks = _filling(blocks)
    if bare:
        blocks.append(Para((f"No map, because nothing of this kind is there: {listed(bare)}.",)))
    lost_ones = [item for item in items if house.places.level_id(item.place) is None]
    if lost_ones:
        blocks.append(Para((f"On no map, because no level is recorded: {_names(lost_ones)}.",)))
    return (Para((how_to_read(blocks),)), *blocks)


def _filling(blocks: Sequence[Block]) -> list[Block]:
    """Return the blocks with each map that would have half a sheet to itself drawn to fill it."""
    filled = list(blocks)
    alone: tuple[int, Map] | None = None
    for number, block in enumerate((*blocks, None)):
        half = isinstance(block, Map) and block.size == "half"
        if half and alone is None and isinstance(block, Map):
            alone = number, block
            continue
        if alone and not half and (block is None or isinstance(block, Map)):
            filled[alone[0]] = replace(alone[1], size="full")
        if block is None or isinstance(block, Map):
            alone = None
    return filled


def how_to_read(blocks: Iterable[Block]) -> str:
    """Say how these maps are drawn, as far as they show it."""
    plans = [block.plan for block in blocks if isinstance(block, Map)]
    called = CALLED[tuple(sorted({kind for plan in plans for kind in plan.walls_taken}))]
    said = WALLS.format(called) if called else ""
    swings = any(door.tip for plan in plans for door in plan.doors)
    kinds = {pipe.kind for plan in plans for pipe in plan.pipes}
    drawn = [name for name, shown in NAMED.items() if kinds & {*shown}]
    verb = "is" if len(drawn) == 1 and drawn[0].endswith("pipe") else "are"
    straight = PIPES.format(f"{capital(listed(drawn))} {verb}") if drawn else ""
    return TO_SCALE + said + (DOORS if swings else "") + straight


def map_page(house: House, layer: Layer, name: str, title: str) -> tuple[Page, ...]:
    """Return the page with the maps of one kind; none where there is nothing to draw."""
    blocks = maps(house, layer)
    return (Page(name, title, blocks, wide=True),) if blocks else ()


def _level(house: House, layer: Layer, level: str, items: list[Item]) -> tuple[Block, ...]:
    ground, name = base(house, level), caption(house, level)
    if ground is None:
        what = "the building's outline is not" if level == OUTSIDE else "no outline of a room is"
        return _no_map(name, f"{what} recorded", items)
    lines = layer.lines(house, level, items)
    found = (*marks(house, items), *lines.marks, *_outside_ends(house, level, lines))
    if not found and not lines.pipes:
        return _no_map(name, "no point on the plan is recorded", items)
    plan = turned(replace(ground.plan, marks=found, pipes=(*ground.plan.pipes, *lines.pipes)))
    if level == OUTSIDE:
        plan = around(with_landmarks(house, plan))
    notes = (*holes(items, lines), *ground.notes, *_north(plan))
    title = f"{name}: {layer.title}"
    return (Map(plan, title, notes, _size(plan)), *_enlarged(house, layer, level, plan, items))


def _no_map(name: str, why: str, items: list[Item]) -> tuple[Block, ...]:
    return (Para((f"No map of: {lower(name)}, because {why}. There: {_names(items)}.",)),)


def _size(plan: Plan) -> Size:
    shown = [mark for mark in plan.marks if mark.rank > BESIDE]
    named = {pipe.label for pipe in plan.pipes if pipe.label}
    return "full" if len(shown) + len(named) >= MANY else "half"


def around(plan: Plan, more: Iterable[Point] = ()) -> Plan:
    """Return the part of the lot with the building and everything that a map is about."""
    shown = [point for room in plan.rooms for point in room.outline]
    shown += [mark.at for mark in plan.marks if mark.rank > BESIDE]
    shown += [p for pipe in plan.pipes if pipe.kind not in GROUND for p in pipe.points]
    return crop(plan, _wider(box([*shown, *(p for way in plan.ways for p in way), *more]), ROUND))


def with_landmarks(house: House, plan: Plan) -> Plan:
    """Add what else helps to find things outdoors."""
    site = house.record.site
    features = [house.items[feature.id] for feature in each(site.features)] if site else []
    return replace(plan, marks=(*plan.marks, *marks(house, features, BESIDE)))


def _outside_ends(house: House, level: str, lines: Lines) -> tuple[Mark, ...]:
    """Return the outdoor cleanouts at the ends of drains that a level's map shows."""
    if level == OUTSIDE:
        return ()
    drawn = {pipe.label.split(" ")[0] for pipe in lines.pipes}
    above = {stretch.to for stretch in stretches(house) if stretch.id in drawn}
    return tuple(
        found
        for item in house.items.values()
        if isinstance(item.entry, Cleanout) and house.places.level_id(item.place) == OUTSIDE
        if item.entry.on in drawn | above and (found := mark(house, item))
    )


def holes(items: Sequence[Item], lines: Lines) -> tuple[str, ...]:
    """Return what a map does not show because the record lacks it."""
    unplaced = [item for item in items if item.place is None or item.place.at is None]
    said = []
    if unplaced:
        said.append(f"Not drawn, no point on the plan is recorded: {_names(unplaced)}.")
    if lines.undrawn:
        said.append(f"Not drawn, an end of the pipe has no point: {listed(lines.undrawn)}.")
    if lines.elsewhere:
        said.append(
            f"The pipe comes from another level and is drawn on its map: {listed(lines.elsewhere)}."
        )
    if lines.unknown:
        said.append(f"Pipe not drawn, its bends have no recorded points: {several(lines.unknown)}.")
    if lines.passing:
        said.append(
            f"Goes through here, at no recorded point, so not drawn: {several(lines.passing)}."
        )
    return tuple(said)


def _north(plan: Plan) -> tuple[str, ...]:
    return ("Where north is has not been recorded.",) if plan.north is None else ()


def _names(items: Iterable[Item]) -> str:
    return lost(item.id if item.tagged else item.name for item in items)


def _enlarged(
    house: House, layer: Layer, level: str, plan: Plan, items: Sequence[Item]
) -> tuple[Map, ...]:
    """Return an enlarged plan of each room where things would have to share a symbol."""
    across = _across(box(p for room in plan.rooms for p in room.outline))
    scale = ACROSS[_size(plan)] / across
    near = CROWDED / scale
    found = []
    for room, its_level in house.places.rooms.values():
        inside = {item.id for item in items if item.place and item.place.room == room.id}
        here = [m for m in plan.marks if inside & set(m.ids)]
        if its_level.id == level and room.outline and _crowd(here, near) > 1:
            shows = _wider(box(point(corner) for corner in room.outline), BESIDE_WALL)
            half = ACROSS["half"] / _across(shows) >= LARGER * scale
            title = f"{room.name}, enlarged: {layer.title}"
            found.append(Map(crop(plan, shows), title, size="half" if half else "full"))
    return tuple(found)


def _across(shown: Box) -> float:
    return max(shown[2] - shown[0], shown[3] - shown[1])


def _wider(shown: Box, by: float) -> Box:
    return (shown[0] - by, shown[1] - by, shown[2] + by, shown[3] + by)


def _crowd(here: Sequence[Mark], near: float) -> int:
    """Return how many marks stand so near another of their kind that they share its symbol."""
    return sum(
        any(a.kind == b.kind and distance(a.at, b.at) <= near for b in here[:number])
        for number, a in enumerate(here)
    )
