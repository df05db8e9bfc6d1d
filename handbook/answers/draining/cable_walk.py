"""The way of a drain cable from an opening: with the flow, and against it.

With the flow it passes every joint down to the discharge. Against the flow it goes straight on,
but it cannot be steered into a branch, climbs a stack badly and passes no pump
(`tables/cable_turns`). Lengths are inches of cable from the opening, its riser included.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from handbook.house.drains import BACKWATER, EJECTOR, DrainTree, Leg
from handbook.measures import PipeSize
from handbook.tables import table

Direction = Literal["downstream", "upstream"]
UNKNOWN_SIZE = "not recorded"
SEWER = "building sewer"
MAIN_LINE = frozenset({"building drain", SEWER})


@dataclass(frozen=True)
class Cable:
    """A length of cable in inches: exactly `low`, or somewhere from `low` to `high`.

    `high` is None where the record sets no upper end.
    """

    low: float
    high: float | None

    def __add__(self, other: "Cable") -> "Cable":
        """Return both one after the other."""
        low = self.low + other.low
        if self.high is None or other.high is None:
            return Cable(low, None)
        return Cable(low, self.high + other.high)

    @property
    def exact(self) -> float | None:
        """The length, where it is known."""
        return self.low if self.low == self.high else None


@dataclass(frozen=True)
class Opening:
    """A cleanout on its leg: `at` down from the leg's upper end, `riser` from opening to pipe."""

    leg: Leg
    at: Cable
    riser: Cable
    size: PipeSize | None


@dataclass(frozen=True)
class Reached:
    """A stretch, or the part of it on one side of the opening, as a cable reaches it.

    `near` and `far` are the cable lengths to its two ends. `whole`: from end to end; else from
    the opening, `at` inches down from the stretch's upper end (None where not recorded).
    """

    stretch: str
    direction: Direction
    near: Cable
    far: Cable
    whole: bool
    at: float | None
    sizes: tuple[PipeSize | None, ...]
    """From the opening on, each change once; None where not recorded."""
    quarter_bends: int | None
    """Quarter bends up to its far end; None where the fittings are not recorded."""
    valves: tuple[str, ...] = ()
    """Backwater valves on the way, whose flap comes out first."""
    sewer: bool = False
    """Whether it is building sewer, where roots get in."""

    @property
    def through(self) -> tuple[str, ...]:
        """The sizes in words."""
        return tuple(str(size) if size else UNKNOWN_SIZE for size in self.sizes)


@dataclass(frozen=True)
class Doubtful:
    """A stretch that a cable may or may not get into, and why.

    `at`: the cable to where it begins; `valves` and `pumps`: the backwater valves, and the ejectors
    with their check valves, in it, whose flaps a cable that comes up from below damages.
    """

    stretch: str
    direction: Direction
    why: str
    at: Cable | None = None
    valves: tuple[str, ...] = ()
    pumps: tuple[str, ...] = ()


def walk(tree: DrainTree, opening: Opening, way: Direction) -> Iterator[Reached | Doubtful]:
    """Yield what a cable reaches this way, nearest first, and what it may miss."""
    yield from _down(tree, opening) if way == "downstream" else _up(tree, opening)


def quarter_bends(leg: Leg) -> int | None:
    """Return how many quarter bends a leg has, where its fittings are recorded."""
    fittings = leg.run.fittings if leg.run else None
    return fittings.ell_90 if fittings else None


def _down(tree: DrainTree, opening: Opening) -> Iterator[Reached | Doubtful]:
    rest = _below(opening)
    whole = opening.at.high == 0
    step = _first(opening, "downstream", rest, whole)
    for name in tree.downhill(opening.leg.id):
        leg = tree.legs[name]
        if name != opening.leg.id:
            step = _next(step, leg)
        if _pumps(tree, name):
            yield Doubtful(name, "downstream", _said("ejector"))
            return
        step = _into(tree, step, leg)
        if name != opening.leg.id or rest.high != 0:
            yield step


def _up(tree: DrainTree, opening: Opening) -> Iterator[Reached | Doubtful]:
    leg = opening.leg
    whole = leg.length is not None and opening.at.low == leg.length.inches
    step = _first(opening, "upstream", opening.at, whole)
    while True:
        if _pumps(tree, leg.id):
            yield _aside(tree, leg.id, "ejector", step.near)
            return
        step = _into(tree, step, leg)
        if leg is not opening.leg or opening.at.high != 0:
            yield step
        straight, others = _onward(tree, leg)
        for name, why in others.items():
            yield _aside(tree, name, why, step.far)
        if straight is None:
            return
        leg = straight
        step = _next(step, leg)


def _aside(tree: DrainTree, leg: str, why: str, at: Cable) -> Doubtful:
    """A stretch that a cable against the flow may get into, with the flaps that it meets there."""
    return Doubtful(leg, "upstream", _said(why), at, _flaps(tree, leg), _pumps(tree, leg))


def _first(opening: Opening, way: Direction, rest: Cable, whole: bool) -> Reached:
    riser = opening.riser
    at = opening.at.exact
    sewer = opening.leg.kind == SEWER
    return Reached(
        opening.leg.id, way, riser, riser + rest, whole, at, (opening.size,), 0, sewer=sewer
    )


def _next(step: Reached, leg: Leg) -> Reached:
    own = Cable(0, None) if leg.length is None else Cable(leg.length.inches, leg.length.inches)
    there = replace(step, stretch=leg.id, near=step.far, far=step.far + own, whole=True, at=None)
    return replace(there, sewer=leg.kind == SEWER)


def _below(opening: Opening) -> Cable:
    """The part of its leg that lies below the opening."""
    length, at = opening.leg.length, opening.at
    if length is None or at.high is None:
        return Cable(0, None)
    return Cable(length.inches - at.high, length.inches - at.low)


def _into(tree: DrainTree, step: Reached, leg: Leg) -> Reached:
    """Add a leg's size, bends and valves to a step on the way."""
    sizes = step.sizes if step.sizes[-1] == leg.size else (*step.sizes, leg.size)
    bends = quarter_bends(leg)
    total = None if bends is None or step.quarter_bends is None else step.quarter_bends + bends
    valves = (*step.valves, *_flaps(tree, leg.id))
    return replace(step, sizes=sizes, quarter_bends=total, valves=valves)


def _flaps(tree: DrainTree, leg: str) -> tuple[str, ...]:
    return tuple(it.id for it in tree.equipment.get(leg, ()) if it.kind == BACKWATER)


def _onward(tree: DrainTree, leg: Leg) -> tuple[Leg | None, dict[str, str]]:
    """At a leg's head: the leg straight on, if there is one, and why each other is doubtful."""
    above = [tree.legs[name] for name in tree.above[leg.id]]
    lines = [line for line in above if not line.own]
    if any(line.kind is None for line in (leg, *lines)):
        return None, {line.id: "unknown_kind" for line in lines}
    stacks = [line for line in lines if line.kind == "stack"]
    level = [line for line in lines if line.kind != "stack"]
    if leg.kind == "stack":
        aside, lines = {line.id: "out_of_a_stack" for line in level}, stacks
    else:
        aside, lines = {line.id: "up_a_stack" for line in stacks}, level
    straight = lines[0] if len(lines) == len(above) == 1 else _run(leg, lines)
    why = "branch_of_wye" if straight else "joint"
    return straight, aside | {line.id: why for line in lines if line is not straight}


def _run(leg: Leg, lines: list[Leg]) -> Leg | None:
    """The run of a wye: the one line of the same kind that is as wide as what it runs into."""
    same = [line for line in lines if line.kind == leg.kind or {line.kind, leg.kind} <= MAIN_LINE]
    if leg.size is None or any(line.size is None for line in same):
        return None
    wide = [line for line in same if line.size and line.size.inches >= leg.size.inches]
    return wide[0] if len(wide) == 1 else None


def _pumps(tree: DrainTree, leg: str) -> tuple[str, ...]:
    return tuple(it.id for it in tree.equipment.get(leg, ()) if it.kind == EJECTOR)


def _said(turn: str) -> str:
    said: str = table("cable_turns").values[turn]["said"]
    return said
