"""The site plan: building, lot, and everything that somebody has to find outdoors, with the ties
of what is buried.

Of tapes that would run side by side from one corner, or to things that lie close together, only
one thing's are drawn, so that the lines can be read; the table of ties has them all, also those of
what is only covered.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from math import atan2, degrees

from handbook.answers.finding.corners import Corner
from handbook.answers.finding.taped import HOUSE
from handbook.answers.ties import Tie as Measured
from handbook.answers.ties import hidden, ties, unseen
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Map, Para
from handbook.pages.maps import around, holes, how_to_read, with_landmarks
from handbook.pages.parts.phrases import sentence
from handbook.pages.plan.geometry import distance, point
from handbook.pages.plan.level import base
from handbook.pages.plan.marks import marks
from handbook.pages.plan.pipes import Lines, buried_drains, fed
from handbook.pages.plan.shapes import Mark, Tie
from handbook.pages.plan.turned import turned
from handbook.pages.words import listed
from handbook.record.grammar.common import Handle
from handbook.record.grammar.drains import Cleanout, Discharge, Stretch, Vent
from handbook.record.grammar.gas import GasTee
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.water import Source, Tee

TOGETHER = 36.0
"""Inches within which buried things are found from the ties of one of them."""

FANNED = 10.0
"""Degrees that two tapes from one corner are apart at least, to be told apart."""

JOINTS = (Stretch, Vent, GasTee, Tee)
"""What is part of a line rather than a thing to find."""


def site_plan(house: House) -> tuple[Block, ...]:
    """Return the site plan; nothing where the building's outline is not recorded or nothing is
    outdoors."""
    ground = base(house, OUTSIDE)
    items = [item for item in house.items.values() if _outdoors(house, item)]
    if ground is None or not items:
        return ()
    drains = buried_drains(house)
    fed_here = [item.id for item in house.items.values() if _has_level(house, item)]
    inside = tuple(_first_inside(house))
    water = fed(house, "water pipe", [*fed_here, *inside], OUTSIDE)
    mains = [house.items[name] for name in inside if name in house.water.mains]
    drawn, corners, left_out, meant = _ties(house, items)
    plan = turned(
        replace(
            ground.plan,
            marks=(*marks(house, [*items, *mains]), *corners),
            pipes=(*ground.plan.pipes, *drains.pipes, *water.pipes),
            ties=drawn,
        )
    )
    lines = Lines((), (), (*drains.undrawn, *water.undrawn))
    notes = (*holes(items, lines), *meant, *_close_by(left_out))
    shown = (Map(around(with_landmarks(house, plan)), "Site plan", notes),)
    return (Para((how_to_read(shown),)), *shown)


def _close_by(left_out: tuple[str, ...]) -> tuple[str, ...]:
    if not left_out:
        return ()
    return (f"Ties not drawn here, but in the table of ties: {listed(left_out)}.",)


def _outdoors(house: House, item: Item) -> bool:
    return _has_level(house, item) and item.system != "site" and not isinstance(item.entry, JOINTS)


def _has_level(house: House, item: Item) -> bool:
    return house.places.level_id(item.place) == OUTSIDE


def _first_inside(house: House) -> Iterator[str]:
    """Yield what stands indoors and is fed from outdoors: where the service comes in."""
    for item in house.items.values():
        feeder = house.items.get(getattr(item.entry, "from_", None) or "")
        outdoors = feeder is not None and _has_level(house, feeder)
        if item.system == "water" and outdoors and not _has_level(house, item):
            yield item.id


def _ties(
    house: House, items: Sequence[Item]
) -> tuple[tuple[Tie, ...], tuple[Mark, ...], tuple[str, ...], tuple[str, ...]]:
    """Return the tapes to what is buried as lines, cleanouts first, whence they run, the things
    whose ties the table alone has, and how corners are named."""
    drawn: dict[str, Measured] = {}
    hides = [item for item in items if hidden(item) and not isinstance(item.entry, Source)]
    for item in sorted(hides, key=_last):
        for tie in ties(house, item.id).ties:
            near = any(_near(house, item.id, other) for other in drawn)
            if _buried(item) and not near and _fanned(house, tie, drawn.values()):
                drawn[item.id] = tie
    lines = _told_apart([line for tie in drawn.values() for line in taped(house, tie)], drawn)
    held = {corner.xy: corner for tie in drawn.values() for corner in (tie.a, tie.b)}
    corners = tuple(Mark("corner", at, words=_plain(corner)) for at, corner in held.items())
    there = [ties(house, item.id) for item in house.items.values() if _taped_here(house, item)]
    left_out = tuple(tie.thing for one in there for tie in one.ties if tie.thing not in drawn)
    meant = dict.fromkeys(sentence(said) for one in there for said in one.corners)
    return lines, corners, left_out, tuple(meant)


def _taped_here(house: House, item: Item) -> bool:
    return hidden(item) and _has_level(house, item)


def _plain(corner: Corner) -> str:
    """Return a corner's name as it stands on the plan; none for a mark on the wall, or a corner
    that is found from another."""
    return "" if " from " in corner.name else corner.brief(HOUSE)


def _fanned(house: House, tie: Measured, drawn: Iterable[Measured]) -> bool:
    """Whether both tapes of a tie run far enough from those already drawn from their corners."""
    others = [line for other in drawn for line in taped(house, other)]
    return all(
        abs((_bearing(line) - _bearing(other) + 180) % 360 - 180) >= FANNED
        for line in taped(house, tie)
        for other in others
        if line.corner == other.corner
    )


def _bearing(line: Tie) -> float:
    return degrees(atan2(line.to[1] - line.corner[1], line.to[0] - line.corner[0]))


def _told_apart(lines: Sequence[Tie], drawn: Mapping[str, Measured]) -> tuple[Tie, ...]:
    """Return the tapes, with the corner named on those that are of one length with another."""
    corners = {corner.xy: corner.name for tie in drawn.values() for corner in (tie.a, tie.b)}
    often = Counter(line.words for line in lines)
    return tuple(
        replace(line, words=f"{line.words}, {corners[line.corner].split(' corner')[0]}")
        if often[line.words] > 1
        else line
        for line in lines
    )


def _last(item: Item) -> tuple[int, bool]:
    """Return what sorts cleanouts before valves, and these before the rest; what was only told
    after what somebody saw."""
    rank = 0 if isinstance(item.entry, Cleanout) else 1 if isinstance(item.entry, Handle) else 2
    return rank, unseen(item)


def _buried(item: Item) -> bool:
    buried = item.place is not None and item.place.depth is not None
    return buried or isinstance(item.entry, Cleanout | Discharge)


def _near(house: House, one: str, other: str) -> bool:
    a, b = house.items[one].place, house.items[other].place
    if not (a and b and a.at and b.at):
        return False
    return distance(point(a.at), point(b.at)) <= TOGETHER


def taped(house: House, tie: Measured) -> tuple[Tie, ...]:
    """Return the two tapes of a tie as lines on the plan; none where the thing has no point."""
    place = house.items[tie.thing].place
    if place is None or place.at is None:
        return ()
    tapes = zip((tie.a, tie.b), tie.tapes(house.places.units), strict=True)
    return tuple(Tie(corner.xy, point(place.at), words) for corner, words in tapes)
