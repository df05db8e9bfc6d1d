"""The water of a house as a network: what feeds what, where it can be stopped.

How a thing becomes nodes: `X.in` is the end of the pipe that feeds thing X and `X` is behind it,
where other things draw from. Between them stands what X does: a valve, a one-way body, or plain
pipe. A fixture's connection is `sink.cold`, its stop stands between that and the stop's own id,
and from there water enters the fixture one way only, because a mixing faucet is no way from cold
to hot. A heater passes water either way. A softener's body stands between its two ports.

Where the record does not say what feeds a thing, it is taken to be fed behind the innermost main
shutoff (a main itself, and what belongs to the utility: from the street). Each such assumption is
kept, in words, beside the thing it was made for; nothing is assumed silently.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from handbook.house.network import Network, Pipe, Supply, Valve
from handbook.record import ids
from handbook.record.fields import Absent
from handbook.record.grammar.common import Fed, Handle, Stop, each, given
from handbook.record.grammar.fixtures import Fixture, WaterConnection
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.record import Record
from handbook.record.grammar.water import (
    Bypass,
    Equipment,
    Irrigation,
    Recirculation,
    Softener,
    Water,
)
from handbook.record.grammar.water import Valve as LineValve

ONE_WAY = ("backflow preventer", "check valve")
LEVER = "~"
"""Ends the id of the way round a softener that its single lever opens: `W5~` for the lever W5."""


@dataclass(frozen=True)
class WaterSystem:
    """The network, and how the things of the record are found in it."""

    network: Network
    bodies: dict[str, frozenset[str]] = field(default_factory=dict)
    """For each thing with water in it: the nodes that are wet when it leaks."""
    own: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """For each fixture (and the irrigation): the ids of its supplies."""
    assumed: dict[str, str] = field(default_factory=dict)
    """For each node whose feed had to be assumed: the assumption in words."""
    placed: dict[str, str] = field(default_factory=dict)
    """For each thing whose place in the line had to be assumed: the assumption in words."""
    mains: tuple[str, ...] = ()
    """Main shutoffs that an occupant may turn, from the innermost outward."""


def water_system(record: Record) -> WaterSystem:
    """Build the water network of a record whose ids have been checked."""
    draft = _Draft(record)
    draft.lay()
    network = Network(draft.sources(), tuple(draft.pipes), tuple(draft.valves), tuple(draft.taps))
    mains = _inward(network, [v.id for v in draft.line_valves() if v.main and not v.utility])
    return WaterSystem(network, draft.bodies, draft.own, draft.assumed, draft.placed, mains)


def _inward(network: Network, mains: list[str]) -> tuple[str, ...]:
    """Order the mains from the innermost outward: closing an outer one dries those behind it."""
    wet = {main: network.downstream(network.sources, {main}) for main in mains}
    return tuple(
        sorted(mains, key=lambda main: sum(o not in wet[main] for o in mains if o != main))
    )


class _Draft:
    """Collects nodes while the record is walked; used once, inside `water_system`."""

    def __init__(self, record: Record) -> None:
        self.record = record
        self.water = record.water or Water()
        self.pipes: list[Pipe] = []
        self.valves: list[Valve] = []
        self.taps: list[Supply] = []
        self.orders: dict[str, int] = {}
        self.bodies: dict[str, frozenset[str]] = {}
        self.own: dict[str, tuple[str, ...]] = {}
        self.assumed: dict[str, str] = {}
        self.placed: dict[str, str] = {}
        self.softened = {softener.id for softener in each(self.water.softeners)}

    def sources(self) -> frozenset[str]:
        declared = frozenset(source.id for source in each(self.water.sources))
        return declared or frozenset({ids.STREET})

    def line_valves(self) -> tuple[LineValve, ...]:
        return each(self.water.valves)

    def lay(self) -> None:
        if meter := given(self.water.meter):
            self._plain(meter, street=True)
        for valve in self.line_valves():
            self._feed(valve, street=valve.main or valve.utility)
            self._valve(valve.id, valve, (f"{valve.id}.in", valve.id))
            self._body(valve.id, f"{valve.id}.in", valve.id)
        for thing in (*each(self.water.tees), *each(self.water.manifolds)):
            self._plain(thing)
        for tee in each(self.water.tees):
            for feed in each(tee.feeds):
                self._pipe(self._outlet(feed.from_), f"{tee.id}.in", tee.id)
        for equipment in each(self.water.equipment):
            self._equipment(equipment)
        for softener in each(self.water.softeners):
            self._softener(softener)
        for heater in each(self.record.heaters):
            self._heater(heater)
        if pump := given(self.water.recirculation):
            self._recirculation(pump)
        if irrigation := given(self.water.irrigation):
            self._irrigation(irrigation)
        for fixture in each(self.record.fixtures):
            self._fixture(fixture)

    # --- one kind of thing each ------------------------------------------------------------

    def _plain(self, thing: Fed, street: bool = False) -> None:
        has_feeds = bool(each(getattr(thing, "feeds", None)))
        if thing.from_ or not has_feeds:
            self._feed(thing, street=street)
        self._pipe(f"{thing.id}.in", thing.id, thing.id)
        self._body(thing.id, f"{thing.id}.in", thing.id)

    def _equipment(self, equipment: Equipment) -> None:
        self._feed(equipment)
        one_way = equipment.kind in ONE_WAY or given(equipment.has_check) is True
        self.pipes.append(Pipe(f"{equipment.id}.in", equipment.id, one_way, equipment.id))
        self._body(equipment.id, f"{equipment.id}.in", equipment.id)

    def _softener(self, softener: Softener) -> None:
        self._feed(softener)
        before, body, behind = f"{softener.id}.in", softener.id, f"{softener.id}.out"
        bypass = given(softener.bypass) or Bypass()
        if bypass.lever:
            lever, alone = bypass.lever, frozenset({body})
            self._valve(lever.id, lever, (before, body), alone)
            self._valve(lever.id, lever, (body, behind), alone)
            round_it = lever.model_copy(update={"stands": "closed"})
            self._valve(lever.id + LEVER, round_it, (before, behind), alone)
            self._body(lever.id, before, body, behind)
        else:
            self._port(bypass.inlet, before, body)
            self._port(bypass.outlet, body, behind)
            if bypass.across:
                self._port(bypass.across, before, behind)
        self._body(softener.id, body)

    def _port(self, stop: Stop | None, a: str, b: str) -> None:
        if stop is None:
            self._pipe(a, b, "")
        else:
            self._valve(stop.id, stop, (a, b))
            self._body(stop.id, a, b)

    def _heater(self, heater: Heater) -> None:
        end = f"{heater.id}.cold"
        cold = heater.cold or WaterConnection()
        self._run_to(end, cold.from_, heater.name or heater.id)
        inlet = self._stopped(end, cold.stop)
        self._pipe(inlet, heater.id, "")
        self._body(heater.id, heater.id)
        if tank := given(heater.expansion_tank):
            self._body(tank.id, inlet)
            self.placed[tank.id] = (
                f"{tank.id} is taken to be on the cold pipe between {heater.id} and its shutoff."
            )

    def _recirculation(self, pump: Recirculation) -> None:
        self._feed(pump)
        at = self._stopped(f"{pump.id}.in", pump.shutoff)
        self._pipe(at, pump.id, pump.id)
        self._body(pump.id, at, pump.id)
        at = pump.id
        if check := given(pump.check):
            self.pipes.append(Pipe(at, check.id, one_way=True, id=check.id))
            self._body(check.id, at, check.id)
            at = check.id
        if pump.to:
            self._pipe(at, self._outlet(pump.to), "")

    def _irrigation(self, irrigation: Irrigation) -> None:
        self._feed(irrigation)
        inlet = self._stopped(f"{irrigation.id}.in", irrigation.stop)
        self.pipes.append(Pipe(inlet, irrigation.id, one_way=True))
        self._body(irrigation.id, irrigation.id)
        self._tap(irrigation.id, irrigation.id, inlet)

    def _fixture(self, fixture: Fixture) -> None:
        self._body(fixture.id, fixture.id)
        for side, connection in (("cold", fixture.cold), ("hot", fixture.hot)):
            if pipe := given(connection):
                said = f"the {side} pipe of {fixture.name or fixture.id}"
                self._connection(f"{fixture.id}.{side}", fixture.id, pipe, said)

    def _connection(self, end: str, fixture: str, pipe: WaterConnection, said: str) -> None:
        self._run_to(end, pipe.from_, said)
        inlet = self._stopped(end, pipe.stop)
        self.pipes.append(Pipe(inlet, fixture, one_way=True))
        self._tap(end, fixture, inlet)

    # --- the smallest pieces ---------------------------------------------------------------

    def _feed(self, thing: Fed, street: bool = False) -> None:
        said = f"{thing.id} ({thing.name})" if thing.name else thing.id
        self._run_to(f"{thing.id}.in", thing.from_, said, street=street)

    def _run_to(self, end: str, from_: str | None, said: str, street: bool = False) -> None:
        """Join `end` to what feeds it, or to what it is assumed to be fed by."""
        if from_ is not None:
            self._pipe(self._outlet(from_), end, end)
            return
        feeder = None if street else self._innermost_main()
        for source in (feeder,) if feeder else sorted(self.sources()):
            self._pipe(source, end, end)
        where = f"behind the main shutoff {feeder}" if feeder else "straight from the supply"
        self.assumed[end] = f"What feeds {said} is not recorded; it is taken to be fed {where}."

    def _innermost_main(self) -> str | None:
        """Return the main that no other main is fed through, by the record's own pointers."""
        mains = [valve.id for valve in self.line_valves() if valve.main and not valve.utility]
        feeds = {e.id: e.from_ for e in ids.entries(self.water) if isinstance(e, Fed) and e.from_}
        outer: set[str] = set()
        for main in mains:
            at = feeds.get(main)
            while at is not None and at not in outer:
                outer.add(at)
                at = feeds.get(at)
        inner = [main for main in mains if main not in outer]
        return inner[-1] if inner else None

    def _outlet(self, thing: str) -> str:
        return f"{thing}.out" if thing in self.softened else thing

    def _pipe(self, a: str, b: str, name: str) -> None:
        self.pipes.append(Pipe(a, b, id=name))

    def _body(self, thing: str, *nodes: str) -> None:
        self.bodies[thing] = frozenset(nodes)

    def _tap(self, supply: str, owner: str, node: str) -> None:
        self.taps.append(Supply(supply, node))
        self.own[owner] = (*self.own.get(owner, ()), supply)

    def _stopped(self, end: str, stop: Stop | Absent | None) -> str:
        """Put the stop, if there is one, behind `end`; return the node behind it."""
        found = given(stop)
        if found is None:
            return end
        self._valve(found.id, found, (end, found.id))
        self._body(found.id, end, found.id)
        return found.id

    def _valve(
        self,
        name: str,
        handle: Handle,
        ends: tuple[str, str],
        only_for: frozenset[str] = frozenset(),
    ) -> None:
        self.valves.append(
            Valve(
                name,
                *ends,
                closed=handle.stands == "closed",
                stuck=handle.condition == "stuck",
                holds=handle.condition != "does not hold",
                utility=isinstance(handle, LineValve) and handle.utility,
                only_for=only_for,
                order=self.orders.setdefault(name, len(self.orders)),
            )
        )


def pipe_ends(system: WaterSystem) -> Iterator[str]:
    """Yield the id of each stretch of pipe: that of the node where it ends."""
    for pipe in system.network.pipes:
        if pipe.id == pipe.b:
            yield pipe.id


def fed_through(system: WaterSystem, nodes: frozenset[str]) -> set[str]:
    """Return the nodes that these are fed through, as the record points: its lines, upstream."""
    network = system.network
    upstream: dict[str, list[str]] = {}
    links = [(pipe.a, pipe.b) for pipe in network.pipes]
    links += [(valve.a, valve.b) for valve in network.valves]
    for a, b in links:
        upstream.setdefault(b, []).append(a)
    seen, waiting = set(nodes), list(nodes)
    while waiting:
        fresh = [node for node in upstream.get(waiting.pop(), ()) if node not in seen]
        seen.update(fresh)
        waiting += fresh
    return seen
