"""What still runs out once a valve is shut: what stands above the hole and stays joined to it.

A heater that leaks empties as well. How long it takes depends on the air that can get in, so only
the least time is said.
"""

from dataclasses import dataclass
from math import sqrt

from handbook.answers.flowing.standing_water import height, standing
from handbook.answers.isolating.rungs import Rung
from handbook.house.house import House
from handbook.record.grammar.common import each
from handbook.tables import table


@dataclass(frozen=True)
class After:
    """What still runs out once a rung is closed, from what stays joined to the hole above it.

    `gallons` counts what has recorded heights and sizes, `at_most` the rest too. `seconds` is the
    least time that it takes; None where nothing is known to stand above.
    """

    gallons: float
    at_most: float
    seconds: float | None


@dataclass(frozen=True)
class Hole:
    """Where water runs out: the thing that failed, the end of pipe `at` it, and its bore."""

    thing: str
    at: str
    bore_in: float


def after(house: House, hole: Hole, rung: Rung, failed: frozenset[str]) -> After:
    """Add up what stands above the hole in the pipes that stay joined to it.

    `failed` are the valves of the rungs before this one, which did not hold.
    """
    network, pipes = house.water.network, house.hydraulics
    body = house.water.bodies.get(hole.thing) or frozenset({hole.at})
    barred = network.standing(body, failed).barred(rung.close, rung.open)
    joined = network.upstream(body, barred)
    level = height(pipes, hole.at)
    stands = standing(pipes, joined, level)
    tank, perhaps = _tanks(house, hole, joined, level)
    seconds = least_seconds(stands.gallons, hole.bore_in, stands.top_ft)
    sure = stands.gallons + tank
    return After(sure, sure + stands.unsure + perhaps, seconds)


def _tanks(house: House, hole: Hole, joined: set[str], level: float | None) -> tuple[float, float]:
    """Return what a leaking heater holds, and what heaters above the hole may send by siphon."""
    own, others = 0.0, 0.0
    for heater in each(house.record.heaters):
        foot = house.hydraulics.heights.get(heater.id)
        if heater.capacity is None:
            continue
        if heater.id == hole.thing:
            own = heater.capacity.gallons
        elif heater.id in joined and foot is not None and level is not None and foot >= level:
            others += heater.capacity.gallons
    return own, others


def least_seconds(gallons: float, bore_in: float, head_ft: float) -> float | None:
    """Return the least time: the open end's flow under half of the standing head."""
    if gallons <= 0 or head_ft <= 0:
        return None
    opening = table("openings").values
    psi = table("water_head").values["psi_per_ft"] * head_ft / 2
    gpm: float = opening["constant"] * opening["open_end"] * bore_in**2 * sqrt(psi)
    return gallons / gpm * 60
