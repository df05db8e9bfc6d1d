"""Maps that are about one thing, or a few: where it is, and the way to it."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from handbook.answers.finding.taped import Plan as TapePlan
from handbook.answers.finding.taped import plan_of
from handbook.answers.route import route
from handbook.answers.ties import Tie as Measured
from handbook.answers.ties import hidden, ties
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Map, Size
from handbook.pages.levels import caption
from handbook.pages.maps import BESIDE_WALL, around
from handbook.pages.plan.crop import crop
from handbook.pages.plan.geometry import box
from handbook.pages.plan.level import base
from handbook.pages.plan.marks import MAIN, marks
from handbook.pages.plan.shapes import Mark, Plan, Point
from handbook.pages.plan.ways import Leg, legs, nearest_way, off_corners, stepped
from handbook.pages.site_plan import taped
from handbook.pages.words import lower
from handbook.record.grammar.drains import Cleanout
from handbook.record.grammar.places import OUTSIDE

ABOUT = 30.0
"""Inches shown beyond what a map of ties is about."""


def thing_map(house: House, thing: str) -> tuple[Block, ...]:
    """Return a map of a thing's level with this thing alone, and the way to it from the nearest
    stairs or outer door; nothing where its point, or its level's outlines, are not recorded."""
    level = house.places.level_id(house.items[thing].place)
    way = [leg for leg in nearest_way(house, thing) if leg.level == level]
    plan = _plan(house, level, _goals(house, (thing,)), way[-1:])
    if plan is None:
        return ()
    title = f"{thing if house.items[thing].tagged else house.items[thing].name}: where it is"
    return (Map(plan, f"{title}, {lower(caption(house, level))}", size="half"),)


def way_maps(house: House, starts: Sequence[str], goals: Sequence[str]) -> tuple[Map, ...]:
    """Return the ways from some rooms of one level to each of some things, a map for each level
    that they cross, in the order of walking; a way that is not measured is left out."""
    ways = [route(house, start, goal) for start in starts for goal in goals]
    walked = [legs(stepped(house, way.rooms, way.path)) for way in ways]
    levels = dict.fromkeys(leg.level for way in walked for leg in way)
    found = []
    for level in levels:
        here = dict.fromkeys(leg for way in walked for leg in way if leg.level == level)
        shown = [goal for goal in goals if house.places.level_id(house.items[goal].place) == level]
        ends = dict.fromkeys(mark for way in walked for mark in _stairs(house, way, level))
        marks_here = (*_goals(house, shown), *ends)
        if plan := _plan(house, level, marks_here, [*here], start=level == next(iter(levels))):
            found.append(Map(plan, caption(house, level), size="small"))
    return tuple(found)


def tie_maps(house: House, item: Item) -> tuple[Block, ...]:
    """Return a map of the ties of a buried thing or a cleanout; nothing where there are none."""
    buried = item.place is not None and item.place.depth is not None
    wanted = hidden(item) and (buried or isinstance(item.entry, Cleanout))
    found = ties(house, item.id).ties if wanted else ()
    return tuple(block for tie in found for block in tie_map(house, tie))


def tie_map(house: House, tie: Measured, size: Size = "half") -> tuple[Map, ...]:
    """Return the thing with its two taped distances from named points; indoors the whole room,
    outdoors the part of the plan round them."""
    level = house.places.level_id(house.items[tie.thing].place)
    ground = base(house, level) if level else None
    found = marks(house, (house.items[tie.thing],), MAIN)
    if ground is None or not found:
        return ()
    at = found[0].at
    corners = tuple(
        Mark("corner", corner.xy, words=corner.brief(tie.of).split(",")[0])
        for corner in (tie.a, tie.b)
    )
    thing = tuple(replace(one, words="") if one.tag else one for one in found)
    plan = replace(ground.plan, marks=(*thing, *corners), ties=taped(house, tie))
    left, bottom, right, top = box((at, tie.a.xy, tie.b.xy, *_walls(house, tie)))
    about = ABOUT if level == OUTSIDE else BESIDE_WALL
    shown = crop(plan, (left - about, bottom - about, right + about, top + about))
    return (Map(shown, f"{tie.thing}: two tapes, drawn to scale", size=size),)


def _walls(house: House, tie: Measured) -> tuple[Point, ...]:
    """Return the corners of the room in which a thing is taped; none outdoors."""
    plan = plan_of(house, house.items[tie.thing])
    return tuple(plan.outline) if isinstance(plan, TapePlan) and plan.indoors else ()


def _plan(
    house: House,
    level: str | None,
    found: Sequence[Mark],
    walked: Sequence[Leg],
    *,
    start: bool = True,
) -> Plan | None:
    """Return a level's plan with some marks and ways; None where there are neither, or the level
    has no outline. `start` marks where the ways begin."""
    ground = base(house, level) if level else None
    if ground is None or not (found or walked):
        return None
    ways = tuple(off_corners(leg, ground.plan.rooms) for leg in walked if len(leg.points) > 1)
    starts = tuple(Mark("start", way[0]) for way in ways) if start else ()
    plan = replace(ground.plan, marks=(*found, *starts), ways=ways)
    return around(plan) if level == OUTSIDE else plan


def _goals(house: House, things: Sequence[str]) -> tuple[Mark, ...]:
    """Return the marks of what a map leads to, ringed."""
    found = marks(house, [house.items[thing] for thing in things], MAIN)
    return tuple(replace(one, ringed=True) for one in found)


def _stairs(house: House, way: Sequence[Leg], level: str) -> list[Mark]:
    """Return the marks where a way leaves a level, and where it comes onto it."""
    found = []
    for before, after in pairwise(way):
        if before.level == level:
            words = f"to: {lower(caption(house, after.level))}"
            found.append(Mark("climb", before.points[-1], "", words, MAIN))
        if after.level == level:
            words = f"from: {lower(caption(house, before.level))}"
            found.append(Mark("climb", after.points[0], "", words, MAIN))
    return found
