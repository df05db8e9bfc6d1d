"""Before any pipe is changed: the reducing valve set higher, the softener on its bypass.

Both are done in minutes and undone as fast, so they come before a larger pipe. Each is tried by
itself, and the worst fixture is solved again. A reducing valve goes no higher than the limit of
static pressure, than what stands ahead of it, and than it can be set; where the expansion tank's
room ends below that, its setting is tried too. What shows on no gauge is not told.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import floor
from typing import Literal

from handbook.answers.expansion import Expansion, expansion
from handbook.answers.flowing.demand import Way
from handbook.answers.flowing.flow_case import CAUTIOUS, pipework
from handbook.answers.flowing.peak import Peak, Running
from handbook.answers.flowing.readings import SAME_PSI, Reading, joined
from handbook.answers.flowing.spare import with_bathrooms
from handbook.house.house import House
from handbook.house.hydraulics import Device, Regulator, Tap
from handbook.house.lines import water_lines
from handbook.house.losses import NO_LOSS, head
from handbook.record.grammar.common import each, given
from handbook.record.grammar.water import Water
from handbook.tables import table

Bound = Literal["limit", "ahead", "range", "tank"]
"""What ends a setting: the limit, what stands ahead, the valve's range, the tank's room."""


@dataclass(frozen=True)
class Adjustment:
    """What one of them gives the worst fixture at peak. psi and gpm.

    `set_psi` is a reducing valve's new setting, `bound` what ends it there; both None for a
    softener on its bypass. `flow_gpm` is the whole fixture's. `bathroom_psi` is what is left
    there with a bathroom more, None where none can be reckoned.
    """

    thing: str
    set_psi: float | None
    bound: Bound | None
    gives_back_psi: float
    pressure_psi: float
    flow_gpm: float | None
    bathroom_psi: float | None


def adjustments(
    house: House, peak: Peak, ways: Mapping[str, Way], tap: Tap, now: Running
) -> tuple[Adjustment, ...]:
    """Return those that show at the tap, which is open at peak as `now` says."""
    tried = (*_set_higher(house, peak, now), *_bypassed(house, peak, now))
    found = (_adjusted(house, ways, tap, now, each) for each in tried)
    return tuple(each for each in found if each is not None)


@dataclass(frozen=True)
class _Tried:
    thing: str
    set_psi: float | None
    bound: Bound | None
    peak: Peak


def _adjusted(
    house: House, ways: Mapping[str, Way], tap: Tap, now: Running, tried: _Tried
) -> Adjustment | None:
    better = tried.peak.running(tap, ways[tap.id], CAUTIOUS)
    if better is None or (back := better.psi - now.psi) <= SAME_PSI:
        return None
    return Adjustment(
        tried.thing,
        tried.set_psi,
        tried.bound,
        back,
        better.psi,
        _flow(house, tried.peak, ways, tap.owner),
        with_bathrooms(house, tried.peak, ways, tap, 1.0),
    )


def _flow(house: House, peak: Peak, ways: Mapping[str, Way], owner: str) -> float | None:
    """Return what a whole fixture flows at peak, all its supplies together."""
    taps = [house.hydraulics.taps[supply] for supply in house.water.own[owner]]
    sides = [peak.running(tap, ways[tap.id], CAUTIOUS) for tap in taps if tap.id in ways]
    return joined(Reading(side.psi, side.gpm) for side in sides if side).flow_gpm


def _set_higher(house: House, peak: Peak, now: Running) -> Iterator[_Tried]:
    """Yield the last reducing valve on the way at each setting that is tried."""
    valves = [step.element for step in now.steps if isinstance(step.element, Regulator)]
    for valve in valves[-1:]:
        for psi, bound in _settings(house, valve):
            raised = {**peak.hydraulics.regulators, valve.id: replace(valve, set_psi=psi)}
            changed = replace(peak, hydraulics=replace(peak.hydraulics, regulators=raised))
            yield _Tried(valve.id, psi, bound, changed)


def _settings(house: House, valve: Regulator) -> Iterator[tuple[float, Bound]]:
    still = pipework(house.hydraulics, CAUTIOUS).solved().heads[valve.a]
    bounds: list[tuple[float, Bound]] = [
        (table("static_pressure").values["most_psi"], "limit"),
        (still - head(valve.height), "ahead"),
    ]
    if valve.most_psi is not None:
        bounds.append((valve.most_psi, "range"))
    most = min(bounds)
    room = [psi for each in behind(house, valve.id) if (psi := each.room_up_to) is not None]
    # a gauge is read to the psi, and the tank's room must not end below what is read
    tank = floor(min(room, default=most[0]))
    if (valve.set_psi or 0.0) < tank < most[0]:
        yield float(tank), "tank"
    yield most


def behind(house: House, valve: str) -> tuple[Expansion, ...]:
    """Return the heaters behind a reducing valve that have to have room for their swelling."""
    lines = water_lines(house.record)
    return tuple(
        found
        for found in expansion(house)
        if found.kind != "tankless"
        and found.closure.system != "open"
        and valve in lines.upstream(found.heater)
    )


def _bypassed(house: House, peak: Peak, now: Running) -> Iterator[_Tried]:
    """Yield each softener on the way that has a bypass, its loss taken away."""
    water = house.record.water or Water()
    bypass = {softener.id for softener in each(water.softeners) if given(softener.bypass)}
    on_way = (step.element for step in now.steps if isinstance(step.element, Device))
    for softener in (device for device in on_way if device.id in bypass):
        changed = replace(peak, laws={**peak.laws, softener.id: NO_LOSS})
        yield _Tried(softener.id, None, None, changed)
