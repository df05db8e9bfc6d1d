"""Flow as text for a terminal, in the house's units."""

from collections.abc import Callable, Iterator
from fractions import Fraction

from handbook.answers.flowing.adjustment_words import cautions, change_said
from handbook.answers.flowing.bathrooms import bathrooms
from handbook.answers.flowing.flow_results import FixtureFlow, Flow, RunFlow
from handbook.answers.flowing.margins import Margins
from handbook.answers.flowing.pressure_profile import way_table
from handbook.answers.flowing.readings import Reading
from handbook.answers.flowing.speed_limits import SpeedLimit, limits_said
from handbook.answers.flowing.upsizing import TOLD
from handbook.house.house import House
from handbook.measures import Flow as Gpm
from handbook.measures import (
    Length,
    Pressure,
    Units,
    Velocity,
    say_flow,
    say_length,
    say_pressure,
    say_velocity,
)

NOT_KNOWN = "-"


def flow_text(house: House, answer: Flow) -> str:
    """Return a line a fixture, then a line a run, then what is left and what it leans on."""
    units = house.record.house.units
    lines = [*_fixture_lines(answer, units), "", *_run_lines(answer, units), ""]
    lines += [*_device_lines(answer, units), ""] if answer.devices else []
    lines += _left(house, answer, units)
    lines += _way(house, answer.margins, units) if answer.margins else []
    lines += [f"{house.places.rooms[b.room][0].name}: {b.sentence}" for b in bathrooms(house)]
    lines += [f"Assumed: {each}" for each in answer.assumed]
    lines += [f"Not known: {each}" for each in answer.missing]
    return "\n".join(lines)


def psi(value: float | None, units: Units) -> str:
    """Say a pressure; below nothing it is nothing."""
    return NOT_KNOWN if value is None else say_pressure(Pressure(max(0.0, value)), units)


def gpm(value: float | None, units: Units) -> str:
    """Say a flow."""
    return NOT_KNOWN if value is None else say_flow(Gpm(value), units)


def _speed(value: float | None, units: Units) -> str:
    return NOT_KNOWN if value is None else say_velocity(Velocity(value), units)


def _height(feet: float | None, units: Units) -> str:
    return NOT_KNOWN if feet is None else say_length(Length(feet * 12), units, Fraction(1))


def _fast(speed: float | None, limit: SpeedLimit | None, units: Units) -> str:
    """Say a speed, and its limit where it is over it, or that it cannot be told."""
    if limit is None or speed is None or (over := limit.exceeded(speed)) is False:
        return _speed(speed, units)
    why = f"over {_speed(limit.most, units)}" if over else "limit not known"
    return f"{_speed(speed, units)} ({why})"


def _between(
    say: Callable[[float | None, Units], str], low: float | None, high: float | None, units: Units
) -> str:
    """Say a figure, or the two that it lies between where they are said differently."""
    least, most = say(low, units), say(high, units)
    return least if least == most else f"{least} to {most}"


def reading(found: Reading, units: Units) -> str:
    """Say a reading: `48 psi, 3.9 gpm`."""
    pressure = _between(psi, found.pressure_psi, found.kind_pressure_psi, units)
    if found.flow_gpm is None:
        return pressure
    return f"{pressure}, {_between(gpm, found.flow_gpm, found.kind_flow_gpm, units)}"


def _fixture_lines(answer: Flow, units: Units) -> Iterator[str]:
    beside = f"with {', '.join(answer.running)}" if answer.running else ""
    head = ["Fixture", "rated", "needs", "at rest", "alone", beside, "at peak", "speed alone"]
    rows = [head, *(_fixture_row(each, units, bool(beside)) for each in answer.fixtures.values())]
    yield from _columns([[cell for cell in row if cell] for row in rows])


def _fixture_row(each: FixtureFlow, units: Units, beside: bool) -> list[str]:
    return [
        each.id,
        f"{gpm(each.rating.gpm, units)} at {psi(each.rating.psi, units)}" if each.rating else "-",
        psi(each.need_psi, units),
        psi(each.static_psi, units),
        reading(each.alone, units),
        reading(each.asked, units) if beside else "",
        reading(each.peak, units),
        _fast(each.speed_ft_s, each.limit, units),
    ]


def _run_lines(answer: Flow, units: Units) -> Iterator[str]:
    rows = [["Pipe to", "pipe", "WSFU", "peak", "speed", "loss"]]
    for each in answer.runs.values():
        rows.append(
            [
                each.id,
                _pipe(each, units),
                f"{each.wsfu:g}",
                gpm(each.demand_gpm, units),
                _fast(each.velocity_ft_s, each.limit, units),
                _between(psi, each.kind_loss_psi, each.loss_psi, units),
            ]
        )
    yield from _columns(rows)
    yield f"Limits at peak demand: {limits_said(units)}"


def _device_lines(answer: Flow, units: Units) -> Iterator[str]:
    rows = [["Equipment", "kind", "peak", "loss"]]
    for each in answer.devices.values():
        loss = _between(psi, each.kind_loss_psi, each.loss_psi, units)
        rows.append([each.id, each.kind, gpm(each.demand_gpm, units), loss])
    yield from _columns(rows)


def _pipe(each: RunFlow, units: Units) -> str:
    run = each.run
    if run is None:
        return "not recorded"
    length = say_length(run.length, units) if run.length else "?"
    return f"{length} of {run.size or '?'} {run.material or '?'}"


def _left(house: House, answer: Flow, units: Units) -> Iterator[str]:
    found = answer.margins
    yield f"Peak demand: {answer.wsfu:g} fixture units, {gpm(answer.demand_gpm, units)}"
    if found is None:
        return
    name = house.called(found.worst)
    yield (
        f"Worst at peak: {name}: {psi(found.pressure_psi, units)} on its way {found.supply}, "
        f"needs {psi(found.need_psi, units)}"
    )
    if pipe := found.costliest:
        yield f"Pipe that costs most on that way: to {pipe.id}, {psi(pipe.psi, units)}"
    if device := found.equipment:
        yield f"Equipment that costs most: {device.id}, {psi(device.psi, units)}"
    yield from _settings(house, found, units)
    for larger in found.upsizings[:TOLD]:
        back, there = psi(larger.gives_back_psi, units), psi(larger.pressure_psi, units)
        long = say_length(Length(larger.length_ft * 12), units)
        sizes = f"{larger.to_size} instead of {larger.from_size}"
        yield f"The {long} to {larger.run} in {sizes} gives back {back}: {there} there"
    if spare := found.spare:
        holds = "enough" if spare.holds else "too little"
        yield (
            f"With one more bathroom: {gpm(spare.demand_gpm, units)} at peak, leaving "
            f"{psi(spare.pressure_psi, units)} there, which is {holds}"
        )


def _settings(house: House, found: Margins, units: Units) -> Iterator[str]:
    """Yield what the worst fixture would have by what is set otherwise, and with what care."""
    for each in found.adjustments:
        back, there = psi(each.gives_back_psi, units), psi(each.pressure_psi, units)
        flow = f", {gpm(each.flow_gpm, units)}" if each.flow_gpm is not None else ""
        more = ""
        if each.bathroom_psi is not None:
            more = f"; with one more bathroom {psi(each.bathroom_psi, units)}"
        done = f"{each.thing} {change_said(house, each)}"
        yield f"Before any pipe is changed: {done}: {there}{flow} there, {back} more{more}"
    yield from (f"  {said}" for said in cautions(house, found.adjustments))


def _way(house: House, found: Margins, units: Units) -> Iterator[str]:
    """Yield the way to the worst fixture at peak, step by step."""
    rows = [["On its way", "flow", "speed", "takes", "height", "leaves"]]
    for step in way_table(house, found):
        what = f"pipe to {step.thing}" if step.pipe else step.thing
        speed = _speed(step.speed_ft_s, units)
        rows.append(
            [
                what,
                gpm(step.gpm, units),
                speed,
                psi(step.loss_psi, units),
                _height(step.height_ft, units),
                psi(step.left_psi, units),
            ]
        )
    yield from ("", *_columns(rows), "")


def _columns(rows: list[list[str]]) -> Iterator[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        yield "  ".join(cell.ljust(wide) for cell, wide in zip(row, widths, strict=True)).rstrip()
