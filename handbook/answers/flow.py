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

from handbook.answers.flowing.demand import Load, Way, loads, supply_ways
from handbook.answers.flowing.flow_case import (
    CAUTIOUS,
    KIND,
    Case,
    Pipework,
    opened,
    pipe_id,
    pipework,
    starts_behind,
)
from handbook.answers.flowing.flow_results import DeviceFlow, FixtureFlow, Flow, RunFlow
from handbook.answers.flowing.margins import margins
from handbook.answers.flowing.outlets import giving
from handbook.answers.flowing.peak import Draw, Peak, element_of
from handbook.answers.flowing.pipe_network import Outlet, Solved
from handbook.answers.flowing.readings import NOTHING, Reading, joined
from handbook.answers.flowing.speed_limits import velocity_limit
from handbook.answers.isolate import NoSuchThingError
from handbook.house.house import House
from handbook.house.hydraulics import Device, Stretch, Tap
from handbook.house.losses import Printed, head, velocity
from handbook.record.problems import nearest
from handbook.tables import table


def flow(house: House, running: Sequence[str] = ()) -> Flow:
    """Return the flow of a house. Raises NoSuchThingError for an id that is no outlet here."""
    for owner in running:
        if owner not in house.water.own:
            near = nearest(owner, tuple(house.water.own))
            raise NoSuchThingError(owner, near, f"`{owner}` is not a fixture that water runs to")
    return _Asked(house, tuple(dict.fromkeys(running))).answer()


def outlets_of(house: House, owners: Iterable[str]) -> Iterator[Outlet]:
    """Yield the outlets of these fixtures, wide open; none for one whose flow is not known."""
    taps = house.hydraulics.taps
    for owner in owners:
        supplies, gives = house.water.own[owner], giving(house, owner)
        if gives is not None:
            yield from (opened(taps[supply], gives, len(supplies)) for supply in supplies)


class _Asked:
    """One question while it is answered."""

    def __init__(self, house: House, running: tuple[str, ...]) -> None:
        self.house, self.running = house, running
        self.hydraulics = house.hydraulics
        self.ways: dict[str, Way] = supply_ways(house)
        self.loads: dict[str, Load] = loads(house, self.ways)
        self.pipes: dict[Case, Pipework] = {
            case: pipework(self.hydraulics, case) for case in (CAUTIOUS, KIND)
        }
        self.solved: dict[tuple[tuple[str, ...], Case], Solved] = {}
        self.rest = {case: pipes.solved() for case, pipes in self.pipes.items()}
        self.peak = Peak(self.hydraulics, self.loads, draws=dict(self._draws()))

    def answer(self) -> Flow:
        fixtures = {owner: self._fixture(owner) for owner in self.house.water.own}
        gauge, whole = self.hydraulics.gauge, self._whole()
        return Flow(
            gauge.psi if gauge else None,
            self.running,
            fixtures,
            dict(self._runs()),
            {device.id: self._device(device) for device in self.hydraulics.devices.values()},
            margins(self.house, self.peak, self.ways, _wanted(fixtures)),
            whole.wsfu if whole else 0.0,
            whole.gpm if whole else None,
            (*self.hydraulics.assumed, *self._assumed()),
            tuple(dict.fromkeys((*self.hydraulics.missing, *self._missing(fixtures)))),
        )

    # --- fixtures --------------------------------------------------------------------------

    def _fixture(self, owner: str) -> FixtureFlow:
        item, gives = self.house.items[owner], giving(self.house, owner)
        taps = self._taps(owner)
        needs = tuple(dict.fromkeys(need for tap in taps for need in self._needs(tap)))
        readings = {}
        for name, others in (("alone", ()), ("asked", self.running)):
            readings[name] = NOTHING if needs else self._reading(owner, taps, others)
        sides = {} if needs else self._sides(owner, taps)
        return FixtureFlow(
            owner,
            item.name,
            item.kind,
            taps[0].height,
            gives.need_psi if gives else None,
            gives.gpm if gives else None,
            None if needs else self._static(taps),
            readings["alone"],
            readings["asked"],
            NOTHING if needs else self._at_peak(taps),
            sides,
            *((None, None) if needs or gives is None else self._own_speed(owner, taps)),
            needs,
        )

    def _taps(self, owner: str) -> list[Tap]:
        return [self.hydraulics.taps[supply] for supply in self.house.water.own[owner]]

    def _needs(self, tap: Tap) -> Iterator[str]:
        """Yield what has to be recorded before this supply's pressure can be told."""
        if self.hydraulics.gauge is None:
            yield "the static pressure (`water: static_pressure`)"
        way = self.ways.get(tap.id)
        if way is None:
            yield f"a way for water to {tap.id}: as the valves stand none reaches it"
            return
        behind = starts_behind(self.hydraulics)
        for name in way.links:
            element = element_of(self.hydraulics, name)
            if isinstance(element, Stretch):
                yield from () if behind and self._ahead(name, way) else element.needs
            elif not isinstance(element, Device) and element.set_psi is None and not behind:
                yield f"the setting of {element.id} (`set_to`)"
        if behind and not any(name in self.hydraulics.regulators for name in way.links):
            yield "the static pressure ahead of the reducing valve"

    def _ahead(self, name: str, way: Way) -> bool:
        """Whether a link stands ahead of a reducing valve on this way."""
        return any(n in self.hydraulics.regulators for n in way.links[way.links.index(name) :])

    def _reading(self, owner: str, taps: Sequence[Tap], others: Sequence[str]) -> Reading:
        return joined(self._side(owner, tap, others) for tap in taps)

    def _sides(self, owner: str, taps: Sequence[Tap]) -> dict[str, Reading]:
        return {
            tap.id.removeprefix(f"{owner}."): self._side(owner, tap, self.running) for tap in taps
        }

    def _side(self, owner: str, tap: Tap, others: Sequence[str]) -> Reading:
        cautious, kind = (self._solved(owner, others, case) for case in (CAUTIOUS, KIND))
        return Reading(
            _pressure(cautious, tap),
            cautious.flows.get(tap.id),
            _pressure(kind, tap),
            kind.flows.get(tap.id),
        )

    def _solved(self, owner: str, others: Sequence[str], case: Case) -> Solved:
        owners = tuple(sorted({owner, *others}))
        if (owners, case) not in self.solved:
            self.solved[owners, case] = solved_with(self.house, self.pipes[case], owners)
        return self.solved[owners, case]

    def _static(self, taps: Sequence[Tap]) -> float | None:
        found = [_pressure(self.rest[CAUTIOUS], tap) for tap in taps]
        return min((psi for psi in found if psi is not None), default=None)

    def _draws(self) -> Iterator[tuple[tuple[str, Case], Draw]]:
        """Yield what each outlet draws when its fixture alone is wide open."""
        for tap in self.hydraulics.taps.values():
            gives = giving(self.house, tap.owner)
            if gives is None:
                continue
            k = gives.k / len(self._taps(tap.owner))
            for case in (CAUTIOUS, KIND):
                flows = self._solved(tap.owner, (), case).flows
                links = {link.id: abs(flows.get(link.id, 0.0)) for link in self.pipes[case].links}
                links |= {v: abs(flows.get(v, 0.0)) for v in self.hydraulics.regulators}
                yield (tap.id, case), Draw(k, flows.get(tap.id, 0.0), links)

    def _own_speed(self, owner: str, taps: Sequence[Tap]) -> tuple[float | None, float | None]:
        """Return the greatest speed in the pipes that end at a fixture, alone; and its limit."""
        flows = self._solved(owner, (), CAUTIOUS).flows
        found = [
            (velocity(flows.get(tap.id, 0.0), stretch.bores[0]), velocity_limit(stretch.run))
            for tap in taps
            if (stretch := self.hydraulics.stretches.get(tap.id)) and stretch.bores
        ]
        return max(found, key=lambda pair: pair[0], default=(None, None))

    def _at_peak(self, taps: Sequence[Tap]) -> Reading:
        return joined(self._side_at_peak(tap) for tap in taps)

    def _side_at_peak(self, tap: Tap) -> Reading:
        cautious, kind = (
            self.peak.running(tap, self.ways[tap.id], case) for case in (CAUTIOUS, KIND)
        )
        if cautious is None or kind is None:
            return NOTHING
        return Reading(cautious.psi, cautious.gpm, kind.psi, kind.gpm)

    # --- runs and equipment ----------------------------------------------------------------

    def _runs(self) -> Iterator[tuple[str, RunFlow]]:
        asked = None
        if self.running and self.hydraulics.gauge:
            outlets = outlets_of(self.house, self.running)
            asked = self.pipes[CAUTIOUS].solved(outlets)
        for stretch in self.hydraulics.stretches.values():
            flow_ = asked.flows.get(pipe_id(stretch.id)) if asked else None
            yield stretch.id, self._run(stretch, flow_)

    def _run(self, stretch: Stretch, asked: float | None) -> RunFlow:
        load = self.loads.get(pipe_id(stretch.id), Load((), 0.0, 0.0))
        bore = stretch.bores[0] if stretch.bores else None
        fast = None if bore is None or load.gpm is None else velocity(load.gpm, bore)
        cautious, kind = _losses(stretch, load)
        return RunFlow(
            stretch.id,
            stretch.thing,
            stretch.from_,
            stretch.run,
            stretch.hot,
            bore,
            stretch.fittings_ft + stretch.valve_ft,
            len(load.owners),
            round(load.wsfu, 3),
            load.gpm,
            fast,
            velocity_limit(stretch.run),
            cautious,
            kind,
            asked,
            stretch.needs,
        )

    def _device(self, device: Device) -> DeviceFlow:
        load = self.loads.get(device.id, Load((), 0.0, 0.0))
        law = device.laws[0]
        beyond = isinstance(law, Printed) and load.gpm is not None and load.gpm > law.ends
        return DeviceFlow(device.id, device.kind, load.gpm, *_losses(device, load), beyond)

    def _whole(self) -> Load | None:
        """Return the load of the link that carries most: the house as a whole."""
        return max(self.loads.values(), key=lambda load: load.wsfu, default=None)

    # --- what it leans on ------------------------------------------------------------------

    def _assumed(self) -> Iterator[str]:
        yield "The supply is taken to hold its static pressure however much the house draws."
        yield "A mixing fixture draws half its flow cold, half hot."
        yield (
            "Outlets are plain openings of the code's flow at the code's pressure; a head or an "
            "aerator that limits its flow gives less (record `delivers`)."
        )
        silent = [o for o in self.house.water.own if giving(self.house, o) is None]
        if silent:
            yield f"{', '.join(silent)}: no published flow; reckoned as drawing nothing."
        for device in self.hydraulics.devices.values():
            if self._device(device).beyond:
                yield f"{device.id}: beyond the end of its printed table, carried on by the square."

    def _missing(self, fixtures: Mapping[str, FixtureFlow]) -> Iterator[str]:
        for fixture in fixtures.values():
            yield from fixture.needs
        for stretch in self.hydraulics.stretches.values():
            yield from stretch.needs
        if any(load.gpm is None for load in self.loads.values()):
            yield f"a demand curve beyond {table('demand').values['wsfu_gpm'][-1][0]} fixture units"


def solved_with(house: House, pipes: Pipework, owners: Iterable[str]) -> Solved:
    """Return the pipes solved with these fixtures wide open."""
    return pipes.solved(outlets_of(house, dict.fromkeys(owners)))


def _pressure(solved: Solved, tap: Tap) -> float | None:
    level = solved.heads.get(tap.node)
    return None if level is None else level - head(tap.height)


def _losses(element: Stretch | Device, load: Load) -> tuple[float | None, float | None]:
    if element.laws is None or load.gpm is None:
        return None, None
    cautious, kind = (law.loss(load.gpm)[0] if load.gpm > 0 else 0.0 for law in element.laws)
    return cautious, kind


def _wanted(fixtures: Mapping[str, FixtureFlow]) -> dict[str, float]:
    """Return what each fixture needs whose pressure at peak is known, in psi."""
    return {
        f.id: f.need_psi
        for f in fixtures.values()
        if f.need_psi is not None and f.peak.pressure_psi is not None
    }
