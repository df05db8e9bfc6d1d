"""The pipe between hot water and an outlet, run by run, as the record points upstream.

Hot water is at a heater, and, while a recirculation pump runs, all along the pipe from the heater
to where the pump draws. A hole in the line ends a way without a number.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from handbook.house.house import House
from handbook.record import ids
from handbook.record.fields import Absent
from handbook.record.grammar.common import Fed, Stop, WaterRun, each, given
from handbook.record.grammar.fixtures import WaterConnection
from handbook.record.grammar.water import Recirculation, Softener, Tee, Water


@dataclass(frozen=True)
class Piece:
    """A run of pipe and the id of what it ends at; `basin.hot` for a fixture's own."""

    to: str
    run: WaterRun | None


@dataclass(frozen=True)
class HotWay:
    """A way upstream. `source` is where it meets hot water; None where it does not, and `hole`
    is then the thing whose feed is not recorded or leads to no heater."""

    pieces: tuple[Piece, ...]
    source: str | None = None
    hole: str | None = None


@dataclass(frozen=True)
class HotLines:
    """The lines of a house on the side of its hot water."""

    house: House

    @cached_property
    def heaters(self) -> frozenset[str]:
        """The ids of the heaters."""
        return frozenset(heater.id for heater in each(self.house.record.heaters))

    @property
    def _water(self) -> Water:
        return self.house.record.water or Water()

    @cached_property
    def pump(self) -> Recirculation | None:
        """The recirculation, where there is one."""
        return given(self._water.recirculation)

    @cached_property
    def loop(self) -> frozenset[str]:
        """What lies on the recirculated pipe, from the heater to where the pump draws."""
        if self.pump is None or self.pump.from_ is None:
            return frozenset()
        ways = tuple(self._up(self.pump.from_, self.heaters, ()))
        met = {piece.to for way in ways for piece in way.pieces}
        return frozenset(met | {way.source for way in ways if way.source})

    @cached_property
    def _feeds(self) -> dict[str, tuple[tuple[str, WaterRun | None], ...]]:
        """For each thing, what feeds it and through which run; nothing where not recorded."""
        found: dict[str, tuple[tuple[str, WaterRun | None], ...]] = {}
        for entry in ids.entries(self._water):
            if isinstance(entry, Fed):
                feeds = each(entry.feeds) if isinstance(entry, Tee) else ()
                one = ((entry.from_, entry.by),) if entry.from_ else ()
                found[entry.id] = (*one, *((feed.from_, feed.by) for feed in feeds))
        for stop, from_, by in self._stops():
            found[stop] = ((from_, by),) if from_ else ()
        return found

    def _stops(self) -> Iterator[tuple[str, str | None, WaterRun | None]]:
        """Yield the valves recorded inside something, with what feeds it: others may draw there."""
        for fixture in each(self.house.record.fixtures):
            for side in (given(fixture.cold), given(fixture.hot)):
                if side and (stop := given(side.stop)):
                    yield stop.id, side.from_, side.by
        for entry in ids.entries(self._water):
            for stop in _inside(entry):
                yield stop.id, getattr(entry, "from_", None), getattr(entry, "by", None)

    def from_heater(self, fixture: str, hot: WaterConnection) -> tuple[HotWay, ...]:
        """Return every way from an outlet's hot side up to a heater."""
        return self._ways(fixture, hot, self.heaters)

    def from_loop(self, fixture: str, hot: WaterConnection) -> tuple[HotWay, ...]:
        """Return every way up to the recirculated pipe, or to a heater that comes first."""
        return self._ways(fixture, hot, self.loop | self.heaters)

    def _ways(
        self, fixture: str, hot: WaterConnection, sources: frozenset[str]
    ) -> tuple[HotWay, ...]:
        first = Piece(f"{fixture}.hot", hot.by)
        if hot.from_ is None:
            return (HotWay((first,), hole=f"{fixture}.hot"),)
        return tuple(
            HotWay((first, *way.pieces), way.source, way.hole)
            for way in self._up(hot.from_, sources, ())
        )

    def _up(self, at: str, sources: frozenset[str], met: tuple[str, ...]) -> Iterator[HotWay]:
        """Yield the ways from a thing up to the nearest source on each; a circle is not walked."""
        if at in sources:
            yield HotWay((), at)
            return
        feeds = self._feeds.get(at, ())
        if not feeds:
            yield HotWay((), hole=at)
        for from_, by in feeds:
            if from_ not in met:
                for way in self._up(from_, sources, (*met, at)):
                    yield HotWay((Piece(at, by), *way.pieces), way.source, way.hole)


def _inside(entry: object) -> Iterator[Stop]:
    """Yield the stops recorded inside a softener's bypass or a pump."""
    stops: tuple[Stop | Absent | None, ...] = ()
    if isinstance(entry, Recirculation):
        stops = (entry.shutoff,)
    elif isinstance(entry, Softener) and (bypass := given(entry.bypass)):
        stops = (bypass.inlet, bypass.outlet, bypass.across, bypass.lever)
    for stop in stops:
        if found := given(stop):
            yield found
