"""One bathroom more: what it does to the demand, and to the worst fixture's pressure at peak.

It is taken to branch off where the last stretches end that feed every bathroom, its cold and its
hot each for itself; its own branch comes on top.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from handbook.answers.flowing.demand import Load, Way, load
from handbook.answers.flowing.flow_case import CAUTIOUS
from handbook.answers.flowing.peak import Peak
from handbook.house.house import House
from handbook.house.hydraulics import Tap
from handbook.tables import table

BATHROOM = ("water closet", "lavatory", "bathtub", "tub and shower", "shower", "bidet")
_MOST_BATHROOMS = 10


@dataclass(frozen=True)
class Spare:
    """What a bathroom more does: the demand then, and the worst fixture's pressure then.

    `bathrooms_left` is how many can be added before it falls below its need, ten at the most.
    """

    added_wsfu: float
    demand_gpm: float
    pressure_psi: float
    left_psi: float
    holds: bool
    bathrooms_left: int


def spare(house: House, peak: Peak, ways: Mapping[str, Way], tap: Tap, need: float) -> Spare | None:
    """Return what a bathroom more does; None where no stretch feeds every bathroom."""
    group = table("fixture_units").values["groups"]["full bath"]
    units: float = group["combined"]
    shared = _shared(house, ways)
    busiest = [name for name, sides in shared.items() if len(sides) > 1]
    if not busiest:
        return None
    psi = with_bathrooms(house, peak, ways, tap, 1.0)
    last = max((_more(house, ways, name, "combined", 1.0) for name in busiest), key=_by_units)
    if psi is None or last.gpm is None:
        return None
    left = _bathrooms_left(house, peak, ways, tap, need)
    return Spare(units, last.gpm, psi, psi - need, psi >= need, left)


def _by_units(each: Load) -> float:
    return each.wsfu


def _shared(house: House, ways: Mapping[str, Way]) -> dict[str, set[str]]:
    """Return the links that all cold, or all hot, or both, of every bathroom comes through."""
    found: dict[str, set[str]] = {}
    for side in ("cold", "hot"):
        whole = [
            {link for link, share in way.shares.items() if share > 0.999}
            for supply, way in ways.items()
            if supply.endswith(f".{side}") and _in_bathroom(house, supply)
        ]
        for link in set.intersection(*whole) if whole else ():
            found.setdefault(link, set()).add(side)
    return found


def _in_bathroom(house: House, supply: str) -> bool:
    return house.items[house.hydraulics.taps[supply].owner].kind in BATHROOM


def _more(house: House, ways: Mapping[str, Way], link: str, side: str, bathrooms: float) -> Load:
    """Return the load of a link with more bathrooms on it."""
    shares = {
        supply: 1.0 if way.shares[link] > 0.999 else way.shares[link]
        for supply, way in ways.items()
        if link in way.shares
    }
    units = table("fixture_units").values["groups"]["full bath"][side]
    return load(house, shares, units * bathrooms)


def with_bathrooms(
    house: House, peak: Peak, ways: Mapping[str, Way], tap: Tap, bathrooms: float
) -> float | None:
    """Return the pressure at a supply with more bathrooms on the shared stretches."""
    more = {
        link: _more(house, ways, link, "combined" if len(sides) > 1 else min(sides), bathrooms)
        for link, sides in _shared(house, ways).items()
    }
    busier = replace(peak, loads={**peak.loads, **more}).running(tap, ways[tap.id], CAUTIOUS)
    return busier.psi if busier else None


def _bathrooms_left(
    house: House, peak: Peak, ways: Mapping[str, Way], tap: Tap, need: float
) -> int:
    """Return how many bathrooms can be added before the fixture falls below its need."""
    number = 0
    while number < _MOST_BATHROOMS:
        psi = with_bathrooms(house, peak, ways, tap, number + 1.0)
        if psi is None or psi < need:
            break
        number += 1
    return number
