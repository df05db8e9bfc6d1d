"""Where the cable goes in: the cleanouts that reach what can be blocked, in the order to try.

Outdoors before indoors, and one that opens above the standing waste before one that lets it out
into a room, of those the highest (`tables/drain_diagnosis`); then one where a range of cables takes
all pipe before one where only a size between two ranges does; then one whose free space is recorded
before one at which nobody knows whether there is room to work; then the nearest, and with the flow
before against it. After all these where a backwater valve on the way has to be opened and waste may
stand above its lid; last where no cable fits. A plumber's list: nobody opens a cleanout or a lid
while waste may stand above it.
"""

from collections.abc import Collection
from dataclasses import dataclass

from handbook.answers.draining.blocked import overflow
from handbook.answers.draining.cable_walk import Doubtful, Reached
from handbook.answers.draining.cable_way import CableWay
from handbook.answers.reach import Reach, reaches
from handbook.house.drains import DrainTree
from handbook.house.house import House
from handbook.record.grammar.places import OUTSIDE

SPACE_UNKNOWN = "free space in front of it not recorded"
"""Said of a cleanout wherever it is offered: a cable machine may not find room there."""


@dataclass(frozen=True)
class Try(CableWay):
    """A cleanout, one way of the cable from it, and whether it may let waste out."""

    outdoors: bool
    lets_out: bool | None
    """Whether waste may stand above it and come out when it is opened; None if not known."""
    space_known: bool
    """Whether the free space in front of it is recorded."""
    doubtful: tuple[Doubtful, ...]
    """Where the cable may stray to a flap, this way from this cleanout."""
    floods: bool
    """Whether a valve on the way, which a cable needs open, may let waste out at its lid."""

    @property
    def strays(self) -> tuple[Doubtful, ...]:
        """Those that a cable to the far end of what can be blocked passes, or stops at."""
        far = self.far.high
        return tuple(
            each for each in self.doubtful if each.at and (far is None or each.at.low <= far)
        )


@dataclass(frozen=True)
class TwoWay:
    """What a plumber reads at a two-way cleanout: the stretches that are blocked if it stands
    full of waste, and if it is empty."""

    id: str
    standing: tuple[str, ...]
    empty: tuple[str, ...]


def tries(house: House, legs: Collection[str]) -> tuple[Try, ...]:
    """Return the cleanouts that reach any of these legs, in the order to try them."""
    standing = _standing(house.drains, legs)
    found = [
        each
        for reach in reaches(house)
        for way in ("downstream", "upstream")
        if (each := _try(house, reach, [s for s in reach.reached if s.direction == way], standing))
    ]
    return tuple(sorted(found, key=lambda it: _order(house.drains, it)))


def two_ways(tree: DrainTree, legs: Collection[str]) -> tuple[TwoWay, ...]:
    """Return what each two-way cleanout tells apart; none that tells nothing apart."""
    found = []
    for cleanout in tree.cleanouts.values():
        both = cleanout.kind == "two-way" or cleanout.facing == "both ways"
        if not both or cleanout.on not in tree.legs:
            continue
        below = tree.downhill(cleanout.on)
        at, length = cleanout.along, tree.legs[cleanout.on].length
        head = at is not None and not at.inches
        foot = at is not None and length is not None and at.inches >= length.inches
        standing = tuple(leg for leg in legs if leg in below and not (foot and leg == cleanout.on))
        empty = tuple(leg for leg in legs if leg not in below or (leg == cleanout.on and not head))
        empty = tuple(leg for leg in empty if cleanout.on in tree.downhill(leg))
        if standing and empty:
            found.append(TwoWay(cleanout.id, standing, empty))
    return tuple(found)


def _try(
    house: House, reach: Reach, steps: list[Reached], standing: dict[str, float | None]
) -> Try | None:
    """Put together what one cleanout reaches one way of what can be blocked."""
    wanted = tuple(step for step in steps if step.stretch in standing)
    if not wanted:
        return None
    way = tuple(step.stretch for step in steps[: steps.index(wanted[-1]) + 1])
    outdoors = house.places.level_id(house.items[reach.cleanout].place) == OUTSIDE
    lets_out = _lets_out(house.drains, reach.cleanout, standing)
    space_known = house.drains.cleanouts[reach.cleanout].clear is not None
    lids = [_lets_out(house.drains, valve, standing) for valve in wanted[-1].valves]
    floods = any(lid is not False for lid in lids)
    direction = wanted[-1].direction
    met = [each for each in reach.doubtful if each.direction == direction]
    flaps = tuple(each for each in met if each.valves or each.pumps)
    return Try(
        reach.cleanout, direction, wanted, way, outdoors, lets_out, space_known, flaps, floods
    )


def _standing(tree: DrainTree, legs: Collection[str]) -> dict[str, float | None]:
    """By leg that can be blocked: how high waste can then stand above it, up to which rim."""
    found: dict[str, float | None] = {}
    for leg in legs:
        rims = [tree.rims[fixture].elevation for fixture in overflow(tree, [leg]).candidates]
        known = [rim.inches for rim in rims if rim is not None]
        found[leg] = max(known) if known and len(known) == len(rims) else None
    return found


def _lets_out(tree: DrainTree, name: str, standing: dict[str, float | None]) -> bool | None:
    """Whether, with one of these legs blocked, waste can stand above this opening or lid."""
    below = tree.downhill(tree.stands_on(name) or "")
    levels = [level for leg, level in standing.items() if leg in below]
    opening = tree.openings[name]
    if not levels:
        return False
    if opening is None or None in levels:
        return None
    return any(level is not None and level > opening.inches for level in levels)


def _order(tree: DrainTree, it: Try) -> tuple[object, ...]:
    opening = tree.openings[it.id]
    height = -opening.inches if opening and it.lets_out else 0.0
    spill = {False: 0, None: 1, True: 2}[it.lets_out]
    return (
        it.fits is False,
        it.floods,
        not it.outdoors,
        spill,
        height,
        it.shared,
        not it.space_known,
        it.near.low,
        it.direction == "upstream",
    )
