"""What a gas pipe can carry: the printed tables, and the code's equation between their rows.

A table is read at the row equal to the length or the next longer one, never beyond its last row.
The equation is the code's own for low pressure in steel pipe; for 2 psi and for CSST only the
printed figures count.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor, log10
from typing import Any

from handbook.house.sizes import inches_of, size_said, trade_name
from handbook.measures import PipeSize, Units
from handbook.record.grammar.common import GasRun
from handbook.tables import Table, table

STEEL = ("black steel", "galvanized steel")
TAPED_FT = 0.05
"""Lengths are taped to the half inch: 18.29 m is the row of 60 ft."""
PER_UNIT = 1000
"""Propane tables are printed in thousands of Btu an hour."""


@dataclass(frozen=True)
class System:
    """One pressure of one gas: which tables rule steel pipe and CSST, if any does."""

    fuel: str
    steel: str
    csst: str | None
    drop_inwc: float | None
    """The pressure drop for the equation; None where only the printed figures count."""


LOW = System("natural gas", "gas_steel_half_inch", "gas_csst_natural", 0.5)
LOW_3_INCH = System("natural gas", "gas_steel_3_inch", None, 3.0)
TWO_PSI = System("natural gas", "gas_steel_2_psi", None, None)
PROPANE = System("propane", "gas_steel_propane", "gas_csst_propane", 0.5)


@dataclass(frozen=True)
class Ruling:
    """What a pipe carries: by the table's row, and by the equation at the length itself.

    Rates in Btu an hour; `exact_btuh` is None where the equation has no say.
    """

    table: Table
    row_ft: int
    table_btuh: float
    exact_btuh: float | None


def ruling(system: System, run: GasRun | None, length_ft: float) -> Ruling | str:
    """Return what a pipe carries over a developed length, or what stands in the way.

    The words name what is missing, to follow "not known: ".
    """
    if run is None or run.material is None:
        return "what the pipe is made of"
    if run.material == "CSST":
        return _csst(system, run, length_ft)
    if run.material not in STEEL:
        return f"a table for {run.material} pipe; none is kept here"
    return _steel(system, run, length_ft)


def sizes_that_carry(
    system: System, run: GasRun | None, length_ft: float, units: Units
) -> tuple[tuple[str, float], ...]:
    """Return each tabulated size of a pipe's material with its row's figure, smallest first."""
    return tuple(_each_size(system, run, length_ft, units)) if run else ()


def _each_size(
    system: System, run: GasRun, length_ft: float, units: Units
) -> Iterator[tuple[str, float]]:
    for said, other in _other_sizes(system, run, units):
        ruled = ruling(system, other, length_ft)
        if isinstance(ruled, Ruling):
            yield said, ruled.table_btuh


def _other_sizes(system: System, run: GasRun, units: Units) -> Iterator[tuple[str, GasRun]]:
    if run.material == "CSST" and system.csst is not None:
        for ehd in table(system.csst).values["ehd"]:
            yield f"EHD {ehd}", run.model_copy(update={"ehd": ehd})
    elif run.material in STEEL:
        for name in table(system.steel).values["sizes"]:
            size = PipeSize(inches_of(name), name)
            yield size_said(size.inches, units), run.model_copy(update={"size": size})


def _steel(system: System, run: GasRun, length_ft: float) -> Ruling | str:
    if run.size is None:
        return "the size of the pipe"
    printed, name = table(system.steel), trade_name(run.size)
    sizes: list[str] = printed.values["sizes"]
    if name not in sizes:
        return f"a column for {run.size}: the table ends at {sizes[-1]}"
    found = _row(printed, sizes.index(name), length_ft)
    if isinstance(found, str):
        return found
    exact = None
    if system.drop_inwc is not None:
        bore = float(table("iron_pipe_bores").values["inches"][name])
        per = table("gas_heat").values["btu_per_cubic_foot"][system.fuel]
        exact = _printed(equation_cfh(bore, system.drop_inwc, length_ft, system.fuel)) * per
    return Ruling(printed, found[0], _btuh(system, found[1]), exact)


def _csst(system: System, run: GasRun, length_ft: float) -> Ruling | str:
    if system.csst is None:
        return "a table for CSST at this pressure; none is kept here"
    if run.ehd is None:
        return "the EHD stamped on the tube"
    printed = table(system.csst)
    columns: list[int] = printed.values["ehd"]
    if run.ehd not in columns:
        return f"a column for EHD {run.ehd}: the table has none"
    if run.ehd in printed.values["look_up_first"]:
        return f"the column of EHD {run.ehd}: the copy kept here is in doubt, look it up in print"
    found = _row(printed, columns.index(run.ehd), length_ft)
    if isinstance(found, str):
        return found
    return Ruling(printed, found[0], _btuh(system, found[1]), None)


def _row(printed: Table, column: int, length_ft: float) -> tuple[int, float] | str:
    """Return the row that rules a length and its figure; nothing is read beyond the last row."""
    rows: dict[int, Any] = printed.values["rows"]
    row = min((ft for ft in rows if ft >= length_ft - TAPED_FT), default=None)
    if row is None:
        return f"a row for {length_ft:.0f} ft: the table kept here ends at {max(rows)} ft"
    return row, float(rows[row][column])


def _printed(figure: float) -> float:
    """Return a figure to three digits, as tables are printed, but never rounded up."""
    step = 10.0 ** (floor(log10(figure)) - 2)
    return floor(figure / step) * step


def _btuh(system: System, figure: float) -> float:
    if system.fuel == "propane":
        return figure * PER_UNIT
    return figure * float(table("gas_heat").values["btu_per_cubic_foot"]["natural gas"])


def equation_cfh(bore_in: float, drop_inwc: float, length_ft: float, fuel: str) -> float:
    """Return the flow in cubic feet an hour by IFGC Equation 4-1 (below 1.5 psi).

    `bore_in` is the true bore in inches, `drop_inwc` the pressure drop in inches of water.
    """
    form = table("gas_equation").values
    head = (drop_inwc / (form["cr"][fuel] * length_ft)) ** form["p"]
    return float((form["k"] * bore_in * head) ** (1 / form["q"]))
