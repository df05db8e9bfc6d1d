"""The assumed feeds that an answer about a leak leans on."""

from collections.abc import Sequence

from handbook.answers.isolating.rungs import Rung
from handbook.house.house import House
from handbook.house.water import fed_through


def assumed(house: House, targets: frozenset[str], rungs: Sequence[Rung]) -> tuple[str, ...]:
    """Return the assumed feeds that an answer leans on: the thing's own, and those of a loss."""
    network = house.water.network
    lost = {supply for rung in rungs for supply in rung.also_off}
    losers = {supply.node for supply in network.supplies if supply.id in lost}
    leaning = fed_through(house.water, targets | losers)
    return tuple(said for node, said in house.water.assumed.items() if node in leaning)
