"""The recorded runs of water pipe by the node where they end, and what each one costs.

A stretch costs its length, its fittings and the valve that it ends at. Where length, size or
material is not recorded it has no cost, and says what it needs.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from handbook.house import bores as pipe
from handbook.house import equivalent
from handbook.house.bores import Bores
from handbook.house.equipment_loss import Assumed
from handbook.house.hydraulics import Laws, Stretch
from handbook.house.losses import Friction
from handbook.house.network import Pipe
from handbook.record.grammar.common import Fed, Handle, WaterRun, each, given
from handbook.record.grammar.record import Record
from handbook.record.grammar.water import Irrigation, Recirculation, Tee, Water
from handbook.record.ids import entries

_ALLOWED = "fittings not counted: half its length is added for them (common practice)"
_UNPRINTED = "no printed loss, none reckoned"


@dataclass(frozen=True)
class Recorded:
    """A run as recorded: what it is called, the thing it ends at, its pipe, the valve there."""

    id: str
    thing: str
    run: WaterRun | None
    valve: Handle | None


Ends = tuple[str | None, str]
"""The node where a run ends; the node where it begins too, for one of several feeds."""


def recorded_runs(record: Record) -> dict[Ends, Recorded]:
    """Return each run of water pipe that the record has room for, recorded or not."""
    return dict(_runs(record))


def _runs(record: Record) -> Iterator[tuple[Ends, Recorded]]:
    water = record.water or Water()
    softened = {softener.id for softener in each(water.softeners)}
    pump = given(water.recirculation)
    check = given(pump.check) if pump else None
    for entry in entries(water):
        if not isinstance(entry, Fed):
            continue
        end = entry.id if entry is check else f"{entry.id}.in"
        yield (None, end), Recorded(entry.id, entry.id, entry.by, _valve(entry))
        for feed in each(entry.feeds) if isinstance(entry, Tee) else ():
            start = f"{feed.from_}.out" if feed.from_ in softened else feed.from_
            name = f"{entry.id} from {feed.from_}"
            yield (start, end), Recorded(name, entry.id, feed.by, None)
    for heater in each(record.heaters):
        end, cold = f"{heater.id}.cold", heater.cold
        valve = given(cold.stop) if cold else None
        yield (None, end), Recorded(end, heater.id, cold.by if cold else None, valve)
    for fixture in each(record.fixtures):
        for side, connection in (("cold", fixture.cold), ("hot", fixture.hot)):
            if found := given(connection):
                end = f"{fixture.id}.{side}"
                yield (None, end), Recorded(end, fixture.id, found.by, given(found.stop))


def _valve(entry: Fed) -> Handle | None:
    if isinstance(entry, Irrigation):
        return given(entry.stop)
    if isinstance(entry, Recirculation):
        return given(entry.shutoff)
    return entry if isinstance(entry, Handle) else None


def stretch(link: Pipe, recorded: Recorded, hot: bool, assumed: Assumed) -> Stretch:
    """Return the stretch of a run, with its cost where the record gives it."""
    run, bores = recorded.run, pipe.bores(recorded.run) if recorded.run else None
    needs = tuple(_needs(run, bores, f"the pipe to {assumed.name(recorded.id)}"))
    laws, fittings_ft, valve_ft = None, 0.0, 0.0
    if run is not None and bores is not None and not needs:
        if bores[0] != bores[1]:
            assumed.note("bore between two pipes of that name (record `bore`)", recorded.id)
            of = f"the {run.size} {run.material} to {assumed.name(recorded.id)}"
            assumed.missing[f"the bore of {of}"] = None
        laws = laws_of(run, bores, recorded.valve)
        fittings_ft = equivalent.fittings(run, bores[0]).feet
        valve_ft = equivalent.valve(recorded.valve, run, bores[0]).feet
        _notes(recorded, run, bores[0], assumed)
    return Stretch(
        recorded.id,
        link.a,
        link.b,
        link.b,
        link.a.removesuffix(".out"),
        recorded.thing,
        run,
        hot,
        laws,
        bores,
        recorded.valve,
        fittings_ft,
        valve_ft,
        link.one_way,
        needs,
    )


def laws_of(run: WaterRun, bores: Bores, valve: Handle | None) -> Laws:
    """Return what a run costs, cautious and kind; its length and material have to be recorded."""
    narrow, wide = (_law(run, bore, valve) for bore in bores)
    return narrow, wide


def _law(run: WaterRun, bore: float, valve: Handle | None) -> Friction:
    c = pipe.roughness(run)
    assert run.length is not None
    assert c is not None
    extra = equivalent.fittings(run, bore).feet + equivalent.valve(valve, run, bore).feet
    return Friction(run.length.feet + extra, bore, c)


def _needs(run: WaterRun | None, bores: Bores | None, to: str) -> Iterator[str]:
    """Yield what is not recorded of `to`, the pipe as it is called, and has to be."""
    if run is None:
        yield f"the length, size and material of {to} (`by`)"
        return
    if run.length is None:
        yield f"the length of {to}"
    if run.material is None:
        yield f"what {to} is made of"
    if bores is None and (run.size is None or run.material is not None):
        known = f"the true bore of {to} (`bore`): {run.size} {run.material} is not in the tables"
        yield known if run.size and run.material else f"the size of {to}"


def _notes(recorded: Recorded, run: WaterRun, bore: float, assumed: Assumed) -> None:
    """Keep what this stretch's cost leans on."""
    if not equivalent.counted(run):
        assumed.note(_ALLOWED, recorded.id)
    unprinted = equivalent.fittings(run, bore).unprinted
    for what in (*unprinted, *equivalent.valve(recorded.valve, run, bore).unprinted):
        assumed.note(f"{what}: {_UNPRINTED}", recorded.id)
