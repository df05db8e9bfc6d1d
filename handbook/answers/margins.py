"""What is left at peak: the worst fixture, what costs it most, a size more, a bathroom more.

The worst fixture is the one whose pressure at peak is least above, or furthest below, what it
needs. On its way stands the stretch that costs most; one nominal size more gives so much back. A
further bathroom is taken to branch off behind the stretches that every indoor fixture is fed
through; its own branch comes on top.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from handbook.answers.demand import Way, load
from handbook.answers.flow_case import CAUTIOUS, pipe_id
from handbook.answers.peak import Peak, Step
from handbook.house.bores import next_size
from handbook.house.house import House
from handbook.house.hydraulics import Stretch
from handbook.house.stretches import laws_of
from handbook.measures import parse_pipe_size
from handbook.tables import table

OUTDOORS = ("hose bibb", "irrigation")
_MOST_UNITS = 100.0


@dataclass(frozen=True)
class Upsizing:
    """What a larger size of one stretch gives the worst fixture; None: there is no larger one."""

    run: str
    from_size: str
    to_size: str
    gives_back_psi: float


@dataclass(frozen=True)
class Spare:
    """What a bathroom more does: the demand then, and the worst fixture's pressure then.

    `wsfu_left` is how many fixture units can be added before it falls below its need; None where
    the demand curve ends first.
    """

    added_wsfu: float
    demand_gpm: float
    pressure_psi: float
    left_psi: float
    holds: bool
    wsfu_left: float | None


@dataclass(frozen=True)
class Margins:
    """All of it is cautious. `steps` go from where the pressure is known to the worst fixture."""

    worst: str
    supply: str
    pressure_psi: float
    need_psi: float
    steps: tuple[Step, ...]
    costliest: str | None
    costliest_psi: float
    upsizing: Upsizing | None
    spare: Spare | None

    @property
    def left_psi(self) -> float:
        """What the worst fixture has above its need; below zero it has too little."""
        return self.pressure_psi - self.need_psi


def margins(
    house: House, peak: Peak, ways: Mapping[str, Way], needs: Mapping[str, float]
) -> Margins | None:
    """Return what is left; `needs` are the fixtures to look at, in psi. None where none can."""
    found = [
        (psi - needs[tap.owner], psi, tap)
        for tap in house.hydraulics.taps.values()
        if tap.owner in needs
        and tap.id in ways
        and (psi := peak.pressure(ways[tap.id], tap.height, CAUTIOUS)) is not None
    ]
    if not found:
        return None
    _, psi, tap = min(found, key=lambda each: each[:2])
    way = ways[tap.id]
    steps = peak.descent(way, CAUTIOUS) or ()
    pipes = [step for step in steps if isinstance(step.element, Stretch)]
    costly = max(pipes, key=lambda step: step.loss, default=None)
    return Margins(
        tap.owner,
        tap.id,
        psi,
        needs[tap.owner],
        steps,
        costly.element.id if costly else None,
        costly.loss if costly else 0.0,
        _upsizing(peak, way, tap.height, costly, psi) if costly else None,
        _spare(house, peak, ways, tap.id, needs[tap.owner]),
    )


def _upsizing(peak: Peak, way: Way, height: float, costly: Step, psi: float) -> Upsizing | None:
    stretch = costly.element
    assert isinstance(stretch, Stretch)
    larger = next_size(stretch.run) if stretch.run and stretch.run.bore is None else None
    if larger is None or stretch.run is None or stretch.run.size is None:
        return None
    size, bores = larger
    run = stretch.run.model_copy(update={"size": parse_pipe_size(size)})
    law = laws_of(run, bores, stretch.valve)[CAUTIOUS]
    better = replace(peak, laws={pipe_id(stretch.id): law}).pressure(way, height, CAUTIOUS)
    if better is None:
        return None
    return Upsizing(stretch.id, str(stretch.run.size), size, better - psi)


def _spare(
    house: House, peak: Peak, ways: Mapping[str, Way], supply: str, need: float
) -> Spare | None:
    shared = _shared(house, ways)
    on_way = [name for name in ways[supply].links if name in shared]
    if not on_way:
        return None
    units = table("fixture_units").values["groups"]["full bath"]["combined"]
    psi = _with_more(house, peak, ways, supply, units)
    last = load(house, _carried(ways, on_way[-1]), units)
    if psi is None or last.gpm is None:
        return None
    left = _units_left(house, peak, ways, supply, need)
    return Spare(units, last.gpm, psi, psi - need, psi >= need, left)


def _shared(house: House, ways: Mapping[str, Way]) -> set[str]:
    """Return the links that all water of every indoor fixture comes through."""
    taps = house.hydraulics.taps
    indoors = [
        {link for link, share in way.shares.items() if share > 0.999}
        for supply, way in ways.items()
        if house.items[taps[supply].owner].kind not in OUTDOORS
    ]
    return set.intersection(*indoors) if indoors else set()


def _carried(ways: Mapping[str, Way], link: str) -> dict[str, float]:
    return {
        supply: min(1.0, round(way.shares[link], 3))
        for supply, way in ways.items()
        if link in way.shares
    }


def _with_more(
    house: House, peak: Peak, ways: Mapping[str, Way], supply: str, units: float
) -> float | None:
    """Return the pressure at a supply with more fixture units on the shared stretches."""
    more = {link: load(house, _carried(ways, link), units) for link in _shared(house, ways)}
    tap = house.hydraulics.taps[supply]
    busier = replace(peak, loads={**peak.loads, **more})
    return busier.pressure(ways[supply], tap.height, CAUTIOUS)


def _units_left(
    house: House, peak: Peak, ways: Mapping[str, Way], supply: str, need: float
) -> float | None:
    """Return the fixture units that can be added, to a tenth; None beyond what is looked at."""

    def holds(units: float) -> bool:
        psi = _with_more(house, peak, ways, supply, units)
        return psi is not None and psi >= need

    if not holds(0.1):
        return 0.0
    low, high = 0.1, _MOST_UNITS
    if holds(high):
        return None
    while high - low > 0.05:
        middle = (low + high) / 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return round(low, 1)
