"""How much each stretch of drain is loaded, against what its size and fall may carry.

The load is what drains through the stretch, in the fixture units of the code that the record
names. Where the record has holes the load is a range: `least` from what surely drains through it,
`most` with every fixture whose way down is not recorded.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from handbook.answers.draining.drain_capacity import (
    Column,
    capacity,
    least_size,
    least_trap,
    needs_slope,
    source,
)
from handbook.answers.draining.drain_units import Addend, Units, addends, units_of
from handbook.answers.draining.waste import Waste
from handbook.house.sizes import trade_name
from handbook.measures import PipeSize, Slope
from handbook.record.grammar.drains import Stretch
from handbook.record.grammar.fixtures import Fixture
from handbook.tables import table

Lack = Literal["kind", "size", "slope", "to", "fixture drains", "rooms", "units", "figure"]
"""What a verdict waits for: a fact of the stretch or of what it runs into; the drain of a fixture;
the rooms of fixtures that may be a group; a row for a fixture, or a figure for this size."""


@dataclass(frozen=True)
class StretchLoad:
    """One stretch. `allowed` is None where something lacks; `missing` says it in words."""

    id: str
    name: str
    kind: str | None
    size: PipeSize | None
    slope: Slope | None
    fixtures: tuple[str, ...]
    """Ids of the fixtures that drain through it, in walking order."""
    load: Units
    closets: tuple[int, int]
    """Water closets on it: at least, and at most."""
    sum_of: tuple[Addend, ...]
    """What the load is the sum of; nothing where it is a range."""
    column: Column | None
    allowed: int | None = None
    closets_allowed: int | None = None
    lacks: tuple[Lack, ...] = ()
    missing: tuple[str, ...] = ()
    source: str = ""

    @property
    def fits(self) -> bool | None:
        """Whether it may carry its load; None where that cannot be told."""
        if self.allowed is None:
            return None
        closets = float("inf") if self.closets_allowed is None else self.closets_allowed
        if self.load.least > self.allowed or self.closets[0] > closets:
            return False
        if self.load.most is None or self.load.most > self.allowed or self.closets[1] > closets:
            return None
        return True

    @property
    def left(self) -> int | None:
        """Fixture units that could still be added; below zero where it is overloaded."""
        if self.allowed is None or self.load.most is None:
            return None
        return self.allowed - self.load.most


def stretch_loads(waste: Waste) -> tuple[StretchLoad, ...]:
    """Return the load of every stretch of drain, in the order of the record."""
    return tuple(_load(waste, stretch) for stretch in waste.stretches.values())


def _load(waste: Waste, stretch: Stretch) -> StretchLoad:
    passing, astray = waste.through(stretch.id), waste.astray(stretch.id)
    column, load = waste.column(stretch), _range(waste, passing, astray)
    size = stretch.by.size if stretch.by else None
    lacks = tuple(_lacks(waste, stretch, passing, astray))
    readable = column and size and not (needs_slope(waste.code, column) and stretch.slope is None)
    found = None
    if readable and column and size:
        found = capacity(waste.code, column, trade_name(size), stretch.slope)
        lacks += () if found else ("figure",)
    return StretchLoad(
        stretch.id,
        waste.house.items[stretch.id].name,
        stretch.kind,
        size,
        stretch.slope,
        tuple(fixture.id for fixture in passing),
        load,
        (_closets(passing), _closets((*passing, *astray))),
        addends(passing, waste.code) if load.least == load.most else (),
        column,
        found.units if found else None,
        found.closets if found else None,
        lacks,
        tuple(_words(waste, lack, passing, astray) for lack in lacks),
        source(waste.code, column) if column else "",
    )


def _closets(fixtures: tuple[Fixture, ...]) -> int:
    return sum(fixture.kind == "water closet" for fixture in fixtures)


def _range(waste: Waste, passing: tuple[Fixture, ...], astray: tuple[Fixture, ...]) -> Units:
    surely = units_of(passing, waste.code)
    also = [units_of((fixture,), waste.code).most for fixture in astray]
    if surely.most is None or None in also:
        return Units(surely.least, None)
    return Units(surely.least, surely.most + sum(units or 0 for units in also))


def _lacks(
    waste: Waste, stretch: Stretch, passing: tuple[Fixture, ...], astray: tuple[Fixture, ...]
) -> Iterator[Lack]:
    column = waste.column(stretch)
    if stretch.kind is None:
        yield "kind"
    elif column is None:
        yield "to"
    if stretch.by is None or stretch.by.size is None:
        yield "size"
    if column and needs_slope(waste.code, column) and stretch.slope is None:
        yield "slope"
    if astray:
        yield "fixture drains"
    together = units_of(passing, waste.code)
    if together.most is not None and together.least < together.most:
        yield "rooms"
    if any(units_of((fixture,), waste.code).most is None for fixture in (*passing, *astray)):
        yield "units"


def _words(
    waste: Waste, lack: Lack, passing: tuple[Fixture, ...], astray: tuple[Fixture, ...]
) -> str:
    """Say what is needed."""
    match lack:
        case "to":
            return "what it runs into, down to a stack or the building drain, and of what kind"
        case "fixture drains":
            names = ", ".join(waste.house.items[fixture.id].name for fixture in astray)
            return f"where the waste goes of: {names}"
        case "units":
            fixtures = [f for f in (*passing, *astray) if units_of((f,), waste.code).most is None]
            names = ", ".join(waste.house.items[fixture.id].name for fixture in fixtures)
            return f"a row for these in {waste.code.units.cited}: {names}"
        case "rooms":
            return "which room each fixture on it stands in: a group counts less"
        case "figure":
            return "a figure in the code's table for this size and fall"
    return f"its {lack}"


def required_inches(waste: Waste, stretch: Stretch) -> float | None:
    """Return the smallest drain that the code would ask for here, in inches; None: not known.

    It carries the load, is as large as the traps that must stand above it and, below a water
    closet, as large as the closet's own drain must be.
    """
    passing, column = waste.through(stretch.id), waste.column(stretch)
    load = _range(waste, passing, waste.astray(stretch.id))
    if column is None or load.most is None:
        return None
    least = least_size(waste.code, column, stretch.slope, load.most)
    if least is None:
        return None
    traps = [least_trap(waste.code, fixture.kind) or 0 for fixture in passing]
    closet = table("closet_drains").values["least_in"] if _closets(passing) else 0
    return max(least, closet, *traps)
