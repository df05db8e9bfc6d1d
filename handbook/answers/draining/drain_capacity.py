"""How many drainage fixture units a drain of a size and a fall may carry, by the code of the house.

A figure is read from the row of the size and the column of the fall, or of the next flatter fall
that the table prints; nothing is read between sizes or beyond the table's ends.
"""

from dataclasses import dataclass
from typing import Literal

from handbook.answers.draining.drain_units import Code
from handbook.house.sizes import inches_of
from handbook.measures import Slope
from handbook.tables import table

Column = Literal["branch", "stack", "building drain"]
"""A branch that runs into the building drain, not into a stack, is in the building drain's table.
The UPC has two columns: `stack` is its vertical one, the others are horizontal."""

FALL_ROUNDED = 0.04
"""Metric records print falls rounded: 2 % for 1/4 in per ft, which is 2.08 %."""


@dataclass(frozen=True)
class Capacity:
    """What a row allows: fixture units, and water closets where the table limits them."""

    units: int
    closets: int | None = None


def capacity(code: Code, column: Column, size: str, slope: Slope | None) -> Capacity | None:
    """Return what a trade size carries; None where the table has no figure for it.

    A branch and a stack have no fall in the ICC's tables. Raises ValueError where one is needed
    and None is given; ask `needs_slope` first.
    """
    if needs_slope(code, column) and slope is None:
        raise ValueError(f"a {column} is read by its fall")
    if code.upc:
        return _upc(column, size, slope)
    if column == "building drain" and slope is not None:
        return _building_drain(size, slope)
    row = table("branch_and_stack_capacity").values.get(size)
    return Capacity(row[column]) if row else None


def needs_slope(code: Code, column: Column) -> bool:
    """Whether the figure depends on the fall."""
    return column != "stack" if code.upc else column == "building drain"


def source(code: Code, column: Column) -> str:
    """Return the table that the figure is read from, as it is cited."""
    if code.upc:
        return table("drain_and_vent_capacity_upc").cited
    building = column == "building drain"
    return table("building_drain_capacity" if building else "branch_and_stack_capacity").cited


def _building_drain(size: str, slope: Slope) -> Capacity | None:
    printed = table("building_drain_capacity").values
    row = printed["units"].get(size)
    reached = [
        index
        for index, fall in enumerate(printed["falls_in_per_ft"])
        if slope.inches_per_foot >= fall * (1 - FALL_ROUNDED)
    ]
    units = row[reached[-1]] if row and reached else None
    return None if units is None else Capacity(units)


def _upc(column: Column, size: str, slope: Slope | None) -> Capacity | None:
    printed, way = table("drain_and_vent_capacity_upc").values, "horizontal"
    if column == "stack":
        way = "vertical"
    elif slope and slope.inches_per_foot < printed["fall_in_per_ft"] * (1 - FALL_ROUNDED):
        return None
    row = printed["units"].get(size)
    closets = printed["closets"].get(size, {}).get(way)
    return Capacity(row[way], closets) if row else None


def least_size(code: Code, column: Column, slope: Slope | None, units: int) -> float | None:
    """Return the smallest size, in inches, that carries so many units; None: none printed does."""
    if needs_slope(code, column) and slope is None:
        return None
    for size in table("building_drain_capacity").values["units"]:
        found = capacity(code, column, size, slope)
        if found and found.units >= units:
            return inches_of(size)
    return None


def least_trap(code: Code, kind: str) -> float | None:
    """Return the smallest trap for a kind of fixture, in inches; None where no table gives one.

    No table of the IPC's own was read.
    """
    if code.name == "IPC":
        return None
    least: float | None = table(f"trap_sizes_{code.name.lower()}").values.get(kind)
    return least
