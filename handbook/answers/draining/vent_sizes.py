"""Each vent's size against the drains it serves and its length.

A vent is at least half the drain that the code would ask for, not half of what happens to be
there; a long one is a size larger. One that others join serves what they serve too. The UPC also
limits what a vent carries and how long it runs.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from handbook.answers.draining.drain_units import units_of
from handbook.answers.draining.stretch_loads import required_inches
from handbook.answers.draining.waste import Waste
from handbook.house.sizes import inches_of, trade_inches
from handbook.measures import Length, PipeSize
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Drains, Vent
from handbook.tables import table

Lack = Literal["serves", "size", "length", "drain size"]
"""What a verdict waits for: which drains it serves, its own size or length, or how large a drain
the code would ask for."""


@dataclass(frozen=True)
class VentSize:
    """One vent. Sizes it needs are in inches: if it is short, and if it is longer than `long`;
    infinite where the table has none that would do."""

    id: str
    size: PipeSize | None
    length: Length | None
    needs_in: float | None
    needs_if_long_in: float | None
    lacks: tuple[Lack, ...] = ()

    @property
    def too_small(self) -> bool | None:
        """Whether it is smaller than it must be; None where that cannot be told."""
        if self.size is None or self.needs_in is None or self.needs_if_long_in is None:
            return None
        inches = trade_inches(self.size)
        if inches >= self.needs_if_long_in:
            return False
        if inches < self.needs_in:
            return True
        return None if self.length is None else self.is_long

    @property
    def is_long(self) -> bool:
        """Whether it is so long that it must be a size larger; a length not recorded is not."""
        longest = table("vent_sizes").values["longer_than_ft"]
        return self.length is not None and self.length.feet > longest

    @property
    def needs(self) -> float | None:
        """The least size, in inches, for the length recorded."""
        return self.needs_if_long_in if self.is_long else self.needs_in


def vent_sizes(waste: Waste) -> tuple[VentSize, ...]:
    """Return every vent, in the order of the record."""
    drains = waste.house.record.drains or Drains()
    return tuple(_vent(waste, vent) for vent in each(drains.vents))


def _vent(waste: Waste, vent: Vent) -> VentSize:
    drains = [_required(waste, thing) for thing in _serves(waste, vent)]
    known = [inches for inches in drains if inches is not None]
    lacks = tuple(_lacks(waste, vent, len(known) == len(drains)))
    if not drains or len(known) < len(drains):
        return VentSize(vent.id, vent.size, vent.length, None, None, lacks)
    rule = table("vent_sizes").values
    half = max(rule["least_in"], max(known) * rule["of_the_drain"])
    short, long = _sizes_from(half)
    if waste.code.upc:
        short = long = max(short, _upc(waste, vent))
    return VentSize(vent.id, vent.size, vent.length, short, long, lacks)


def _serves(waste: Waste, vent: Vent) -> tuple[str, ...]:
    """Return what a vent serves, and what the vents that join it do; no circle gets here."""
    others = each((waste.house.record.drains or Drains()).vents)
    joining = [name for other in others if other.to == vent.id for name in _serves(waste, other)]
    return tuple(dict.fromkeys((*(vent.serves or ()), *joining)))


def _lacks(waste: Waste, vent: Vent, sized: bool) -> Iterator[Lack]:
    if not _serves(waste, vent):
        yield "serves"
    elif not sized:
        yield "drain size"
    if vent.size is None:
        yield "size"
    if vent.length is None:
        yield "length"


def _required(waste: Waste, thing: str) -> float | None:
    """Return the drain that the code asks for where a vent serves: a stretch's, or a trap's."""
    if thing in waste.stretches:
        return required_inches(waste, waste.stretches[thing])
    trap = waste.drain(waste.fixtures[thing]).trap if thing in waste.fixtures else None
    return trade_inches(trap) if trap else None


def _sizes_from(inches: float) -> tuple[float, float]:
    """Return the nominal size that is at least so large, and the next one up."""
    sizes = table("vent_sizes").values["sizes_in"]
    larger = [size for size in sizes if size >= inches]
    return larger[0], larger[1]


def _upc(waste: Waste, vent: Vent) -> float:
    """Return the smallest size that carries the vent's fixture units over its length."""
    names = _serves(waste, vent)
    served = {f.id: f for name in names for f in waste.through(name)}
    served |= {name: waste.fixtures[name] for name in names if name in waste.fixtures}
    units = units_of(served.values(), waste.code).least
    feet = vent.length.feet if vent.length else 0
    rows = table("drain_and_vent_capacity_upc").values["units"]
    fits = [n for n, row in rows.items() if row["vent"] >= units and row["vent_most_ft"] >= feet]
    return inches_of(fits[0]) if fits else float("inf")
