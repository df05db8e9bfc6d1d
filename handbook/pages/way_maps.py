"""Maps that are about one thing, or a few: where it is, and the way to it."""

from collections.abc import Sequence
from dataclasses import replace

from handbook.answers.route import route
from handbook.answers.ties import Tie as Measured
from handbook.answers.ties import hidden, ties
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Map
from handbook.pages.levels import caption
from handbook.pages.maps import around
from handbook.pages.plan.crop import crop
from handbook.pages.plan.geometry import box
from handbook.pages.plan.level import base
from handbook.pages.plan.marks import MAIN, marks
from handbook.pages.plan.shapes import Mark, Plan
from handbook.pages.plan.ways import Leg, legs, nearest_way, off_corners
from handbook.pages.site_plan import taped
from handbook.pages.words import lower
from handbook.record.grammar.places import OUTSIDE

ABOUT = 30.0
"""Inches shown beyond what a map of ties is about."""


def thing_map(house: House, thing: str) -> tuple[Block, ...]:
    """Return a map of a thing's level with this thing alone, and the way to it from the nearest
    stairs or outer door; nothing where its point, or its level's outlines, are not recorded."""
    level = house.places.level_id(house.items[thing].place)
    way = [leg for leg in nearest_way(house, thing) if leg.level == level]
    leg = way[-1] if way else None
    plan = _with_goals(house, level, (thing,), leg)
    if plan is None:
        return ()
    title = f"{thing if house.items[thing].tagged else house.items[thing].name}: where it is"
    return (Map(plan, f"{title}, {lower(caption(house, level))}", size="half"),)


def way_maps(house: House, start: str, goals: Sequence[str]) -> tuple[Block, ...]:
    """Return the way from a room or thing to the first of some things that stand together, a map
    for each level that it crosses; nothing where it is not measured."""
    walked = route(house, start, goals[0])
    found = legs(walked.path)
    blocks = []
    for number, leg in enumerate(found):
        last = number == len(found) - 1
        plan = _with_goals(house, leg.level, goals if last else (), leg)
        if plan is None:
            continue
        ends = () if last else _climb(house, leg, found[number + 1])
        shown = replace(plan, marks=(*plan.marks, *ends))
        title = f"From {lower(walked.start_name)} to {', '.join(goals)}"
        level = lower(caption(house, leg.level))
        blocks.append(Map(shown, f"{title}: {level}", size="half"))
    return tuple(blocks)


def tie_maps(house: House, item: Item) -> tuple[Block, ...]:
    """Return a map of the ties of a thing; nothing for what is in plain view, or has none."""
    found = ties(house, item.id).ties if hidden(item) else ()
    return tuple(block for tie in found for block in tie_map(house, tie))


def tie_map(house: House, tie: Measured) -> tuple[Block, ...]:
    """Return the thing with its two taped distances, the part of the plan round them."""
    level = house.places.level_id(house.items[tie.thing].place)
    ground = base(house, level) if level else None
    found = marks(house, (house.items[tie.thing],), MAIN)
    if ground is None or not found:
        return ()
    at = found[0].at
    corners = tuple(Mark("corner", corner.xy) for corner in (tie.a, tie.b))
    plan = replace(ground.plan, marks=(*found, *corners), ties=taped(house, tie))
    left, bottom, right, top = box((at, tie.a.xy, tie.b.xy))
    shown = crop(plan, (left - ABOUT, bottom - ABOUT, right + ABOUT, top + ABOUT))
    return (Map(shown, f"{tie.thing}: two tapes from fixed corners", size="half"),)


def _with_goals(
    house: House, level: str | None, goals: Sequence[str], leg: Leg | None
) -> Plan | None:
    """Return a level's plan with the goals ringed and a way to them; None where neither is on
    it, or it has no outline."""
    ground = base(house, level) if level else None
    found = marks(house, [house.items[goal] for goal in goals], MAIN)
    if ground is None or not (found or leg):
        return None
    ringed = tuple(replace(one, ringed=True) for one in found)
    way = off_corners(leg, ground.plan.rooms) if leg and len(leg.points) > 1 else ()
    start = (Mark("start", way[0]),) if way else ()
    plan = replace(ground.plan, marks=(*ringed, *start), way=way)
    return around(plan) if level == OUTSIDE else plan


def _climb(house: House, leg: Leg, after: Leg) -> tuple[Mark, ...]:
    """Return the mark where a way leaves a level, and the word for where it goes on."""
    to = lower(caption(house, after.level))
    return (Mark("climb", leg.points[-1], "", f"to: {to}", MAIN),)
