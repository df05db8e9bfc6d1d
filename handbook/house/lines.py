"""The water and the gas line as the record's own pointers have them: what draws from what.

Rules about dead ends, and answers about what stands upstream, need what was written down and to
know where it stops; the network that valves are found on has such holes filled with assumptions.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cached_property

from handbook.record import ids
from handbook.record.fields import Absent
from handbook.record.grammar.common import Fed, Stop, each, given
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.gas import Appliance, Gas, GasFed
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.record import Record
from handbook.record.grammar.water import Meter, Recirculation, Tee, Valve, Water


@dataclass(frozen=True)
class Lines:
    """`up`: for each thing, what feeds it; nothing where that is not recorded.

    `ends`: what may be fed from the street without saying so. A fixture's connections are things
    of their own here: `sink.cold`.
    """

    up: dict[str, tuple[str, ...]]
    ends: frozenset[str] = frozenset()

    @cached_property
    def down(self) -> dict[str, tuple[str, ...]]:
        """For each thing, what draws from it."""
        found: dict[str, tuple[str, ...]] = {}
        for thing, feeders in self.up.items():
            for feeder in feeders:
                found[feeder] = (*found.get(feeder, ()), thing)
        return found

    def upstream(self, thing: str, stop_at: Collection[str] = ()) -> tuple[str, ...]:
        """Return everything upstream of a thing, nearest first, and nothing behind `stop_at`."""
        met: dict[str, None] = {}
        waiting = list(self.up.get(thing, ()))
        while waiting:
            nearest = waiting.pop(0)
            if nearest not in met:
                met[nearest] = None
                if nearest in stop_at:
                    continue
                waiting.extend(self.up.get(nearest, ()))
        return tuple(met)

    def holes(self, thing: str, stop_at: Collection[str] = ()) -> tuple[str, ...]:
        """Return what is met upstream (or the thing itself) whose own feed is not recorded."""
        way = (thing, *self.upstream(thing, stop_at))
        fed = (*self.ends, *stop_at)
        return tuple(met for met in way if not self.up.get(met) and met not in fed)


def water_lines(record: Record) -> Lines:
    """Return the water line of a record."""
    water = record.water or Water()
    up: dict[str, tuple[str, ...]] = {source.id: () for source in each(water.sources)}
    ends = {ids.STREET, *up}
    for entry in ids.entries(record):
        if isinstance(entry, Fed):
            up[entry.id] = _feeders(entry)
            if isinstance(entry, Meter) or (
                isinstance(entry, Valve) and (entry.main or entry.utility)
            ):
                ends.add(entry.id)
    for thing, from_, stop in _stopped(record):
        up |= _behind(thing, from_, stop)
    for softener in each(water.softeners):
        if bypass := given(softener.bypass):
            ports = (bypass.inlet, bypass.outlet, bypass.across, bypass.lever)
            up |= {port.id: _one(softener.from_) for port in ports if port}
    pump = given(water.recirculation)
    if pump and (check := given(pump.check)):
        up[check.id] = (pump.id,)
    return Lines(up, frozenset(ends))


def _feeders(entry: Fed) -> tuple[str, ...]:
    feeds = each(entry.feeds) if isinstance(entry, Tee) else ()
    return (*_one(entry.from_), *(feed.from_ for feed in feeds))


def _stopped(record: Record) -> Iterator[tuple[str, str | None, Stop | Absent | None]]:
    """Yield what has a stop of its own: its id, what feeds it, and the stop."""
    water = record.water or Water()
    for heater in each(record.heaters):
        if heater.cold:
            yield heater.id, heater.cold.from_, heater.cold.stop
        else:
            yield heater.id, None, None
    for fixture in each(record.fixtures):
        for side, connection in (("cold", fixture.cold), ("hot", fixture.hot)):
            if pipe := given(connection):
                yield f"{fixture.id}.{side}", pipe.from_, pipe.stop
    pump: Recirculation | None = given(water.recirculation)
    if pump:
        yield pump.id, pump.from_, pump.shutoff
    if irrigation := given(water.irrigation):
        yield irrigation.id, irrigation.from_, irrigation.stop


def gas_lines(record: Record) -> Lines:
    """Return the gas line of a record; an appliance is fed through its shutoff where it has one."""
    gas = given(record.gas) or Gas()
    up: dict[str, tuple[str, ...]] = {}
    ends: set[str] = set()
    if gas.meter:
        stop = given(gas.meter.shutoff)
        up[gas.meter.id] = ()
        ends = {gas.meter.id, stop.id} if stop else {gas.meter.id}
    for entry in ids.entries(record):
        if isinstance(entry, GasFed):
            up[entry.id] = _one(entry.from_)
    for outlet in each(gas.outlets):
        up |= _behind(outlet.id, outlet.from_, outlet.shutoff)
    owners: tuple[Heater | Fixture | Appliance, ...] = (
        *each(record.heaters),
        *each(record.fixtures),
        *each(gas.appliances),
    )
    for owner in owners:
        if connection := given(owner.gas):
            up |= _behind(owner.id, connection.from_, connection.shutoff)
    return Lines(up, frozenset(ends))


def _behind(
    thing: str, from_: str | None, stop: Stop | Absent | None
) -> dict[str, tuple[str, ...]]:
    """Return what feeds a thing and its stop."""
    found = given(stop)
    return {found.id: _one(from_), thing: (found.id,)} if found else {thing: _one(from_)}


def _one(ref: str | None) -> tuple[str, ...]:
    return (ref,) if ref else ()
