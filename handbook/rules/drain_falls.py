"""Rule for the recorded heights of drains: none begins lower than what it runs into."""

from collections.abc import Iterator
from fractions import Fraction

from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Stretch
from handbook.rules import facts
from handbook.rules.drains import stretches
from handbook.rules.looks import drains
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Outcome, rule, told

READ_TO = 0.25
"""Inches by which two inverts may seem to rise because each was read to the quarter inch."""


@rule(
    "DR-12",
    "drain-runs-uphill",
    "fault",
    why="Waste does not run uphill: it stands in the pipe until the pipe is full.",
    remedy="Measure both inverts again, at the upper end of each stretch; if they are right, have "
    "the pipe hung or laid again.",
    stages=("rough-in", "top-out"),
    source=PRACTICE,
)
def drain_runs_uphill(house: House) -> Iterator[Outcome]:
    """No stretch of drain begins lower than the one that it runs into, unless it is pumped."""
    yield from told(drains(house).stretches, facts.STRETCHES)
    pumped = {e.on for e in each(drains(house).equipment) if e.kind == "sewage ejector"}
    by_id = stretches(house)
    for stretch in by_id.values():
        below = by_id.get(stretch.to or "")
        if below is not None and stretch.id not in pumped:
            yield _falls(house, stretch, below)


def _falls(house: House, stretch: Stretch, below: Stretch) -> Outcome:
    if stretch.invert is None or below.invert is None:
        lacks = stretch if stretch.invert is None else below
        return CannotTell(facts.STRETCH_INVERT, lacks.id)
    rise = below.invert.inches - stretch.invert.inches
    if rise <= READ_TO:
        return Clear(stretch.id)
    high = say_length(Length(rise), house.record.house.units, Fraction(1, 4))
    said = f"{house.called(stretch.id)} begins {high} lower than {house.called(below.id)}, "
    return Broken(stretch.id, f"{said}which it runs into", stretch.mark_of("invert"))


RULES = (drain_runs_uphill,)
