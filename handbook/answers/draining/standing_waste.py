"""How much waste may stand above a cleanout, or a backwater valve's lid: the worst that can be.

Before anybody has looked. Blocked anywhere below the opening, or in one of the stretches that the
signs leave, the pipe fills up to the lowest rim that the waste gets to, where it runs over. What
stands above the opening comes out of it, from every stretch that drains through the blocked one,
reckoned at its nominal size. What stands in fixtures, their traps and their arms is not counted.
"""

from collections.abc import Collection
from dataclasses import dataclass
from math import pi

from handbook.answers.draining.blocked import holders, lowest_rim, overflow
from handbook.house.drains import DrainTree, Leg
from handbook.house.house import House
from handbook.house.items import lower
from handbook.measures import Length, Volume, say_length, say_volume

CUBIC_INCHES_PER_GALLON = 231
LEAST = 0.1
"""Gallons: less than a tenth is not said as a figure."""


@dataclass(frozen=True)
class StandingWaste:
    """`head_in`: inches from the opening up to the rim of `up_to`, at which it runs over.

    `gallons` in the pipes above the opening then; None where a size, a length or a height of one
    of them is not recorded (`missing`).
    """

    head_in: float
    up_to: str
    gallons: float | None
    missing: tuple[str, ...]


def standing_waste(
    tree: DrainTree, cleanout: str, stretches: Collection[str] = ()
) -> StandingWaste | None:
    """Return the worst that can stand above this opening, of these stretches where any are given.

    None where nothing can, or where the record has no height for it or for what drains past it.
    """
    opening = tree.openings[cleanout]
    if opening is None:
        return None
    on = tree.stands_on(cleanout) or ""
    found = [
        (level.inches - opening.inches, first, leg)
        for leg in tree.downhill(on)
        if leg in stretches or not stretches
        if (first := _runs_over(tree, cleanout, leg)) and (level := tree.rims[first].elevation)
    ]
    head, first, blocked = max(found, default=(0.0, "", ""))
    if head <= 0:
        return None
    wet = [leg for leg in tree.legs.values() if not leg.own and blocked in tree.downhill(leg.id)]
    held = {leg.id: _held(leg, opening.inches, opening.inches + head) for leg in wet}
    missing = tuple(name for name, gallons in held.items() if gallons is None)
    gallons = None if missing else sum(gallons or 0.0 for gallons in held.values())
    return StandingWaste(head, first, gallons, missing)


def _runs_over(tree: DrainTree, opening: str, blocked: str) -> str | None:
    """Return where it runs over first; behind a valve, as if the valve did not hold. A valve's own
    lid lies over both sides of its flap."""
    on = tree.stands_on(opening) or ""
    if opening in tree.cleanouts and holders(tree, on, blocked):
        return lowest_rim(tree, tree.through(blocked))
    return overflow(tree, [blocked]).first


def _held(leg: Leg, low: float, high: float) -> float | None:
    """Return the gallons that a leg holds between two elevations, in inches; drains fall."""
    if leg.top is not None and leg.top.inches <= low:
        return 0.0
    ends = (leg.top, leg.bottom)
    if leg.run is None or leg.run.size is None or leg.length is None or None in ends:
        return None
    bottom, top = sorted(end.inches for end in ends if end is not None)
    if bottom >= high:
        return 0.0
    inside = min(top, high) - max(bottom, low)
    share = inside / (top - bottom) if top > bottom else 1.0
    cubic = pi / 4 * leg.run.size.inches**2 * leg.length.inches * share
    return cubic / CUBIC_INCHES_PER_GALLON


def standing_words(house: House, cleanout: str, stretches: Collection[str] = ()) -> str:
    """Say the worst that can stand above an opening; empty where nothing can, or none is known."""
    units = house.record.house.units
    found = standing_waste(house.drains, cleanout, stretches)
    if found is None:
        return ""
    head = say_length(Length(found.head_in), units)
    name = lower(house.items[found.up_to].name)
    what = "opening" if cleanout in house.drains.cleanouts else "lid"
    said = f"blocked below it, waste can stand {head} above its {what}, up to the rim of {name}"
    if found.gallons is None:
        return f"{said}; how much is not known, as {', '.join(found.missing)} lacks a figure"
    held = say_volume(Volume(found.gallons), units)
    much = f"{held} in the drains above it" if found.gallons >= LEAST else "little but the riser's"
    return f"{said}: {much}"
