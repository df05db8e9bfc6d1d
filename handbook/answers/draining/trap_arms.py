"""Each trap, its size, and its arm: how far and how steeply it runs to its vent.

The arm is taken to end where the first vented stretch begins that the fixture's waste comes to;
a vent recorded for the fixture itself stands somewhere on its own drain. Lengths are along the
pipe. Water closets siphon themselves by design and have no limit in the tables used here.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from handbook.answers.draining.drain_capacity import least_trap
from handbook.answers.draining.waste import Waste
from handbook.house.sizes import trade_inches, trade_name
from handbook.measures import Length, PipeSize, Slope
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Drains, Stretch
from handbook.record.grammar.fixtures import DrainConnection, Fixture
from handbook.tables import table

Lack = Literal["trap", "size", "length", "slope", "vent", "figure"]
"""What a verdict waits for; `figure`: the table has no row for a trap of that size."""

ROUNDED = 0.005
"""Codes print their lengths in metric rounded: 1829 mm for 6 ft."""

FALL_ROUNDED = 0.04
"""And falls more so: 2 % for 1/4 in per ft, which is 2.08 %."""


@dataclass(frozen=True)
class TrapArm:
    """One fixture's trap and arm. `vent` is the id of the vent that it runs to."""

    fixture: str
    trap: PipeSize | None
    trap_least_in: float | None
    """The smallest trap for such a fixture, in inches; None where the code's table has none."""
    size: PipeSize | None
    length: Length | None
    most: Length | None
    least: Length | None
    fall_in: float | None
    most_fall_in: float | None
    least_slope: Slope | None
    slope: Slope | None
    vent: str | None
    on_own_drain: bool
    """The vent stands on the fixture's own drain, so the arm may be shorter than `length`."""
    lacks: tuple[Lack, ...] = ()

    @property
    def trap_too_small(self) -> bool | None:
        """Whether the trap is smaller than such a fixture's must be."""
        if self.trap is None or self.trap_least_in is None:
            return None
        return trade_inches(self.trap) < self.trap_least_in

    @property
    def too_long(self) -> bool | None:
        """Whether it is too far to the vent."""
        if self.length is None or self.most is None:
            return None
        over = self.length.inches > self.most.inches * (1 + ROUNDED)
        return None if over and self.on_own_drain else over

    @property
    def too_short(self) -> bool | None:
        """Whether there is no room for the vent to stand clear of the trap's own outlet."""
        if self.length is None or self.least is None:
            return None
        return self.length.inches < self.least.inches * (1 - ROUNDED)

    @property
    def falls_too_far(self) -> bool | None:
        """Whether its end lies so low that the vent opens below the trap's weir."""
        if self.fall_in is None or self.most_fall_in is None:
            return None
        over = self.fall_in > self.most_fall_in * (1 + FALL_ROUNDED)
        return None if over and self.on_own_drain else over

    @property
    def too_flat(self) -> bool | None:
        """Whether it falls less than its size needs."""
        if self.slope is None or self.least_slope is None:
            return None
        return self.slope.inches_per_foot < self.least_slope.inches_per_foot * (1 - FALL_ROUNDED)


def trap_arms(waste: Waste) -> tuple[TrapArm, ...]:
    """Return the arm of every fixture with a trap of its own but the water closets, in walking
    order."""
    fixtures = (f for f in waste.fixtures.values() if f.kind != "water closet")
    return tuple(_arm(waste, f) for f in fixtures if waste.has_own_trap(f))


def _arm(waste: Waste, fixture: Fixture) -> TrapArm:
    drain, name = waste.drain(fixture), "trap_arms_upc" if waste.code.upc else "trap_arms"
    printed, size = table(name).values, drain.by.size if drain.by else None
    vent, past = _to_vent(waste, fixture)
    most_ft = printed["most_ft"].get(trade_name(drain.trap)) if drain.trap else None
    inches = trade_inches(size) if size else None
    length, fall = _run(waste, fixture, past)
    return TrapArm(
        fixture.id,
        drain.trap,
        least_trap(waste.code, fixture.kind),
        size,
        length if vent else None,
        None if most_ft is None else Length(12.0 * most_ft),
        None if inches is None else Length(inches * printed["least_diameters"]),
        fall if vent else None,
        None if inches is None else inches * printed["most_fall_diameters"],
        _least_slope(inches),
        drain.slope,
        vent,
        vent in _vents_of(waste, fixture.id),
        tuple(_lacks(waste, fixture, vent, length, most_ft)),
    )


def _lacks(
    waste: Waste, fixture: Fixture, vent: str | None, length: Length | None, most_ft: float | None
) -> Iterator[Lack]:
    drain = waste.drain(fixture)
    if drain.trap is None:
        yield "trap"
    elif most_ft is None:
        yield "figure"
    if drain.by is None or drain.by.size is None:
        yield "size"
    if vent is None:
        yield "vent"
    elif length is None:
        yield "length"
    if drain.slope is None:
        yield "slope"


def _least_slope(inches: float | None) -> Slope | None:
    rows = table("drain_slopes").values
    if inches is None:
        return None
    fits = [row["least_in_per_ft"] for row in rows if row["up_to_in"] >= inches]
    return Slope(fits[0]) if fits else None


def _vents_of(waste: Waste, thing: str) -> tuple[str, ...]:
    drains = waste.house.record.drains or Drains()
    return tuple(vent.id for vent in each(drains.vents) if thing in (vent.serves or ()))


def _to_vent(waste: Waste, fixture: Fixture) -> tuple[str | None, tuple[str, ...]]:
    """Return the vent that an arm runs to, and the unvented stretches that it passes on the way."""
    if own := _vents_of(waste, fixture.id):
        return own[0], ()
    past: list[str] = []
    for name in waste.way(fixture):
        if vents := _vents_of(waste, name):
            return vents[0], tuple(past)
        if waste.stretches[name].kind == "stack":
            break  # an arm ends where its water drops
        past.append(name)
    return None, ()


def _run(
    waste: Waste, fixture: Fixture, past: tuple[str, ...]
) -> tuple[Length | None, float | None]:
    """Return the length of an arm and how far it falls, in inches; None where a piece lacks it."""
    pieces: tuple[DrainConnection | Stretch, ...] = (
        waste.drain(fixture),
        *(waste.stretches[name] for name in past),
    )
    lengths = [piece.by.length if piece.by else None for piece in pieces]
    slopes = [piece.slope for piece in pieces]
    known = [length for length in lengths if length is not None]
    if len(known) < len(pieces):
        return None, None
    falls = [
        length.feet * slope.inches_per_foot
        for length, slope in zip(known, slopes, strict=True)
        if slope is not None
    ]
    total = Length(sum(length.inches for length in known))
    return total, sum(falls) if len(falls) == len(pieces) else None
