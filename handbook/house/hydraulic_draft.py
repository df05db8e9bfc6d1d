"""How the hydraulics of a house are built: each link of its water network gets its cost.

A run of pipe becomes a stretch, equipment a device, and whatever costs nothing to speak of joins
its two nodes into one. What a link leans on is collected as it is met: `assumed` by sentence, each
with the things it was assumed for, and `missing`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from handbook.house import heights
from handbook.house.equipment_loss import FREE, Assumed, equipment_laws, heater_laws, meter_laws
from handbook.house.hydraulics import Device, Gauge, Hydraulics, Laws, Regulator, Stretch, Tap
from handbook.house.items import Item
from handbook.house.network import Pipe
from handbook.house.places import Places
from handbook.house.stretches import Recorded, recorded_runs, stretch
from handbook.house.water import ONE_WAY, WaterSystem, fed_through
from handbook.record.grammar.common import each, given
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.record import Record
from handbook.record.grammar.water import Equipment, Meter, Water

REDUCER = "pressure-reducing valve"
_LEVEL = "height not recorded, taken level with the gauge; each foot higher costs 0.433 psi"
_HOLDS = "taken to hold its setting at every flow; how far it falls is not recorded"
_RESTS = "taken as standing still; it adds nothing while taps run"


def hydraulics(
    record: Record, places: Places, items: dict[str, Item], system: WaterSystem
) -> Hydraulics:
    """Build the hydraulics of a house from its record and its water network."""
    return _Draft(record, places, items, system).built()


@dataclass
class _Draft:
    record: Record
    places: Places
    items: dict[str, Item]
    system: WaterSystem
    joined: dict[str, str] = field(default_factory=dict)
    stretches: list[Stretch] = field(default_factory=list)
    devices: list[Device] = field(default_factory=list)
    regulators: list[Regulator] = field(default_factory=list)
    assumed: Assumed = field(init=False)

    def __post_init__(self) -> None:
        self.assumed = Assumed(self.items)
        self.water = self.record.water or Water()
        self.runs = recorded_runs(self.record)
        self.heaters = {heater.id: heater for heater in each(self.record.heaters)}
        self.softeners = {softener.id: softener for softener in each(self.water.softeners)}
        self.inlets = {h.id: _inlets(h) for h in self.heaters.values()}
        self.high = dict(self._heights())

    def built(self) -> Hydraulics:
        gauge = self._gauge()
        if pump := given(self.water.recirculation):
            self.assumed.note(_RESTS, pump.id)
        self.level = gauge.height if gauge else 0.0
        for link in self.system.network.pipes:
            self._pipe(link)
        for valve in self.system.network.valves:
            if not valve.closed:
                self._joint(valve.a, valve.b)
        taps = {tap.id: tap for tap in self._taps()}
        nodes = {node: self._at(node) for node in self.system.network.nodes}
        nodes |= {tap.owner: tap.node for tap in reversed(taps.values())}
        return Hydraulics(
            {s.id: replace(s, a=self._at(s.a), b=self._at(s.b)) for s in self.stretches},
            {d.id: d for d in self._apart()},
            {r.id: replace(r, a=self._at(r.a), b=self._at(r.b)) for r in self.regulators},
            taps,
            frozenset(self._at(node) for node in self.system.network.sources),
            gauge and replace(gauge, node=nodes[gauge.node]),
            nodes,
            self.high,
            self.assumed.said(),
            tuple(self.assumed.missing),
        )

    def _apart(self) -> Iterator[Device]:
        """Yield the devices that still stand between two nodes: none that is open all round."""
        for device in self.devices:
            a, b = self._at(device.a), self._at(device.b)
            if a != b:
                yield replace(device, a=a, b=b)

    # --- one kind of link each -------------------------------------------------------------

    def _pipe(self, link: Pipe) -> None:
        if link.one_way and not link.id and link.b in self.system.own:
            return  # into a fixture: its tap stands for it
        recorded = self.runs.get((link.a, link.b)) or self.runs.get((None, link.b))
        if recorded:
            self._run(link, recorded)
            return
        entry = self.items[link.id].entry if link.id in self.items else None
        if isinstance(entry, Meter):
            self._device(link, "water meter", meter_laws(entry, self.assumed))
        elif isinstance(entry, Equipment) and entry.kind == REDUCER:
            self._reducer(link, entry)
        elif isinstance(entry, Equipment):
            one_way = entry.kind in ONE_WAY or given(entry.has_check) is True
            self._device(link, entry.kind, equipment_laws(entry, entry.kind, self.assumed), one_way)
        else:
            self._joint(link.a, link.b)

    def _joint(self, a: str, b: str) -> None:
        """Join two nodes, unless a heater's or a softener's body stands between them."""
        heater, softener = self.heaters.get(b), self.softeners.get(a)
        if heater and a in self.inlets[b] and (laws := heater_laws(heater, self.assumed)):
            self.devices.append(Device(heater.id, a, b, "water heater", laws))
            return
        if softener and b == f"{softener.id}.out":
            laws = equipment_laws(softener, "water softener", self.assumed)
            self.devices.append(Device(softener.id, a, b, "water softener", laws))
            return
        self._join(a, b)

    def _run(self, link: Pipe, recorded: Recorded) -> None:
        if said := self.system.assumed.get(link.b):
            self.assumed.sentence(said)
        hot = bool(fed_through(self.system, frozenset({link.b})) & self.heaters.keys())
        self.stretches.append(stretch(link, recorded, hot, self.assumed))

    def _device(self, link: Pipe, kind: str, laws: Laws, one_way: bool = False) -> None:
        if laws == FREE and not one_way:
            self._join(link.a, link.b)
        else:
            self.devices.append(Device(link.id, link.a, link.b, kind, laws, one_way))

    def _reducer(self, link: Pipe, valve: Equipment) -> None:
        if valve.loss is None:
            self.assumed.note(_HOLDS, valve.id)
        if valve.set_to is None:
            self.assumed.missing[f"the setting of {valve.id} (`set_to`)"] = None
        falls = valve.loss.loss.psi / valve.loss.flow.gpm if valve.loss else 0.0
        setting = valve.set_to.psi if valve.set_to else None
        height = self._height(valve.id)
        most = valve.adjusts_up_to.psi if valve.adjusts_up_to else None
        self.regulators.append(Regulator(valve.id, link.a, link.b, setting, falls, height, most))

    # --- nodes, heights, the gauge ---------------------------------------------------------

    def _join(self, a: str, b: str) -> None:
        self.joined[self._at(b)] = self._at(a)

    def _at(self, node: str) -> str:
        while (further := self.joined.get(node, node)) != node:
            node = further
        return node

    def _heights(self) -> Iterator[tuple[str, float]]:
        for thing in self.system.bodies:
            place = self.items[thing].place if thing in self.items else None
            found = heights.of_place(self.record, self.places, place)
            if found is not None:
                yield thing, found

    def _height(self, thing: str) -> float:
        if thing not in self.high:
            self.assumed.note(_LEVEL, thing)
        return self.high.get(thing, self.level)

    def _gauge(self) -> Gauge | None:
        static = self.water.static_pressure
        if static is None:
            self.assumed.missing["the static pressure (`water: static_pressure`)"] = None
            return None
        meter, sources = given(self.water.meter), sorted(self.system.network.sources)
        thing = static.near or (meter.id if meter else sources[0])
        if static.near is None:
            self.assumed.sentence(
                f"The gauge of the static pressure is taken to have been at {thing}, ahead of any "
                "reducing valve; the record does not say (`near`)."
            )
        if any(it.id == thing and it.kind == REDUCER for it in each(self.water.equipment)):
            self.assumed.sentence(
                f"The gauge of the static pressure is taken to have been behind {thing}, not ahead "
                "of it; the record does not say (`near` what stands on that side of it)."
            )
        if thing not in self.high:
            self.assumed.sentence("The gauge's height is not recorded: taken at the main floor.")
        supplies = self.system.own.get(thing)
        node = self._supply_node(supplies[0]) if supplies else thing
        return Gauge(static.value.psi, node, self.high.get(thing, 0.0))

    def _supply_node(self, supply: str) -> str:
        return next(s.node for s in self.system.network.supplies if s.id == supply)

    def _taps(self) -> Iterator[Tap]:
        for owner, supplies in self.system.own.items():
            found = self._outlet_height(owner)
            height = self._height(owner) if found is None else found
            for supply in supplies:
                node = self._at(self._supply_node(supply))
                yield Tap(supply, owner, node, height, levelled=found is None)

    def _outlet_height(self, owner: str) -> float | None:
        fixture = self.items[owner].entry
        if not isinstance(fixture, Fixture):
            return self.high.get(owner)
        found, usual = heights.of_outlet(self.record, self.places, fixture)
        if found is not None and usual:
            self.assumed.note("outlet taken as high above its floor as is usual", owner)
        return found


def _inlets(heater: Heater) -> frozenset[str]:
    """Return the nodes that a heater's cold water may come in from."""
    stop = given(heater.cold.stop) if heater.cold else None
    return frozenset({f"{heater.id}.cold", *([stop.id] if stop else [])})
