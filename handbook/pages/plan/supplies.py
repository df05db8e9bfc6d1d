"""Gas pipe as lines on a plan: every run from what feeds it to the next thing, with its size.

A run is drawn where both its ends are recorded and a straight line between them stays in the rooms
that it is recorded to run through. To another level it is drawn on the level of what feeds it, as
far as below or above its end, where an arrow says that it goes up or down. What cannot be drawn so
is named, with its way in the record's words.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.plan.geometry import distance, inside, point, toward
from handbook.pages.plan.levels import upward
from handbook.pages.plan.marks import BESIDE, mark
from handbook.pages.plan.pipes import SHORT, Lines
from handbook.pages.plan.shapes import Mark, Pipe, Point
from handbook.record.grammar.common import Place, Run, each, given
from handbook.record.grammar.gas import GasTee
from handbook.record.grammar.places import OUTSIDE

STEP = 6.0
"""Inches between the points at which a line is asked which room it is in."""

IN_WALL = 12.0
"""Inches that an end may lie outside a room: in its wall, or at the far face of it."""


@dataclass(frozen=True)
class Supply:
    """A run of pipe: the things from what feeds it, past its own shutoff, to the last, and their
    places; `end` is the first of them after the feeder that has a tag."""

    names: tuple[str, ...]
    stops: tuple[Place | None, ...]
    end: str
    by: Run | None

    @property
    def feeder(self) -> str:
        """What feeds it."""
        return self.names[0]

    @property
    def thing(self) -> str:
        """What it ends at."""
        return self.names[-1]


def gas_lines(house: House, level: str) -> Lines:
    """Return the gas pipe on a level, or outdoors."""
    pipes: list[Pipe] = []
    found: dict[str, Mark] = {}
    undrawn, unknown, elsewhere, passing = [], [], [], []
    for run in _runs(house):
        levels = [house.places.level_id(place) for place in run.stops]
        if level not in levels:
            passing += [_way(run)] if _passes(house, run, level) else []
            continue
        points = [point(place.at) for place in run.stops if place and place.at]
        if len(points) < len(run.stops):
            undrawn.append(run.end)
            continue
        pipes += _drawn(run, points, levels, level) if _known(house, run, points) else ()
        if not _known(house, run, points):
            unknown.append(_way(run))
        elif levels[0] not in (level, OUTSIDE):
            elsewhere.append(run.end)
        else:
            found |= _ends(house, run, points, level)
    marks = (*_tees(house, level), *found.values())
    named = (tuple(undrawn), tuple(elsewhere), tuple(unknown), tuple(passing))
    return Lines(tuple(pipes), marks, *named)


def _passes(house: House, run: Supply, level: str) -> bool:
    """Whether a run that ends on other levels goes through a room of this one."""
    through = (run.by.through if run.by else None) or ()
    return any(house.places.rooms[room][1].id == level for room in through)


def _runs(house: House) -> Iterator[Supply]:
    for item in house.items.values():
        line = given(getattr(item.entry, "gas", None)) or item.entry
        feeder = house.items.get(getattr(line, "from_", None) or "")
        if feeder is None or (line is item.entry and item.system != "gas"):
            continue
        stop = given(getattr(line, "shutoff", None))
        via = house.items.get(stop.id) if stop else None
        between = (via,) if via and via.place and via.place.at else ()
        ends = (feeder, *between, item)
        name = item.id if isinstance(item.entry, GasTee) else item.name
        tagged = next((end.id for end in ends[1:] if end.tagged), name)
        by = given(getattr(line, "by", None))
        names, stops = zip(*((end.id, end.place) for end in ends), strict=True)
        yield Supply(names, stops, tagged, by)


def _drawn(
    run: Supply, points: list[Point], levels: list[str | None], level: str
) -> Iterator[Pipe]:
    """Yield a run's lines on a level: those that start on it, or come in from outdoors."""
    size = str(run.by.size) if run.by and run.by.size else ""
    for number, (a, b) in enumerate(pairwise(points)):
        starts, ends = levels[number : number + 2]
        if level in (starts, ends) and starts in (level, OUTSIDE) and distance(a, b) > SHORT:
            leaves = ends not in (level, OUTSIDE)  # then it runs to an arrow up or down
            last = run.thing if leaves else run.names[number + 1]
            label, names = "" if number else size, (run.names[number], last)
            yield Pipe("gas pipe", (a, b), label, ends=names)


def _ends(house: House, run: Supply, points: list[Point], level: str) -> dict[str, Mark]:
    """Return the marks at a run's ends that are not on this level: what feeds it from outdoors,
    and where it leaves for another level."""
    found: dict[str, Mark] = {}
    feeder = house.items[run.feeder]
    if level != OUTSIDE and house.places.level_id(feeder.place) == OUTSIDE:
        shown = mark(house, feeder)
        found |= {feeder.id: shown} if shown else {}
    order = upward(house)
    for place, at in zip(run.stops, points, strict=True):
        there = house.places.level_id(place)
        if there and there not in (level, OUTSIDE) and {there, level} <= {*order}:
            kind = "pipe up" if order.index(there) > order.index(level) else "pipe down"
            return found | {run.thing: Mark(kind, at, "", f"to {run.end}", BESIDE, (run.thing,))}
    return found


def _known(house: House, run: Supply, points: list[Point]) -> bool:
    """Whether a straight line crosses no room but those that the run is recorded to go through."""
    levels = [house.places.level_id(place) for place in run.stops]
    across = len({*levels} - {OUTSIDE}) > 1
    through = (run.by.through if run.by else None) or ()
    if not through:
        return not across
    rooms = {*through, *(place.room for place in run.stops if place)}
    inner = [name for name in levels if name != OUTSIDE]
    others = [
        tuple(point(corner) for corner in room.outline)
        for room_id, (room, its_level) in house.places.rooms.items()
        if room_id not in rooms and its_level.id == inner[0] and room.outline
    ]
    way = _along(points[0], points[1])
    return not any(inside(outline, at) for at in way for outline in others)


def _along(a: Point, b: Point) -> Iterator[Point]:
    """Yield points on a line, but for its ends, which may lie in a wall."""
    long = distance(a, b)
    far = IN_WALL
    while far < long - IN_WALL:
        yield toward(a, b, far)
        far += STEP


def _way(run: Supply) -> str:
    """Return what is known of a run that is not drawn: `G6 (1/2 in from GT3: in the ceiling)`."""
    size = f"{run.by.size} " if run.by and run.by.size else ""
    way = f": {run.by.way}" if run.by and run.by.way else ""
    return f"{run.end} ({size}from {run.feeder}{way})"


def _tees(house: House, level: str) -> Iterable[Mark]:
    gas = given(house.record.gas)
    for tee in each(gas.tees) if gas else ():
        item: Item = house.items[tee.id]
        shown = mark(house, item, BESIDE)
        if shown and house.places.level_id(item.place) == level:
            yield shown
