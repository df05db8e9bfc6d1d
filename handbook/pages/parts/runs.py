"""Every run of pipe as the record has it, for the service plumber: water, drain and gas tables.

A run stands in its table as soon as either its beginning or its pipe is recorded; what is missing
of it is printed `n/r`, not recorded.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby

from handbook.answers.serves import gas_users
from handbook.house.house import House
from handbook.measures import Length
from handbook.pages.content import Block, Line, Tag
from handbook.pages.parts.phrases import HOLE, NOT_RECORDED, joined, said, short, table, yes_no
from handbook.pages.parts.say import Say
from handbook.pages.words import lower
from handbook.record.grammar.common import (
    Fed,
    Fittings,
    GasRun,
    Run,
    Stop,
    WaterRun,
    each,
    given,
)
from handbook.record.grammar.drains import Drains
from handbook.record.grammar.gas import Gas
from handbook.record.grammar.water import Irrigation, Recirculation, Tee, Water
from handbook.record.ids import entries

Row = tuple[Line, ...]


def water_runs(house: House) -> tuple[Block, ...]:
    """Return the table of all water pipe."""
    rows = [
        (to, short(house, from_, HOLE), _pipe(house, by), _remarks(house, by))
        for to, from_, by in _water(house)
        if from_ or by
    ]
    return table("Water pipe", _HEAD, rows, _WIDTHS)


_HEAD = ("To", "From", "Length, size, material", "Route, and remarks")
_WIDTHS = (2.9, 1, 2.4, 4.6)


def _water(house: House) -> Iterator[tuple[Line, str | None, WaterRun | None]]:
    """Yield (what the run ends at, what feeds it, the pipe)."""
    for entry in entries(house.record.water or Water()):
        if isinstance(entry, Fed):
            feeds = each(entry.feeds) if isinstance(entry, Tee) else ()
            if entry.from_ or not feeds:
                yield _past(entry.id, _stop_of(entry)), entry.from_, entry.by
            for feed in feeds:
                yield (Tag(entry.id),), feed.from_, feed.by
    for heater in each(house.record.heaters):
        if heater.cold:
            yield _past(heater.id, given(heater.cold.stop)), heater.cold.from_, heater.cold.by
    yield from _return(house)
    for fixture in each(house.record.fixtures):
        for side, connection in (("cold", fixture.cold), ("hot", fixture.hot)):
            if pipe := given(connection):
                yield (f"{house.items[fixture.id].name} ({side})",), pipe.from_, pipe.by


def _stop_of(entry: Fed) -> Stop | None:
    """The stop that stands in the pipe to a pump or to the lawn watering."""
    match entry:
        case Recirculation():
            return given(entry.shutoff)
        case Irrigation():
            return given(entry.stop)
    return None


def _past(thing: str, stop: Stop | None) -> Line:
    """The end of a run, and the stop that the run passes: `RC1, past W15`."""
    return (Tag(thing), ", past ", Tag(stop.id)) if stop else (Tag(thing),)


def _return(house: House) -> Iterator[tuple[Line, str | None, WaterRun | None]]:
    """Yield the last of the hot water return, from pump or check valve to where it joins."""
    pump = given(house.record.water.recirculation) if house.record.water else None
    if pump and pump.to:
        check = given(pump.check)
        yield (Tag(pump.to), " (return)"), check.id if check else pump.id, pump.joins_by


def _pipe(house: House, run: Run | None) -> Line:
    return (Say.of(house, HOLE).run(run),)


def _remarks(house: House, run: Run | None) -> Line:
    """Return the way a run takes, the rooms that hide it, its fittings and insulation."""
    if run is None:
        return ("-",)
    words = [run.way or ""]
    if run.through:
        rooms = [house.places.rooms[r][0].name.lower() for r in run.through]
        words.append("through: " + ", ".join(rooms))
    words.append(_fittings(run.fittings) if run.fittings else "")
    if isinstance(run, WaterRun) and run.bore:
        words.append(f"bore {run.bore.text}")
    insulated = getattr(run, "insulated", None)
    if insulated is not None:
        words.append(f"insulated: {said(insulated, yes_no)}")
    if isinstance(run, GasRun) and run.ehd is not None:
        words.append(f"EHD {run.ehd}")
    return ("; ".join(word for word in words if word) or "-",)


def _fittings(fittings: Fittings) -> str:
    names = {
        "ell_90": ("ell", " of 90°"),
        "ell_45": ("ell", " of 45°"),
        "tee_run": ("tee", " (run)"),
        "tee_branch": ("tee", " (branch)"),
        "coupling": ("coupling", ""),
    }
    counted = [(getattr(fittings, field), *name) for field, name in names.items()]
    words = [
        f"{count or 'no'} {name}{'' if count == 1 else 's'}{which}"
        for count, name, which in counted
        if count is not None
    ]
    return ", ".join([*words, f"inserts of bore {fittings.bore.text}"] if fittings.bore else words)


def drain_runs(house: House) -> tuple[Block, ...]:
    """Return the tables of all drain pipe: the stretches, then each fixture's own drain."""
    drains = house.record.drains or Drains()
    say = Say.of(house, HOLE)
    stretches = [
        (
            (Tag(stretch.id), f" {lower(house.items[stretch.id].name)}"),
            short(house, stretch.to, HOLE),
            _pipe(house, stretch.by),
            (say.slope(stretch.slope),),
            (say.length(stretch.invert),),
            _remarks(house, stretch.by),
        )
        for stretch in each(drains.stretches)
    ]
    head = ("Drain", "To", "Length, size, material", "Slope", "Invert", "Route, and remarks")
    caption = "Stretches of drain; invert at the upper end, main floor = 0"
    widths = (2.3, 0.9, 1.9, 1.6, 1.9, 3.8)
    return (
        *table(caption, head, stretches, widths),
        *_fixture_drains(house),
        *_discharge(house, drains),
    )


def _fixture_drains(house: House) -> tuple[Block, ...]:
    say = Say.of(house, HOLE)
    rows = [
        (
            (house.items[fixture.id].name,),
            short(house, drain.to, HOLE),
            _pipe(house, drain.by),
            (say.text(drain.trap),),
            (say.slope(drain.slope),),
        )
        for fixture in each(house.record.fixtures)
        if (drain := given(fixture.drain))
    ]
    head = ("Fixture", "To", "Length, size, material", "Trap", "Slope")
    caption = "Fixture drains"
    return table(caption, head, rows, (3, 1.2, 3, 1.2, 1.8))


def _discharge(house: House, drains: Drains) -> tuple[Block, ...]:
    end = drains.discharge
    if end is None:
        return ()
    row = ((Tag(end.id),), (end.kind or HOLE,), (house.where(end.id) or HOLE,))
    return table("Point of discharge", ("Tag", "Kind", "Where"), [row], (1, 2, 5))


def vents(house: House) -> tuple[Block, ...]:
    """Return the table of vents."""
    rows = [
        (
            (Tag(vent.id),),
            (house.items[vent.id].name,),
            joined([short(house, served) for served in vent.serves or ()]) or (HOLE,),
            (said(vent.size, str, HOLE),),
            ("into ", Tag(vent.to)) if vent.to else (vent.ends or HOLE,),
            (house.where(vent.id) or HOLE,),
        )
        for vent in each((house.record.drains or Drains()).vents)
    ]
    head = ("Vent", "Name", "Serves", "Size", "Ends", "Where")
    return table("Vents", head, rows, (0.6, 1.5, 1.7, 0.9, 1.4, 4.4))


def gas_runs(house: House) -> tuple[Block, ...]:
    """Return the table of all gas pipe."""
    rows = [
        (to, short(house, from_, HOLE), _pipe(house, by), _remarks(house, by))
        for to, from_, by in _gas(house)
        if from_ or by
    ]
    return table("Gas pipe", _HEAD, rows, _WIDTHS)


def _gas(house: House) -> Iterator[tuple[Line, str | None, GasRun | None]]:
    gas = given(house.record.gas) or Gas()
    for fed in (*each(gas.regulators), *each(gas.tees), *each(gas.valves), *each(gas.outlets)):
        yield (Tag(fed.id),), fed.from_, fed.by
    for owner, connection in gas_users(house):
        yield (house.items[owner].name,), connection.from_, connection.by


def sizes_of(house: House, kind: str) -> Line:
    """Return the pipe of a kind of drain, from its upper end on: `39 ft of 4 in PVC (D17, D18)`."""
    legs = [leg for leg in house.drains.legs.values() if leg.kind == kind]
    legs.sort(key=lambda leg: len(house.drains.downhill(leg.id)), reverse=True)
    found = [(leg.run, short(house, leg.id)) for leg in legs]
    return in_order(house, found, "") if found else (NOT_RECORDED,)


def in_order(house: House, found: Sequence[tuple[Run | None, Line]], to: str = "to ") -> Line:
    """Return runs one after the other, those of one size and material that meet added up."""
    line: Line = ()
    for (size, material), group in groupby(found, lambda each: made_of(each[0])):
        met = list(group)
        things = joined([thing for _, thing in met])
        known = [run.length for run, _ in met if run and run.length]
        whole = Length(sum(length.inches for length in known)) if len(known) == len(met) else None
        words = f"{Say.of(house, HOLE).length(whole)} of {size} {material}"
        line += ("; ",) if line else ()
        line += (f"{words} {to}", *things) if to else (f"{words} (", *things, ")")
    return line


def made_of(run: Run | None) -> tuple[str, str]:
    """Return a run's size and material, each said to be a hole where it is not recorded."""
    material = getattr(run, "material", None)
    return str(run.size if run and run.size else HOLE), str(material or f"({HOLE})")
