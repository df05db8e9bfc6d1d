"""How far it is from a thing to each valve, so that of two equally good valves the nearer wins."""

from collections.abc import Callable
from math import isinf

from handbook.answers.route import anchor
from handbook.house.house import House
from handbook.house.water import LEVER

STEP = 120.0
"""Inches; ten feet more or less are no reason to prefer one valve to another."""


def nearness(house: House, start: str | None) -> Callable[[str], float] | None:
    """How far to walk from a room or thing to a valve, in tens of feet; `inf` where unknown.

    None where the record does not say enough for any distance. Nothing is measured before the
    first valve is asked about; what is common to all valves is then worked out once.
    """
    if start is None:
        return None
    here = anchor(house, start)
    if here.zone is None or house.plan.zones[here.zone].space is None:
        return None

    def far(valve: str) -> float:
        inches = house.plan.walks.distance(here, anchor(house, valve.removesuffix(LEVER)))
        return inches if isinf(inches) else round(inches / STEP)

    return far
