"""Pipes as lines on a plan, straight between recorded points; what lacks one is named, not drawn.

Where a pipe bends between two points nobody recorded, so every map with pipes on it calls them
schematic.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.plan.geometry import distance, point
from handbook.pages.plan.levels import upward
from handbook.pages.plan.shapes import Mark, Pipe, Point
from handbook.record.grammar.common import Place, each, given
from handbook.record.grammar.drains import Drains, Stretch
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.safeguards import Safeguards

BURIED = ("building drain", "building sewer")
SHORT = 1.0
"""Inches on the plan below which a pipe is no line."""

STEEP = 6.0
"""Inches on the plan below which a stack goes straight down and is a mark, not a line."""


@dataclass(frozen=True)
class Lines:
    """Lines to draw, and marks that come with them. `undrawn` are the ids of what lacks an end,
    `elsewhere` of what comes from another level, `unknown` what has no way that can be drawn,
    `passing` what goes through rooms of the level, from and to others, at no recorded point."""

    pipes: tuple[Pipe, ...]
    marks: tuple[Mark, ...] = ()
    undrawn: tuple[str, ...] = ()
    elsewhere: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    passing: tuple[str, ...] = ()


def drains(house: House, level: str) -> Lines:
    """Return the drains under a level's floor and in its walls, and those above its ceiling."""
    above = _above(house, level)
    pipes, found, undrawn = [], [], []
    for stretch in stretches(house):
        here = _levels_of(house, stretch)
        if stretch.kind == "stack":
            found += _stack(house, stretch, level)
        if level not in here and above not in here:
            continue
        ends = _ends(house, stretch)
        own = house.places.level_id(stretch.place)
        if ends is None:
            undrawn += [stretch.id] if own in (level, None) else []
        elif distance(*ends) > (STEEP if stretch.kind == "stack" else SHORT):
            kind = _kind(stretch, own, level, above)
            pipes += [_drain(house, stretch, kind, ends)] if kind else []
    return Lines(
        tuple(_into_stack(house, pipe, found) for pipe in pipes), tuple(found), tuple(undrawn)
    )


def _into_stack(house: House, pipe: Pipe, stacks: Sequence[Mark]) -> Pipe:
    """Return a pipe that runs into the next part of a stack, which another level shows, as running
    into the part that this one shows at the same point."""
    start, into = pipe.ends
    if any(into in mark.ids for mark in stacks):
        return pipe
    for mark in stacks:
        (stack,) = mark.ids
        entry = house.items[stack].entry
        here = distance(mark.at, pipe.points[-1]) <= SHORT
        if here and isinstance(entry, Stretch) and entry.to == into:
            return replace(pipe, ends=(start, stack))
    return pipe


def buried_drains(house: House) -> Lines:
    """Return the building drain and the building sewer, for the site plan."""
    pipes, undrawn = [], []
    for stretch in stretches(house):
        if stretch.kind not in BURIED:
            continue
        if ends := _ends(house, stretch):
            pipes.append(_drain(house, stretch, "buried drain", ends))
        else:
            undrawn.append(stretch.id)
    return Lines(tuple(pipes), (), tuple(undrawn))


def _drain(house: House, stretch: Stretch, kind: str, ends: tuple[Point, Point]) -> Pipe:
    """Return a stretch as a line, with what sits on it and what runs into it."""
    on = tuple(item.id for item in house.items.values() if stretch.id in _on(item))
    into = stretch.to or ""
    return Pipe(kind, ends, _label(stretch), flows=True, ends=(stretch.id, into), on=on)


def _on(item: Item) -> tuple[str | None, ...]:
    """Return the stretches that something sits on or runs into."""
    if isinstance(item.entry, Stretch):
        return (item.entry.to,)
    drain = given(getattr(item.entry, "drain", None))
    return getattr(item.entry, "on", None), getattr(drain, "to", None)


def fed(house: House, kind: str, things: Iterable[str], level: str) -> Lines:
    """Return the pipes that end at some things of a level, from what feeds each, past its own
    shutoff, where both ends are on it or one is outdoors; the others are named."""
    pipes: list[Pipe] = []
    undrawn, elsewhere = [], []
    for thing, feeder in _feeds(house, things):
        a, b = (house.items[end].place for end in (feeder, thing))
        levels = {house.places.level_id(end) for end in (a, b)}
        if a and b and a.at and b.at:
            if len(levels) > 1 and OUTSIDE not in levels:
                elsewhere.append(thing)
            else:
                pipes += _legs(house, kind, [feeder, *_own_stop(house, thing, level), thing])
        else:
            undrawn.append(thing)
    return Lines(tuple(pipes), (), tuple(undrawn), tuple(elsewhere))


def _own_stop(house: House, thing: str, level: str) -> list[str]:
    """Return the shutoff that a thing has of its own, where its point on this level is known."""
    stop = given(getattr(house.items[thing].entry, "stop", None))
    place = house.items[stop.id].place if stop and stop.id in house.items else None
    there = place and place.at and house.places.level_id(place) == level
    return [stop.id] if stop and there else []


def _legs(house: House, kind: str, names: Sequence[str]) -> Iterator[Pipe]:
    """Yield the lines from one thing to the next."""
    for ends in pairwise(names):
        a, b = (place.at for name in ends if (place := house.items[name].place) and place.at)
        if distance(point(a), point(b)) > SHORT:
            yield Pipe(kind, (point(a), point(b)), ends=ends)


def pan_drains(house: House, level: str) -> Lines:
    """Return the way from each pan to where it drains, where both are on a level's plan."""
    guards = house.record.safeguards or Safeguards()
    pipes, found, undrawn = [], [], []
    for pan in each(guards.pans):
        drain = given(pan.drain)
        if house.places.level_id(pan.place) != level or drain is None:
            continue
        over = house.items[drain.drain].place if drain.drain else None
        end = over if over and over.at else drain.place
        if pan.place and pan.place.at and end and end.at and house.places.level_id(end) == level:
            ends = (pan.id, drain.drain or "")
            way = (point(pan.place.at), point(end.at))
            pipes.append(Pipe("pan drain", way, flows=True, ends=ends))
            if not (over and over.at):
                found.append(Mark("pan end", point(end.at)))
        else:
            undrawn.append(pan.id)
    return Lines(tuple(pipes), tuple(found), tuple(undrawn))


def stretches(house: House) -> tuple[Stretch, ...]:
    """Return every stretch of drain."""
    return each((house.record.drains or Drains()).stretches)


def _feeds(house: House, things: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield (thing, what feeds it) for each thing whose feeder is a thing of the house."""
    for thing in things:
        entry = house.items[thing].entry
        line = given(getattr(entry, "gas", None)) or entry
        feeder = getattr(line, "from_", None)
        if feeder in house.items:
            yield thing, feeder


def _ends(house: House, stretch: Stretch) -> tuple[Point, Point] | None:
    """Return where a stretch begins and where the next one does; None if either is unknown."""
    below = house.items.get(stretch.to or "")
    if not (stretch.place and stretch.place.at and below and below.place and below.place.at):
        return None
    return point(stretch.place.at), point(below.place.at)


def _kind(stretch: Stretch, own: str | None, level: str, above: str | None) -> str | None:
    if stretch.kind in BURIED:
        return "buried drain" if own in (level, OUTSIDE) else None
    if own == level:
        return "drain"
    return "overhead drain" if own == above else None


def _levels_of(house: House, stretch: Stretch) -> set[str]:
    """Return the levels at the two ends of a stretch."""
    below = house.items.get(stretch.to or "")
    places: list[Place | None] = [stretch.place, below.place if below else None]
    return {level for place in places if (level := house.places.level_id(place))}


def _stack(house: House, stretch: Stretch, level: str) -> list[Mark]:
    """Return a stack's mark on every level that it passes, from what runs into it downward."""
    order = upward(house)
    heights = [order.index(one) for one in _passed(house, stretch, order) if one in order]
    passes = heights and level in order and min(heights) <= order.index(level) <= max(heights)
    own = house.places.level_id(stretch.place) == level
    if not (stretch.place and stretch.place.at) or not (own or passes):
        return []
    name = stretch.name or stretch.id
    return [Mark("stack", point(stretch.place.at), "", name, 1, (stretch.id,))]


def _passed(house: House, stretch: Stretch, order: list[str]) -> set[str]:
    """Return the levels at the ends of a stack and of what runs into it.

    Where it goes on as another stack, that one begins on its own level, and this one ends above.
    """
    into = [other for other in stretches(house) if other.to == stretch.id]
    passed = _levels_of(house, stretch)
    if not any(other.kind == "stack" for other in into):
        passed = passed.union(*(_levels_of(house, other) for other in into))
    below = house.items.get(stretch.to or "")
    own, end = (house.places.level_id(it.place) if it else None for it in (stretch, below))
    goes_on = below is not None and getattr(below.entry, "kind", None) == "stack"
    if goes_on and own in order and end in order and order.index(end) < order.index(own):
        passed = (passed - {end}) | {order[order.index(end) + 1]}
    return passed


def _above(house: House, level: str) -> str | None:
    """Return the level over a level; None for the highest, or where elevations are unknown."""
    order = upward(house)
    at = order.index(level) + 1 if level in order else len(order)
    return order[at] if at < len(order) else None


def _label(stretch: Stretch) -> str:
    size = stretch.by.size if stretch.by else None
    return f"{stretch.id} {size}" if size else stretch.id
