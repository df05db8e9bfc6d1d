"""Which fixtures surely fall short of their pressure at peak demand, and which pipes run too fast.

Surely: with the kindest of what the record leaves open, and without any allowance for fittings
that nobody counted. Nothing is said of a fixture whose height is not recorded. How much of its
flow a fixture draws hot is never recorded: a hot pipe to one alone is held to the limit for hot
copper at half of the flow, the share that a mixing fixture is taken to draw, and to the limit for
cold at all of it. A fixture that fills with hot alone (a washer on hot) is held to the limit for
hot at all of its flow.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from handbook.answers.flowing.demand import Load, loads, supply_ways
from handbook.answers.flowing.flow_case import KIND, pipe_id
from handbook.answers.flowing.outlets import giving
from handbook.answers.flowing.peak import Peak
from handbook.answers.flowing.speed_limits import SpeedLimit, cold_limit, speed_limit
from handbook.house.equivalent import counted
from handbook.house.house import House
from handbook.house.hydraulics import Hydraulics, Stretch
from handbook.house.losses import Friction, Law, velocity
from handbook.tables import table


@dataclass(frozen=True)
class Short:
    """A fixture's supply at peak: what it gets at best, what it needs; psi. None: cannot tell."""

    supply: str
    owner: str
    best_psi: float | None
    need_psi: float

    @property
    def falls_short(self) -> bool:
        """Whether it gets less than it needs."""
        return self.best_psi is not None and self.best_psi < self.need_psi


@dataclass(frozen=True)
class Fast:
    """A run at peak: how fast water runs in it at best, in ft/s, and its limit.

    None where they cannot be told.
    """

    stretch: Stretch
    speed: float | None
    limit: SpeedLimit | None

    @property
    def too_fast(self) -> bool | None:
        """Whether it runs faster than its limit; None where that cannot be told."""
        return self.limit.exceeded(self.speed) if self.limit else None


def shortfalls(house: House) -> tuple[Short, ...]:
    """Return every supply of a fixture whose need is published, in walking order."""
    return tuple(_shortfalls(house))


def _shortfalls(house: House) -> Iterator[Short]:
    ways = supply_ways(house)
    peak = Peak(house.hydraulics, loads(house, ways), _bare(house.hydraulics))
    for tap in house.hydraulics.taps.values():
        gives = giving(house, tap.owner)
        if gives is None or gives.need_psi is None or tap.id not in ways:
            continue
        psi = None if tap.levelled else peak.pressure(ways[tap.id], tap.height, KIND)
        yield Short(tap.id, tap.owner, psi, gives.need_psi)


def _bare(hydraulics: Hydraulics) -> dict[str, Law]:
    """Return the laws of the runs whose fittings nobody counted, without the allowance."""
    return {
        pipe_id(stretch.id): Friction(run.length.feet, law.bore, law.c)
        for stretch in hydraulics.stretches.values()
        if (run := stretch.run) and run.length and not counted(run)
        if stretch.laws and isinstance(law := stretch.laws[KIND], Friction)
    }


def speeds(house: House) -> tuple[Fast, ...]:
    """Return every run that carries water at peak."""
    carried = loads(house, supply_ways(house))
    found = []
    for stretch in house.hydraulics.stretches.values():
        load = carried.get(pipe_id(stretch.id))
        if load is None or load.gpm == 0:
            continue
        wide = stretch.bores[1] if stretch.bores else None
        fast = None if wide is None or load.gpm is None else velocity(load.gpm, wide)
        cold, hot = cold_limit(stretch), speed_limit(house, stretch)
        found.append(Fast(stretch, fast, cold))
        if cold != hot and not found[-1].too_fast:
            found[-1] = Fast(stretch, None if fast is None else fast * _share(house, load), hot)
    return tuple(found)


def _share(house: House, load: Load) -> float:
    """Return the share of its flow that a pipe surely carries: to one mixing fixture, half."""
    if len(load.owners) > 1 or house.items[load.owners[0]].kind in table("hot_alone").values:
        return 1.0
    return 1 / len(house.water.own[load.owners[0]])
