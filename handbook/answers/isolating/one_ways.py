"""Which check valves a closed valve counts on: without them the water would come in from behind.

A loop is fed from both ends, but for the check valve in it. Whoever closes the one end trusts
that nothing comes back through the other; a check valve that no longer holds is found only then.
"""

from collections.abc import Collection
from dataclasses import replace

from handbook.answers.isolating import ladder
from handbook.house.house import House
from handbook.house.network import Network, Pipe
from handbook.house.once import once


def counted_on(
    house: House,
    targets: frozenset[str],
    close: Collection[str],
    opened: Collection[str],
    failed: frozenset[str],
) -> tuple[str, ...]:
    """Return the ids of the things that must let no water back, so that this step stops it."""
    return tuple(
        thing
        for thing, network in _as_if_failed(house).items()
        if not ladder.cuts(network, targets, close, opened, failed)
    )


@once
def _as_if_failed(house: House) -> dict[str, Network]:
    """For each recorded thing that passes water one way only: the network if it passed it back."""
    network = house.water.network
    things = dict.fromkeys(
        pipe.id for pipe in network.pipes if pipe.one_way and pipe.id in house.items
    )
    return {thing: replace(network, pipes=_both_ways(network, thing)) for thing in things}


def _both_ways(network: Network, thing: str) -> tuple[Pipe, ...]:
    return tuple(
        replace(pipe, one_way=False) if pipe.id == thing else pipe for pipe in network.pipes
    )
