"""Flow: what pressure and flow each fixture gets, and what the pipes take from it.

Three times for each fixture wide open: alone, with the fixtures that are asked about (`running`),
and at peak demand. The first two solve the network with outlets that give less as the pressure
falls; the third goes stretch by stretch, each at its own peak demand or at what the fixture itself
draws, whichever is more (`peak`). Whatever the record leaves open
between two assumptions gives two figures: the cautious one counts, the kind one stands beside it.
A length or a size that is not recorded is never made up: what is behind it has no figures, and
says what it needs.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from handbook.answers.flowing.asked import Asked
from handbook.answers.flowing.fixture_flow import fixture_flow
from handbook.answers.flowing.flow_results import DeviceFlow, FixtureFlow, Flow, RunFlow
from handbook.answers.flowing.margins import margins
from handbook.answers.flowing.outlets import giving
from handbook.answers.flowing.run_flow import device_flows, run_flows
from handbook.answers.flowing.speed_limits import hot_bound
from handbook.answers.not_asked import NoSuchThingError, no_thing
from handbook.house.house import House
from handbook.house.naming import end_name, in_a_row
from handbook.record.problems import nearest
from handbook.tables import table


def flow(house: House, running: Sequence[str] = ()) -> Flow:
    """Return the flow of a house. Raises NoSuchThingError for an id that is no outlet here."""
    for owner in running:
        if owner not in house.water.own:
            if owner not in house.items:
                raise no_thing(house, owner, house.water.own)
            near = nearest(owner, tuple(house.water.own))
            raise NoSuchThingError(owner, near, f"`{owner}` is not a fixture that water runs to")
    return _answer(Asked(house, running))


def _answer(asked: Asked) -> Flow:
    fixtures = {owner: fixture_flow(asked, owner) for owner in asked.house.water.own}
    devices = {each.id: each for each in device_flows(asked)}
    runs = {each.id: each for each in run_flows(asked)}
    gauge = asked.hydraulics.gauge
    whole = max(asked.loads.values(), key=lambda load: load.wsfu, default=None)
    return Flow(
        gauge.psi if gauge else None,
        asked.running,
        fixtures,
        runs,
        devices,
        margins(asked.house, asked.peak, asked.ways, _wanted(fixtures)),
        whole.wsfu if whole else 0.0,
        whole.gpm if whole else None,
        (*asked.hydraulics.assumed, *_assumed(asked.house, devices.values(), runs.values())),
        tuple(
            dict.fromkeys((*asked.hydraulics.missing, *_missing(asked, fixtures, runs.values())))
        ),
    )


def _wanted(fixtures: Mapping[str, FixtureFlow]) -> dict[str, float]:
    """Return what each fixture needs whose pressure at peak is known, in psi."""
    return {
        f.id: f.need_psi
        for f in fixtures.values()
        if f.need_psi is not None and f.peak.pressure_psi is not None
    }


def _assumed(house: House, devices: Iterable[DeviceFlow], runs: Iterable[RunFlow]) -> Iterator[str]:
    yield "The supply is taken to hold its static pressure however much the house draws."
    yield "A mixing fixture draws half its flow cold, half hot."
    yield (
        "An outlet whose maker's rating is not recorded (`delivers`) is taken as a plain opening "
        "of the code's flow at the code's pressure; a head or an aerator that limits its flow "
        "gives less."
    )
    silent = [owner for owner in house.water.own if giving(house, owner) is None]
    if silent:
        names = in_a_row(end_name(house.items, owner) for owner in silent)
        yield f"{names}: no published flow; reckoned as drawing nothing."
    for device in devices:
        if device.beyond:
            yield f"{device.id}: beyond the end of its printed table, carried on by the square."
    if mixers := dict.fromkeys(m for run in runs if run.limit for m in run.limit.mixed_by):
        bound = hot_bound(house.record.house.units)
        yield f"{', '.join(mixers)}: taken to mix the water behind it down to {bound} or less."


def _missing(
    asked: Asked, fixtures: Mapping[str, FixtureFlow], runs: Iterable[RunFlow]
) -> Iterator[str]:
    for fixture in fixtures.values():
        yield from fixture.needs
    for stretch in asked.hydraulics.stretches.values():
        yield from stretch.needs
    hanging: dict[str, list[str]] = {}
    for run in runs:
        if run.limit and run.limit.needs and run.velocity_ft_s and run.too_fast is None:
            hanging.setdefault(run.limit.needs, []).append(end_name(asked.house.items, run.id))
    for need, pipes in hanging.items():
        yield f"{need}: on it hangs how fast water may run in the hot copper to {in_a_row(pipes)}"
    if any(load.gpm is None for load in asked.loads.values()):
        yield f"a demand curve beyond {table('demand').values['wsfu_gpm'][-1][0]} fixture units"
