"""One thing backs up and little else is known: how far down the stoppage can lie.

A way down from a fixture, in parts: between two of them something else comes in. What comes in
and runs clear ends what can be blocked; what comes in and backs up too begins it.
"""

from dataclasses import dataclass

from handbook.house.drains import DrainTree
from handbook.house.house import House
from handbook.tables import table


@dataclass(frozen=True)
class Part:
    """Legs that the same fixtures drain through; `joins` are those that come in above them."""

    joins: tuple[str, ...]
    legs: tuple[str, ...]


@dataclass(frozen=True)
class WayDown:
    """The way from a fixture, from its own trap on; `ends` where the record leads on to an end."""

    fixture: str
    parts: tuple[Part, ...]
    ends: bool


def noticed_first(house: House) -> tuple[WayDown, ...]:
    """Return the ways down from the fixtures at which a stoppage is mostly noticed."""
    kinds = table("drain_diagnosis").values["noticed"]["kinds"]
    noticed = [f for f in house.drains.rims if house.items[f].kind in kinds]
    ways = (way_down(house.drains, fixture) for fixture in noticed)
    return tuple(way for way in ways if any(part.joins for part in way.parts))


def way_down(tree: DrainTree, fixture: str) -> WayDown:
    """Return the way down from one fixture."""
    parts: list[Part] = []
    seen: tuple[str, ...] = (fixture,)
    for leg in tree.downhill(fixture):
        through = tree.through(leg)
        joins = tuple(other for other in through if other not in seen)
        if parts and not joins:
            parts[-1] = Part(parts[-1].joins, (*parts[-1].legs, leg))
        else:
            parts.append(Part(joins, (leg,)))
        seen = through
    return WayDown(fixture, tuple(parts), tree.ends_known(fixture))
