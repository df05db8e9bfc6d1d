"""What the drains carry, as text for a terminal and as JSON for machines."""

import json
from math import inf

from handbook.answers.drain_loading import DrainLoading
from handbook.answers.draining.drain_said import (
    adds_up,
    arm_verdict,
    bath_verdict,
    left,
    load,
    vent_needs,
    vent_verdict,
)
from handbook.answers.draining.one_more_bath import OneMoreBath
from handbook.answers.draining.stretch_loads import StretchLoad
from handbook.answers.draining.trap_arms import TrapArm
from handbook.answers.draining.vent_sizes import VentSize
from handbook.house.house import House
from handbook.measures import Length, PipeSize, say_length

HOLE = "not recorded"


def loading_json(answer: DrainLoading) -> str:
    """Return `stretches: {id: {units, allowed, left, fits, ...}}`, `arms`, `vents`,
    `one_more_bath: {id: {adds, carries, ...}}`, `assumed`."""
    said = {
        "code": answer.code.name,
        "edition": answer.code.edition,
        "stretches": {it.id: _stretch(it) for it in answer.stretches},
        "arms": {it.fixture: _arm(it) for it in answer.arms},
        "vents": {it.id: _vent(it) for it in answer.vents},
        "one_more_bath": {it.into: _bath(it) for it in answer.one_more_bath},
        "assumed": answer.assumed,
        "sources": answer.sources,
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def _stretch(it: StretchLoad) -> dict[str, object]:
    return {
        "name": it.name,
        "kind": it.kind,
        "size": _text(it.size),
        "slope_in_per_ft": it.slope and it.slope.inches_per_foot,
        "fixtures": it.fixtures,
        "units": [it.load.least, it.load.most],
        "sum_of": [{"groups": part.groups, "units": part.units} for part in it.sum_of],
        "allowed": it.allowed,
        "left": it.left,
        "fits": it.fits,
        "missing": it.missing,
    }


def _arm(it: TrapArm) -> dict[str, object]:
    return {
        "trap": _text(it.trap),
        "trap_least_in": it.trap_least_in,
        "size": _text(it.size),
        "length_ft": _feet(it.length),
        "most_ft": _feet(it.most),
        "fall_in": it.fall_in,
        "vent": it.vent,
        "trap_too_small": it.trap_too_small,
        "too_long": it.too_long,
        "too_short": it.too_short,
        "too_flat": it.too_flat,
        "falls_too_far": it.falls_too_far,
        "missing": it.lacks,
    }


def _vent(it: VentSize) -> dict[str, object]:
    return {
        "size": _text(it.size),
        "length_ft": _feet(it.length),
        "needs_in": None if it.needs == inf else it.needs,
        "needs_more_than_table": it.needs == inf,
        "too_small": it.too_small,
        "missing": it.lacks,
    }


def _bath(it: OneMoreBath) -> dict[str, object]:
    return {
        "adds": it.adds,
        "carries": it.carries,
        "allowed": it.allowed,
        "fits": it.fits,
        "over": it.over,
        "unknown": it.unknown,
    }


def _text(size: PipeSize | None) -> str | None:
    return size.text if size else None


def _feet(length: Length | None) -> float | None:
    return None if length is None else round(length.feet, 2)


def loading_text(house: House, answer: DrainLoading) -> str:
    """Return a line a stretch, a trap and a vent."""
    if not answer.stretches and not answer.arms:
        return "No drains are recorded."
    lines = ["Stretch: drainage fixture units, what it may carry, what is left"]
    for it in answer.stretches:
        size, allowed = it.size or HOLE, "?" if it.allowed is None else it.allowed
        lines.append(f"  {it.id} ({it.name}), {size}: {load(it)} of {allowed}; left: {left(it)}")
        lines += [f"     = {said}"] if (said := adds_up(house, it)) else []
    if answer.one_more_bath:
        lines += ["", "One more full bath: what it would add where its toilet runs in"]
        lines += [f"  {_bath_said(house, it)}" for it in answer.one_more_bath]
    lines += ["", "Trap: how far its vent is, and may be"]
    lines += [f"  {_arm_said(house, arm)}" for arm in answer.arms]
    lines += ["", "Vent: its size, and what its drains need"]
    lines += [f"  {_vent_said(house, vent)}" for vent in answer.vents]
    lines += ["", *(f"Assumed: {each}" for each in answer.assumed)]
    return "\n".join([*lines, *(f"Source: {each}" for each in answer.sources)])


def _bath_said(house: House, it: OneMoreBath) -> str:
    adds, then, most = ("?" if n is None else n for n in (it.adds, it.carries, it.allowed))
    return f"into {house.called(it.into)}: {adds} more, then {then} of {most}; {bath_verdict(it)}"


def _arm_said(house: House, arm: TrapArm) -> str:
    units = house.record.house.units
    far = say_length(arm.length, units) if arm.length else HOLE
    most = f", at most {say_length(arm.most, units)}" if arm.most else ""
    name = house.items[arm.fixture].name
    return f"{name}, trap {arm.trap or HOLE}: {far}{most} to {arm.vent or '?'}; {arm_verdict(arm)}"


def _vent_said(house: House, vent: VentSize) -> str:
    needs = vent_needs(vent, house.record.house.units, "?")
    return f"{house.called(vent.id)}, {vent.size or HOLE}: needs {needs}; {vent_verdict(vent)}"
