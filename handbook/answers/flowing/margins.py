"""What is left at peak: the worst fixture, what costs it most, a size more, a bathroom more.

The worst fixture is the one whose pressure, open at peak, is least above, or furthest below, what
it needs. On its way stand the pipe and the equipment that cost most, and the pipes of which one
nominal size more gives most back. A further bathroom is taken to branch off where the last
stretches end that feed every bathroom, its cold and its hot each for itself; its own branch comes
on top.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from handbook.answers.flowing.demand import Load, Way, load
from handbook.answers.flowing.flow_case import CAUTIOUS
from handbook.answers.flowing.peak import Peak, Running, Step
from handbook.answers.flowing.upsizing import Upsizing, upsizings
from handbook.house.house import House
from handbook.house.hydraulics import Device, Stretch, Tap
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


@dataclass(frozen=True)
class Cost:
    """What one run of pipe, or one piece of equipment, takes off the pressure, in psi."""

    id: str
    psi: float


@dataclass(frozen=True)
class Margins:
    """All of it is cautious. `steps` go from where the pressure is known to the worst fixture.

    `costliest` is the pipe on that way that costs most, `equipment` the device that does.
    `upsizings` are the pipes on it whose next size shows there, the most given back first.
    """

    worst: str
    supply: str
    pressure_psi: float
    need_psi: float
    steps: tuple[Step, ...]
    costliest: Cost | None
    equipment: Cost | None
    upsizings: tuple[Upsizing, ...]
    spare: Spare | None

    @property
    def left_psi(self) -> float:
        """What the worst fixture has above its need; below zero it has too little."""
        return self.pressure_psi - self.need_psi

    @property
    def upsizing(self) -> Upsizing | None:
        """What the next size of the costliest pipe gives back; None where nothing that shows."""
        costliest = self.costliest.id if self.costliest else None
        return next((each for each in self.upsizings if each.run == costliest), None)


def margins(
    house: House, peak: Peak, ways: Mapping[str, Way], needs: Mapping[str, float]
) -> Margins | None:
    """Return what is left; `needs` are the fixtures to look at, in psi. None where none can."""
    found = [
        (run.psi - needs[tap.owner], run.psi, tap, run)
        for tap in house.hydraulics.taps.values()
        if tap.owner in needs and tap.id in ways
        if (run := peak.running(tap, ways[tap.id], CAUTIOUS)) is not None
    ]
    if not found:
        return None
    _, psi, tap, worst = min(found, key=lambda each: each[:2])
    return Margins(
        tap.owner,
        tap.id,
        psi,
        needs[tap.owner],
        worst.steps,
        _costliest(worst, Stretch),
        _costliest(worst, Device),
        upsizings(peak, ways[tap.id], tap, worst),
        _spare(house, peak, ways, tap, needs[tap.owner]),
    )


def _costliest(worst: Running, kind: type[Stretch | Device]) -> Cost | None:
    found = (step for step in worst.steps if isinstance(step.element, kind))
    step = max(found, key=lambda step: step.loss, default=None)
    return Cost(step.element.id, step.loss) if step else None


def _spare(
    house: House, peak: Peak, ways: Mapping[str, Way], tap: Tap, need: float
) -> Spare | None:
    group = table("fixture_units").values["groups"]["full bath"]
    units: float = group["combined"]
    shared = _shared(house, ways)
    busiest = [name for name, sides in shared.items() if len(sides) > 1]
    if not busiest:
        return None
    psi = _with_more(house, peak, ways, tap, 1.0)
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


def _with_more(
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
        psi = _with_more(house, peak, ways, tap, number + 1.0)
        if psi is None or psi < need:
            break
        number += 1
    return number
