"""Each stretch of gas pipe: its load, the developed length that rules it, and what it can carry.

The longest-length method: one length for every stretch at one pressure, from where that pressure
begins to the farthest outlet; the load of each stretch is all that burns behind it, at full input.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from handbook.answers.gas_sizing.gas_pressure import system_of
from handbook.answers.gas_sizing.gas_tables import System, ruling, sizes_that_carry
from handbook.house.gas import GasNode, GasTree
from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.record.grammar.gas import Gas
from handbook.tables import table

Method = Literal["table", "equation"]


@dataclass(frozen=True)
class GasRunSize:
    """The pipe that ends at a thing. Rates in Btu an hour, lengths in feet; None is not known.

    `length_ft` is the developed length that rules it, `row_ft` the table's row for that, `by`
    whether the row or the code's equation gave the capacity, and `row_btuh` what the row gives;
    `unknown` says what is missing.
    `whole`: all that burns behind it is known; else its load is the least that it may be.
    `sizes` are the tabulated sizes of its material and what each carries there, smallest first.
    """

    id: str
    name: str
    load_btuh: float
    run_ft: float | None
    length_ft: float | None
    capacity_btuh: float | None = None
    by: Method | None = None
    table: str = ""
    row_ft: int | None = None
    row_btuh: float | None = None
    unknown: str = ""
    whole: bool = True
    sizes: tuple[tuple[str, float], ...] = ()

    def needs(self, load_btuh: float) -> str | None:
        """Return the smallest tabulated size that carries a load; None where none does."""
        return next((size for size, carries in self.sizes if carries >= load_btuh), None)

    @property
    def margin_btuh(self) -> float | None:
        """What may be added by the table's row; below zero where it is over that.

        The equation lets a pipe stay that has more on it than its row; it promises nothing more.
        """
        if self.row_btuh is None or not self.whole:
            return None
        return self.row_btuh - self.load_btuh

    @property
    def over(self) -> bool:
        """Whether its load is more than it can carry, as far as that is known."""
        return self.capacity_btuh is not None and self.load_btuh > self.capacity_btuh


@dataclass
class Found:
    """What came up on the way: gathered in order, each once."""

    assumed: dict[str, None]
    missing: dict[str, None]


def run_sizes(
    house: House, gas: Gas, added: Mapping[str, float], found: Found
) -> tuple[GasRunSize, ...]:
    """Return every stretch, in the order of the record."""
    tree = house.gas
    loads = load_of(tree, added)
    sized: dict[str, GasRunSize] = {}
    for head in tree.heads:
        system = system_of(gas, head, found.assumed)
        if isinstance(system, str):
            found.missing[system] = None
        longest = _longest(house, gas, head, found)
        for node in tree.zone(head.id):
            sized[node.id] = _sized(house, node, loads[node.id], system, longest)
            if isinstance(system, System) and sized[node.id].unknown and longest:
                hole = f"{sized[node.id].unknown} (the pipe to {house.called(node.id)})"
                found.missing[hole] = None
    for node in tree.nodes.values():
        if node.kind != "meter" and node.id not in sized:
            sized[node.id] = _apart(house, node, loads[node.id])
    return tuple(sized[name] for name in tree.nodes if name in sized)


def load_of(tree: GasTree, added: Mapping[str, float]) -> dict[str, float]:
    """Return for each node all that burns behind it at full input, in Btu an hour."""
    loads = dict.fromkeys(tree.nodes, 0.0)
    for node in tree.nodes.values():
        own = (node.input.btu_h if node.input else 0.0) + added.get(node.id, 0.0)
        for upper in tree.above(node.id):
            loads[upper.id] += own
    return loads


def _longest(house: House, gas: Gas, head: GasNode, found: Found) -> float | None:
    """Return the developed length from a head to its farthest outlet or regulator, in feet."""
    tree, units = house.gas, house.record.house.units
    lengths: list[float] = []
    holes: dict[str, None] = {}
    for node in tree.zone(head.id):
        way = [each.length_ft for each in tree.stretch(node.id)]
        if None in way:
            gaps = [each for each in tree.stretch(node.id) if each.length_ft is None]
            holes |= {gap.id: None for gap in gaps}
        else:
            lengths.append(sum(feet for feet in way if feet is not None))
    alone = len(tree.heads) == 1
    taped = gas.longest.feet if gas.longest and alone else None
    summed = max(lengths, default=0.0)
    if holes and taped is None:
        for hole in holes:
            found.missing[f"the length of the pipe to {house.called(hole)}"] = None
        return None
    if taped is None:
        return summed
    if holes:
        found.assumed["the recorded longest length, since not every pipe's own is recorded"] = None
    elif abs(taped - summed) > 0.5:
        said = f"{say_length(Length(12 * summed), units)} along the recorded pipes, "
        said += f"{say_length(Length(12 * taped), units)} as measured: the greater length"
        found.assumed[said] = None
    return max(taped, summed)


def _sized(
    house: House, node: GasNode, load: float, system: System | str, longest: float | None
) -> GasRunSize:
    size = GasRunSize(
        node.id,
        house.items[node.id].name,
        load,
        node.length_ft,
        longest,
        whole=_whole(house.gas, node),
    )
    if isinstance(system, str):
        return replace(size, unknown=system)
    if longest is None:
        return replace(size, unknown="the longest length from where the pressure begins")
    ruled = ruling(system, node.run, longest)
    if isinstance(ruled, str):
        return replace(size, unknown=ruled)
    exact = ruled.exact_btuh or 0.0
    by: Method = "equation" if ruled.table_btuh < load <= exact else "table"
    return replace(
        size,
        capacity_btuh=exact if by == "equation" else ruled.table_btuh,
        by=by,
        table=ruled.table.name,
        row_ft=ruled.row_ft,
        row_btuh=ruled.table_btuh,
        sizes=sizes_that_carry(system, node.run, longest, house.record.house.units),
    )


def _whole(tree: GasTree, node: GasNode) -> bool:
    below = (each for each in tree.below(node.id) if each.kind == "appliance")
    return tree.placed and all(each.input for each in below)


def _apart(house: House, node: GasNode, load: float) -> GasRunSize:
    """Return a pipe that no recorded feed joins to the meter."""
    name, hole = house.items[node.id].name, "the way back to the meter"
    return GasRunSize(node.id, name, load, node.length_ft, None, unknown=hole, whole=False)


def many_fittings(house: House) -> dict[str, int]:
    """Return the stretches with so many fittings that the method would add length for them."""
    least = int(table("gas_method").values["fittings_from"])
    counted = {}
    for node in house.gas.nodes.values():
        fittings = node.run.fittings if node.run else None
        if fittings:
            kinds = ("ell_90", "ell_45", "tee_run", "tee_branch", "coupling")
            counted[node.id] = sum(getattr(fittings, kind) or 0 for kind in kinds)
    return {name: count for name, count in counted.items() if count >= least}
