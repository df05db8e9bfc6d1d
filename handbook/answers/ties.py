"""Ties: where exactly a buried or hidden thing is, as two taped distances from fixed corners.

What is taped from is chosen in `taped`, corners are named in `corners`, and whether a tape can be
stretched at all is in `sight`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import dist

from handbook.answers.finding.corners import Corner
from handbook.answers.finding.faces import Faces
from handbook.answers.finding.taped import (
    Pair,
    Plan,
    best_pair,
    crossing,
    plan_of,
    slip,
    stands_at_wall,
)
from handbook.answers.not_asked import no_thing
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.places import BY_EYE
from handbook.measures import Length, Units, say_length
from handbook.record.grammar.common import Seen, given
from handbook.record.grammar.drains import Cleanout, Discharge, Stretch

HIDES = ("water", "drain", "gas", "equipment")
UNSEEN = ("told", "drawing")
FOOT, HALF_METRE = 12.0, 500 / 25.4
"""Inches to which a distance is said that nobody taped."""

UNDER_GROUND = ("building drain", "building sewer")


@dataclass(frozen=True)
class Tie:
    """Two tapes that meet at a thing, both held level.

    `angle_deg` is the angle at which they cross; `slip_in` how far, in inches, the point moves
    when one of them is an inch out; `side` on which side of the line from `a` to `b` it lies;
    `of` whose corners they are, such as `the house`.
    """

    thing: str
    a: Corner
    b: Corner
    distance_a: Length
    distance_b: Length
    angle_deg: float
    slip_in: float
    side: str
    name: str
    of: str
    told: bool
    """Whether nobody saw it: its place was told, or read off a drawing; then its distances are
    about so."""
    unsaid: bool
    """Whether the record does not say that anybody saw it; its distances are no finer than told."""

    def tapes(self, units: Units) -> tuple[str, str]:
        """Return both distances in words: to half an inch as taped, or about so many feet."""
        a, b = self.distance_a, self.distance_b
        if not (self.told or self.unsaid):
            return say_length(a, units, BY_EYE), say_length(b, units, BY_EYE)
        step = HALF_METRE if units == "metric" else FOOT
        near, far = (Length(round(each.inches / step) * step) for each in (a, b))
        return f"about {say_length(near, units)}", f"about {say_length(far, units)}"


@dataclass(frozen=True)
class Ties:
    """The ties, in walking order; `corners` says how the corners' names are meant."""

    ties: tuple[Tie, ...]
    corners: tuple[str, ...]
    assumed: tuple[str, ...]
    missing: tuple[str, ...]


def hidden(item: Item) -> bool:
    """Whether a thing is buried, covered, or a point of the sewer, so that ties are wanted."""
    match item.entry:
        case Cleanout() | Discharge():
            return True
        case Stretch(kind=kind) if kind in UNDER_GROUND:
            return True
    place = item.place
    covered = place and (place.depth is not None or given(place.behind) is not None)
    return bool(covered) and item.system in HIDES


def ties(house: House, thing: str | None = None) -> Ties:
    """Return the ties of a thing, or of everything buried or hidden.

    Raises NoSuchThingError for an id that the record does not have.
    """
    return ties_of(house, _wanted(house, thing))


def ties_of(house: House, things: Iterable[Item]) -> Ties:
    """Return the ties of several things, in their order."""
    found: list[Tie] = []
    meant: dict[str, None] = {}
    missing: dict[str, None] = {}
    at_walls: list[str] = []
    rooms: list[Faces] = []
    for item in things:
        plan = plan_of(house, item)
        if isinstance(plan, Plan) and stands_at_wall(plan) and best_pair(house, plan) is None:
            at_walls.append(house.called(item.id))
            continue
        pair = plan if isinstance(plan, str) else best_pair(house, plan) or _why(house, item)
        if isinstance(plan, str) or isinstance(pair, str):
            missing[str(pair)] = None
            continue
        found.append(_tie(item, plan, pair))
        meant[plan.axes.said] = None
        rooms += [plan.faces] if plan.faces else []
    told = (*missing, *_one_tape(at_walls))
    return Ties(tuple(found), tuple(meant), _touched(rooms), told)


def _one_tape(at_walls: list[str]) -> tuple[str, ...]:
    """Say in one breath of what no two tapes are needed."""
    if not at_walls:
        return ()
    stand = "it stands" if len(at_walls) == 1 else "each stands"
    names = ", ".join(at_walls)
    enough = "at the wall or in it, where one tape along it is enough"
    return (f"no two tapes for {names}: {stand} {enough}",)


def _touched(rooms: list[Faces]) -> tuple[str, ...]:
    """Say where the corners of these rooms are: of their finished walls, or not surely."""
    said: list[str] = []
    if any(room.known for room in rooms):
        said.append("A tape indoors is held to the corner of the finished walls")
    unknown = {kind for room in rooms for kind in room.unknown}
    if "inside" in unknown:
        said.append(
            "How thick walls between rooms are is not recorded (`levels: wall_thickness`): such a "
            "corner is told as at the middle of the wall, and the tape reads half a wall shorter"
        )
    if "outside" in unknown:
        said.append(
            "How thick outside walls are is not recorded (`levels: wall_thickness`): such a corner "
            "is told as at the outer face, and the tape reads a whole wall shorter"
        )
    return tuple(said)


def _wanted(house: House, thing: str | None) -> list[Item]:
    if thing is None:
        return [item for item in house.items.values() if hidden(item)]
    if thing not in house.items:
        raise no_thing(house, thing, house.items)
    return [house.items[thing]]


def _why(house: House, item: Item) -> str:
    name = house.called(item.id)
    return f"a second fixed point near {name}: no two corners that it can be taped from cross well"


def _tie(item: Item, plan: Plan, pair: Pair) -> Tie:
    a, b = pair
    angle = crossing(a, plan.point, b)
    return Tie(
        item.id,
        a,
        b,
        Length(dist(a.xy, plan.point)),
        Length(dist(b.xy, plan.point)),
        angle,
        slip(angle),
        _side(plan, pair),
        item.name,
        plan.of,
        told=unseen(item),
        unsaid=getattr(item.entry, "seen", None) is None,
    )


def unseen(item: Item) -> bool:
    """Whether a thing's place was only told, or read off a drawing, and nobody saw it there."""
    seen: Seen | None = getattr(item.entry, "seen", None)
    return seen is not None and seen.how in UNSEEN


def _side(plan: Plan, pair: Pair) -> str:
    """Say on which side of the line through both corners the thing lies: `toward the street`."""
    (ax, ay), (bx, by), (x, y) = pair[0].xy, pair[1].xy, plan.point
    dx, dy = bx - ax, by - ay
    share = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)
    return plan.axes.toward((x - ax - share * dx, y - ay - share * dy))
