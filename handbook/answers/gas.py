"""The gas line asked: what each stretch carries, what is left at each outlet, what may be added.

Answers for people who plan; all work on gas pipe is a licensed plumber's.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from handbook.answers.gas_sizing.gas_outlets import (
    GasMeterSize,
    GasOutletSize,
    meter_size,
    outlet_sizes,
)
from handbook.answers.gas_sizing.gas_runs import (
    Found,
    GasRunSize,
    load_of,
    many_fittings,
    run_sizes,
)
from handbook.answers.not_asked import NoSuchThingError, no_thing
from handbook.house.house import House
from handbook.measures import HeatRate, say_heat_rate
from handbook.record.grammar.common import given
from handbook.record.grammar.gas import Gas
from handbook.record.grammar.places import Site
from handbook.record.knowing import ABSENT
from handbook.record.problems import nearest
from handbook.tables import table

CONNECTED_SLACK = 0.005


@dataclass(frozen=True)
class GasAnswer:
    """The gas line. `tables` are the sources read.

    `added` and `instead` are what was asked to be added, and to be put in the place of something.
    """

    fuel: str | None
    load_btuh: float
    runs: tuple[GasRunSize, ...]
    outlets: tuple[GasOutletSize, ...]
    meter: GasMeterSize | None
    added: tuple[tuple[str, float], ...] = ()
    instead: tuple[tuple[str, float], ...] = ()
    tables: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


def gas(
    house: House,
    added: Mapping[str, float] | None = None,
    instead: Mapping[str, float] | None = None,
) -> GasAnswer:
    """Size the gas line as it stands, with `added` Btu an hour beside what burns at an outlet.

    `instead` is what burns at an outlet in the place of what burns there now. Raises
    NoSuchThingError for an id in either that is no outlet and burns no gas.
    """
    added, instead = dict(added or {}), dict(instead or {})
    _check(house, (*added, *instead))
    more = _more(house, added, instead)
    line = given(house.record.gas)
    if line is None:
        holes = () if house.record.gas is ABSENT else ("the gas line (`gas`)",)
        return GasAnswer(None, 0.0, (), (), None, missing=holes)
    found = Found({}, {})
    _ask(house, line, found)
    runs = run_sizes(house, line, more, found)
    total = house.gas.input_btuh + sum(more.values())
    meter = meter_size(house, line, total, found)
    outlets = outlet_sizes(house, runs, meter, load_of(house.gas, more), found)
    _grant(house, line, runs, found)
    return GasAnswer(
        line.fuel,
        total,
        runs,
        outlets,
        meter,
        tuple(added.items()),
        tuple(instead.items()),
        tuple(dict.fromkeys(table(run.table).cited for run in runs if run.table)),
        tuple(found.assumed),
        tuple(found.missing),
    )


def _more(
    house: House, added: Mapping[str, float], instead: Mapping[str, float]
) -> dict[str, float]:
    """Return by how much each outlet would burn more than it does now (less: below zero)."""
    more = dict(added)
    for thing, rate in instead.items():
        now = house.gas.nodes[thing].input
        more[thing] = more.get(thing, 0.0) + rate - (now.btu_h if now else 0.0)
    return more


def _check(house: House, added: Iterable[str]) -> None:
    ends = [node.id for node in house.gas.ends]
    for thing in added:
        if thing not in ends and thing not in house.items:
            raise no_thing(house, thing, ends)
        if thing not in ends:
            why = f"`{thing}` is no gas outlet and burns no gas in this record"
            raise NoSuchThingError(thing, nearest(thing, ends), why)


def _ask(house: House, line: Gas, found: Found) -> None:
    """Gather what the loads lack."""
    if line.meter is None:
        found.missing["the gas meter or tank (`gas: meter`)"] = None
    if line.appliances is None:
        found.missing["the appliances that burn gas (`gas: appliances`)"] = None
    if house.record.heaters is None:
        found.missing["the water heater and its fuel (`heaters`)"] = None
    if house.record.fixtures is None:
        found.missing["the fixtures, and which of them burn gas (`fixtures`)"] = None
    for name in house.gas.unclear:
        found.missing[f"the gas supply of {house.called(name)}"] = None
    for node in house.gas.nodes.values():
        if node.kind != "meter" and node.feeder is None:
            found.missing[f"what feeds {house.called(node.id)} with gas"] = None
        if node.kind == "appliance" and node.input is None:
            found.missing[f"the input of {house.called(node.id)}"] = None
    site = house.record.site or Site()
    most = float(table("gas_method").values["altitude_most_ft"])
    if site.altitude is not None and site.altitude.feet > most:
        said = f"the adjustment for {site.altitude.text} above the sea, which the method asks for"
        found.missing[f"{said} over {most:,.0f} ft; inputs are taken as on the plates"] = None


def _grant(house: House, line: Gas, runs: tuple[GasRunSize, ...], found: Found) -> None:
    """Gather what was taken for granted where runs were sized."""
    read = {run.table for run in runs if run.table}
    if not read:
        return
    site, units = house.record.site or Site(), house.record.house.units
    if site.altitude is None:
        found.assumed["a lot no more than 2,000 ft above the sea (`site: altitude`)"] = None
    if line.fuel == "natural gas":
        heat = "37.3 MJ in a cubic metre" if units == "metric" else "1,000 Btu in a cubic foot"
        found.assumed[f"{heat} of natural gas; the gas utility can tell its own"] = None
    if any("csst" in name for name in read):
        said = "CSST with no more than four bends and two end fittings a run; "
        found.assumed[said + "its maker's own table takes precedence"] = None
    if any("steel" in name for name in read):
        found.assumed["steel pipe of schedule 40"] = None
    for name, count in many_fittings(house).items():
        said = f"no length added for the {count} fittings in the pipe to {house.called(name)}"
        found.assumed[said] = None
    if any(node.kind == "regulator" for node in house.gas.nodes.values()):
        found.assumed["regulators that pass the load behind them"] = None
    _compare(house, line, found)


def _compare(house: House, line: Gas, found: Found) -> None:
    """Say where the permit's connected load and the recorded inputs differ."""
    if (stated := given(line.connected)) and differs(house, stated):
        units = house.record.house.units
        summed = say_heat_rate(HeatRate(house.gas.input_btuh), units)
        said = f"the recorded inputs, {summed} together; the permit states "
        found.assumed[said + say_heat_rate(stated, units)] = None


def differs(house: House, stated: HeatRate) -> bool:
    """Whether a connected load is another than that of the recorded inputs, beyond rounding."""
    return abs(house.gas.input_btuh - stated.btu_h) > CONNECTED_SLACK * stated.btu_h
