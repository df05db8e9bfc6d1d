"""The gas line as text for a terminal and as JSON for machines."""

import json

from handbook.answers.gas import GasAnswer
from handbook.answers.gas_sizing.gas_outlets import GasOutletSize, Need
from handbook.answers.gas_sizing.gas_runs import GasRunSize
from handbook.measures import HeatRate, Length, Units, say_heat_rate, say_length

LARGER = "a size larger than the table holds"
CAUTION = "All work on gas pipe is a licensed plumber's; the local code and the inspector decide."


def gas_json(answer: GasAnswer) -> str:
    """Return `runs: {id: {...}}`, `outlets: {id: {...}}`, `meter`, `assumed`, `missing`.

    Rates are in Btu an hour, lengths in feet; null is not known.
    """
    meter = answer.meter
    said = {
        "fuel": answer.fuel,
        "load_btuh": round(answer.load_btuh),
        "added": {thing: round(rate) for thing, rate in answer.added},
        "in_place": {thing: round(rate) for thing, rate in answer.instead},
        "runs": {run.id: _run(run) for run in answer.runs},
        "outlets": {outlet.id: _outlet(outlet) for outlet in answer.outlets},
        "meter": meter
        and {
            "id": meter.id,
            "class_cfh": meter.class_cfh,
            "capacity_btuh": _whole(meter.capacity_btuh),
            "load_btuh": round(meter.load_btuh),
            "spare_btuh": _spare(meter.margin_btuh),
        },
        "tables": list(answer.tables),
        "assumed": list(answer.assumed),
        "missing": list(answer.missing),
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def _run(run: GasRunSize) -> dict[str, object]:
    return {
        "load_btuh": round(run.load_btuh),
        "run_ft": run.run_ft,
        "length_ft": run.length_ft,
        "capacity_btuh": _whole(run.capacity_btuh),
        "spare_btuh": _spare(run.margin_btuh),
        "over": run.over,
        "needs": run.needs(run.load_btuh) if run.over else None,
        "by": run.by,
        "table": run.table or None,
        "row_ft": run.row_ft,
        "load_complete": run.whole,
        "unknown": run.unknown or None,
    }


def _outlet(outlet: GasOutletSize) -> dict[str, object]:
    return {
        "kind": outlet.kind,
        "load_btuh": round(outlet.load_btuh),
        "spare_btuh": _whole(outlet.spare_btuh),
        "limited_by": outlet.limited_by,
        "meant_btuh": _whole(outlet.wants_btuh),
        "meant_by": outlet.wants_by,
        "too_small": outlet.too_small,
        "fits": {fit.what: fit.fits for fit in outlet.fits},
        "too_small_for": {
            fit.what: {need.id: _need(need) for need in fit.needs}
            for fit in outlet.fits
            if fit.needs
        },
    }


def _need(need: Need) -> dict[str, object]:
    """Return what a pipe, or the meter, would have to carry, and the size or class for it."""
    least = {"class_btuh": _whole(need.class_btuh)} if need.meter else {"size": need.size}
    return {"load_btuh": round(need.load_btuh), **least}


def _whole(rate: float | None) -> int | None:
    return None if rate is None else round(rate)


def _spare(margin: float | None) -> int | None:
    return None if margin is None else max(0, round(margin))


def gas_text(answer: GasAnswer, units: Units) -> str:
    """Return a line a run and a line an outlet, then what was assumed and what is missing."""
    if not answer.runs and not answer.outlets:
        return "\n".join([_nothing(answer), *(f"Not known: {each}." for each in answer.missing)])
    lines = [f"Gas: {answer.fuel or 'fuel not recorded'}, {_rate(answer.load_btuh, units)} in all"]
    for thing, rate in answer.added:
        lines.append(f"  with {_rate(rate, units)} more at {thing}, beside what burns there now")
    for thing, rate in answer.instead:
        lines.append(
            f"  with {_rate(rate, units)} at {thing}, in the place of what burns there now"
        )
    lines += ["", "Runs (the pipe that ends at each)"]
    lines += [f"  {run.id} ({run.name}): {_run_words(run, units)}" for run in answer.runs]
    lines += ["", "What could still be added"]
    for outlet in answer.outlets:
        lines += _outlet_lines(outlet, units)
    lines += [_meter_words(answer, units)] if answer.meter else []
    lines += ["", CAUTION]
    lines += [f"Source: {each}." for each in answer.tables]
    lines += [f"Assumed: {each}." for each in answer.assumed]
    lines += [f"Not known: {each}." for each in answer.missing]
    return "\n".join(lines)


def _nothing(answer: GasAnswer) -> str:
    """Say that there is no gas, or that none of its pipes is recorded."""
    looked = answer.fuel is None and not answer.missing
    return "No gas: somebody looked." if looked else "No gas pipe and no gas outlet is recorded."


def _rate(rate: float, units: Units) -> str:
    return say_heat_rate(HeatRate(rate), units)


def _run_words(run: GasRunSize, units: Units) -> str:
    load = ("" if run.whole else "at least ") + _rate(run.load_btuh, units)
    if run.capacity_btuh is None:
        return f"load {load}; capacity not known: {run.unknown}"
    row = say_length(Length(12.0 * (run.row_ft or 0)), units)
    read = f"table row {row}"
    if run.by == "equation":
        read = f"the code's equation; {read} {_rate(run.row_btuh or 0.0, units)}"
    carries = f"{_rate(run.capacity_btuh, units)} ({read})"
    if run.over:
        needs = run.needs(run.load_btuh) or LARGER
        return f"load {load}, OVER its capacity of {carries}; needs {needs}"
    left = "not known" if run.margin_btuh is None else _rate(max(0.0, run.margin_btuh), units)
    return f"load {load} of {carries}, left {left}"


def _outlet_lines(outlet: GasOutletSize, units: Units) -> list[str]:
    named = f"  {outlet.id} ({outlet.name})"
    if outlet.spare_btuh is None:
        return [f"{named}: not known"]
    limit = f"; {outlet.limited_by} is the limit" if outlet.limited_by else ""
    lines = [f"{named}: {_rate(outlet.spare_btuh, units)}{limit}"]
    if outlet.wants_btuh is not None:
        is_it = "too little" if outlet.too_small else "enough"
        lines.append(f"    {is_it} for the {_rate(outlet.wants_btuh, units)} it is meant for")
    enough = [f"{fit.what} ({_rate(fit.btuh, units)})" for fit in outlet.fits if fit.fits]
    lines += [f"    enough for one of: {', '.join(enough)}"] if enough else []
    for fit in (each for each in outlet.fits if not each.fits):
        lines.append(f"    not enough for: {fit.what} ({_rate(fit.btuh, units)})")
        lines.append(f"      too small for it: {'; '.join(need_said(n, units) for n in fit.needs)}")
    return lines


def need_said(need: Need, units: Units) -> str:
    """Say what is too small and what it would have to be: `GT3 needs 1 in`."""
    needs = _class_said(need, units) if need.meter else need.size or LARGER
    return f"{need.id} needs {needs}"


def _class_said(need: Need, units: Units) -> str:
    """Say a meter's class; beyond the usual classes the load that it has to pass."""
    if need.class_btuh is not None:
        return f"a class of {_rate(need.class_btuh, units)}"
    return f"a class of {_rate(need.load_btuh, units)} or more, larger than the usual ones"


def _meter_words(answer: GasAnswer, units: Units) -> str:
    meter = answer.meter
    if meter is None or meter.capacity_btuh is None:
        return "  Meter: class not known"
    left = "not known" if meter.margin_btuh is None else _rate(meter.margin_btuh, units)
    if meter.load_btuh > meter.capacity_btuh:
        needs = _class_said(meter.need(meter.load_btuh), units)
        left = f"nothing: the load is more than its class; needs {needs}"
    return f"  Meter {meter.id}: class {_rate(meter.capacity_btuh, units)}, left {left}"
