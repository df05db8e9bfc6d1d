"""Flow as text for a terminal, in the house's units, and as JSON for machines, in psi and gpm."""

import json
from collections.abc import Callable, Iterator
from typing import Literal

from handbook.answers.flow import velocity_limit_of
from handbook.answers.flowing.flow_results import DeviceFlow, FixtureFlow, Flow, RunFlow
from handbook.answers.flowing.margins import Margins
from handbook.answers.flowing.pressure_profile import way_table
from handbook.answers.flowing.readings import Reading
from handbook.house.house import House
from handbook.measures import Flow as Gpm
from handbook.measures import (
    Pressure,
    Units,
    Velocity,
    say_flow,
    say_length,
    say_pressure,
    say_velocity,
)

NOT_KNOWN = "-"
KINDS: tuple[Literal["metal", "plastic"], ...] = ("metal", "plastic")


def flow_json(answer: Flow) -> str:
    """Return `fixtures`, `runs`, `devices` by id, what is left at peak, and what it leans on.

    `pressure_psi` and `flow_gpm` are with what was asked to run, else alone; `kind_...` is what
    the kinder assumption gives.
    """
    margins = answer.margins
    said = {
        "static_psi": answer.static_psi,
        "running": answer.running,
        "fixtures": {name: _fixture(each) for name, each in answer.fixtures.items()},
        "runs": {name: _run(each) for name, each in answer.runs.items()},
        "devices": {name: _device(each) for name, each in answer.devices.items()},
        "wsfu": _round(answer.wsfu),
        "demand_gpm": _round(answer.demand_gpm),
        **_margins(margins),
        "assumed": answer.assumed,
        "missing": answer.missing,
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def _round(value: float | None) -> float | None:
    return None if value is None else round(value, 3) + 0.0


def _reading(reading: Reading) -> dict[str, float | None]:
    return {
        "pressure_psi": _round(reading.pressure_psi),
        "flow_gpm": _round(reading.flow_gpm),
        "kind_pressure_psi": _round(reading.kind_pressure_psi),
        "kind_flow_gpm": _round(reading.kind_flow_gpm),
    }


def _fixture(each: FixtureFlow) -> dict[str, object]:
    return {
        "name": each.name,
        "kind": each.kind,
        **_reading(each.asked),
        "need_psi": each.need_psi,
        "need_gpm": each.need_gpm,
        "height_ft": _round(each.height_ft),
        "static_psi": _round(each.static_psi),
        "alone": _reading(each.alone),
        "peak": _reading(each.peak),
        "own_speed_ft_s": _round(each.speed_ft_s),
        "own_speed_limit_ft_s": each.limit_ft_s,
        "sides": {side: _reading(reading) for side, reading in each.sides.items()},
        "needs": each.needs,
    }


def _run(each: RunFlow) -> dict[str, object]:
    run = each.run
    return {
        "from": each.from_,
        "to": each.thing,
        "length_ft": _round(run.length.feet) if run and run.length else None,
        "size": str(run.size) if run and run.size else None,
        "material": run.material if run else None,
        "bore_in": _round(each.bore_in),
        "equivalent_ft": _round(each.equivalent_ft),
        "hot": each.hot,
        "fixtures": each.fixtures,
        "wsfu": each.wsfu,
        "demand_gpm": _round(each.demand_gpm),
        "velocity_ft_s": _round(each.velocity_ft_s),
        "velocity_limit_ft_s": each.limit_ft_s,
        "loss_psi": _round(each.loss_psi),
        "kind_loss_psi": _round(each.kind_loss_psi),
        "flow_gpm": _round(each.asked_gpm),
        "needs": each.needs,
    }


def _device(each: DeviceFlow) -> dict[str, object]:
    return {
        "kind": each.kind,
        "demand_gpm": _round(each.demand_gpm),
        "loss_psi": _round(each.loss_psi),
        "kind_loss_psi": _round(each.kind_loss_psi),
        "beyond_its_table": each.beyond,
    }


def _margins(found: Margins | None) -> dict[str, object]:
    if found is None:
        nothing = ("worst", "costliest", "costliest_equipment", "upsizing", "spare")
        return dict.fromkeys(nothing)
    larger, spare = found.upsizing, found.spare
    pipe, device = found.costliest, found.equipment
    return {
        "worst": {
            "fixture": found.worst,
            "supply": found.supply,
            "pressure_psi": _round(found.pressure_psi),
            "need_psi": found.need_psi,
            "left_psi": _round(found.left_psi),
        },
        "costliest": pipe and {"run": pipe.id, "loss_psi": _round(pipe.psi)},
        "costliest_equipment": device and {"id": device.id, "loss_psi": _round(device.psi)},
        "upsizing": larger
        and {
            "run": larger.run,
            "from_size": larger.from_size,
            "to_size": larger.to_size,
            "gives_back_psi": _round(larger.gives_back_psi),
        },
        "spare": spare
        and {
            "added_wsfu": spare.added_wsfu,
            "demand_gpm": _round(spare.demand_gpm),
            "pressure_psi": _round(spare.pressure_psi),
            "left_psi": _round(spare.left_psi),
            "holds": spare.holds,
            "bathrooms_left": spare.bathrooms_left,
        },
    }


# --- text --------------------------------------------------------------------------------------


def flow_text(house: House, answer: Flow) -> str:
    """Return a line a fixture, then a line a run, then what is left and what it leans on."""
    units = house.record.house.units
    lines = [*_fixture_lines(answer, units), "", *_run_lines(answer, units), ""]
    lines += [*_device_lines(answer, units), ""] if answer.devices else []
    lines += _left(house, answer, units)
    lines += _way(house, answer.margins, units) if answer.margins else []
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


def _fast(speed: float | None, limit: float | None, over: bool, units: Units) -> str:
    """Say a speed, and its limit where it is over it."""
    return _speed(speed, units) + (f" (over {_speed(limit, units)})" if over else "")


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
    head = ["Fixture", "needs", "at rest", "alone", beside, "at peak", "speed alone"]
    rows = [head, *(_fixture_row(each, units, bool(beside)) for each in answer.fixtures.values())]
    yield from _columns([[cell for cell in row if cell] for row in rows])


def _fixture_row(each: FixtureFlow, units: Units, beside: bool) -> list[str]:
    return [
        each.id,
        psi(each.need_psi, units),
        psi(each.static_psi, units),
        reading(each.alone, units),
        reading(each.asked, units) if beside else "",
        reading(each.peak, units),
        _fast(each.speed_ft_s, each.limit_ft_s, each.too_fast, units),
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
                _fast(each.velocity_ft_s, each.limit_ft_s, each.too_fast, units),
                _between(psi, each.kind_loss_psi, each.loss_psi, units),
            ]
        )
    yield from _columns(rows)
    metal, plastic = (_speed(velocity_limit_of(kind), units) for kind in KINDS)
    yield f"Limits at peak: {metal} in metal, {plastic} in plastic pipe"


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
    if larger := found.upsizing:
        back = psi(larger.gives_back_psi, units)
        sizes = f"{larger.to_size} instead of {larger.from_size}"
        yield f"The pipe to {larger.run} in {sizes} gives back {back}"
    if spare := found.spare:
        holds = "enough" if spare.holds else "too little"
        yield (
            f"With one more bathroom: {gpm(spare.demand_gpm, units)} at peak, leaving "
            f"{psi(spare.pressure_psi, units)} there, which is {holds}"
        )


def _way(house: House, found: Margins, units: Units) -> Iterator[str]:
    """Yield the way to the worst fixture at peak, step by step."""
    rows = [["On its way", "flow", "speed", "takes", "leaves"]]
    for step in way_table(house, found):
        what = f"pipe to {step.thing}" if step.pipe else step.thing
        speed = _speed(step.speed_ft_s, units)
        rows.append(
            [
                what,
                gpm(step.gpm, units),
                speed,
                psi(step.loss_psi, units),
                psi(step.left_psi, units),
            ]
        )
    yield from ("", *_columns(rows), "")


def _columns(rows: list[list[str]]) -> Iterator[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        yield "  ".join(cell.ljust(wide) for cell, wide in zip(row, widths, strict=True)).rstrip()
