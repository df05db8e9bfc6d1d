"""Figures that no house can have: they are slips of the pen, and would be reckoned with."""

from collections.abc import Iterator

from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.record import Record
from handbook.record.problems import Problem

FREEZES_F, BOILS_F = 32.0, 212.0
"""Where water is no longer water, by the definition of the scale."""


def check_figures(record: Record) -> Iterator[Problem]:
    """Yield a problem for each figure that cannot be."""
    for heater in each(record.heaters):
        yield from _heater(heater)


def _heater(heater: Heater) -> Iterator[Problem]:
    if heater.setting and not FREEZES_F < heater.setting.fahrenheit < BOILS_F:
        yield Problem(
            heater.mark_of("setting"),
            f"`{heater.id}` cannot be set to {heater.setting.text or heater.setting.fahrenheit}: "
            "its water would freeze or boil",
            "write what its dial or display says, with the unit: `120 F`, `49 C`",
        )
    tank = given(heater.expansion_tank)
    holds = ((heater, "capacity", heater.capacity), (tank, "size", tank.size if tank else None))
    for thing, field, volume in holds:
        if thing and volume and not volume.gallons:
            yield Problem(
                thing.mark_of(field),
                f"`{thing.id}` cannot hold nothing",
                "write what its badge says, like `50 gal`, or leave it out",
            )
