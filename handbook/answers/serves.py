"""What one thing stands for: what a valve stops, what gas a shutoff feeds, what a drain carries.

Where `isolate` asks "this leaks, what do I close?", these ask the other way round: "I have my hand
on this valve (or this cleanout), what hangs on it?" That is what a tag and a valve schedule say.
"""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from handbook.answers.heating.at_rest import without_water
from handbook.answers.isolating.words import said_lost
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.water import LEVER
from handbook.record.grammar.common import each, given
from handbook.record.grammar.fixtures import Fixture, GasConnection
from handbook.record.grammar.gas import Appliance, Gas
from handbook.record.grammar.heaters import Heater


@dataclass(frozen=True)
class Stopped:
    """What closing one water valve does, with every other valve standing as it usually does."""

    supplies: tuple[str, ...]
    """Ids of the supplies that run dry (`hall-lav.hot`)."""
    said: tuple[str, ...]
    """The same as people say it; equipment that runs dry where no supply does; may be empty."""
    heater: tuple[str, ...]
    """What to do with each heater that then gets no water."""


def stops(house: House, valve: str) -> Stopped:
    """Return what closing this valve alone shuts off; nothing for one stuck or kept closed."""
    network = house.water.network
    alone = frozenset(node for port in network.handles.get(valve, ()) for node in port.only_for)
    standing = network.standing(alone)
    before = network.downstream(network.sources, standing.barred())
    after = network.downstream(network.sources, standing.barred((valve,), (valve + LEVER,)))
    lost = [supply.id for supply in network.supplies if supply.node in before - after]
    heaters = heaters_without_water(house, before - after)
    dry = all_dry(house, heaters)
    said = said_lost(house, frozenset(lost), heaters_dry=dry, closed=(valve,))
    return Stopped(tuple(lost), said or tuple(_dried(house, valve, before, after)), heaters)


def _dried(house: House, valve: str, before: set[str], after: set[str]) -> Iterator[str]:
    """Name the equipment that is wet before and dry after, as `water to the pump`."""
    for thing, nodes in house.water.bodies.items():
        item = house.items.get(thing)
        if thing == valve or item is None or item.kind in {"shutoff", "stop", "tee"}:
            continue
        if nodes & before and not nodes & after:
            yield f"water to: {item.name}"


def all_dry(house: House, heaters: Sequence[str]) -> bool:
    """Whether these are all the heaters that are recorded to get water."""
    fed = [heater for heater in each(house.record.heaters) if heater.cold is not None]
    return len(heaters) >= len(fed)


def heaters_without_water(house: House, dry: AbstractSet[str]) -> tuple[str, ...]:
    """Say what each heater needs that stands among the nodes that ran dry."""
    return tuple(
        f"{house.called(heater.id)}: {without_water(house, heater)}"
        for heater in each(house.record.heaters)
        if heater.id in dry
    )


def gas_served(house: House, thing: str) -> tuple[Item, ...]:
    """Return the appliances and outlets whose gas passes this thing, in walking order.

    All gas passes the meter, whether or not each run's beginning is recorded.
    """
    ends = dict(_gas_ends(house))
    if _at_meter(house, thing):
        return tuple(house.items[end] for end in ends)
    upstream = _gas_upstream(house)
    return tuple(house.items[end] for end, first in ends.items() if thing in _way(first, upstream))


def passes_all_gas(house: House, thing: str) -> bool:
    """Whether a thing is the gas meter, its shutoff, or a valve recorded as the main one."""
    valves = each((given(house.record.gas) or Gas()).valves)
    return _at_meter(house, thing) or any(it.main for it in valves if it.id == thing)


def _at_meter(house: House, thing: str) -> bool:
    meter = (given(house.record.gas) or Gas()).meter
    stop = given(meter.shutoff) if meter else None
    return meter is not None and thing in (meter.id, stop.id if stop else None)


def gas_users(house: House) -> tuple[tuple[str, GasConnection], ...]:
    """Return (id, connection) of everything that burns gas, in walking order."""
    gas = given(house.record.gas) or Gas()
    owners: tuple[Heater | Fixture | Appliance, ...] = (
        *each(house.record.heaters),
        *each(house.record.fixtures),
        *each(gas.appliances),
    )
    return tuple((owner.id, line) for owner in owners if (line := given(owner.gas)))


def _gas_ends(house: House) -> Iterator[tuple[str, str]]:
    """Yield (id of what burns or may burn gas, id of its shutoff or else its own)."""
    for owner, connection in gas_users(house):
        shutoff = given(connection.shutoff)
        yield owner, shutoff.id if shutoff else owner
    gas = given(house.record.gas) or Gas()
    for outlet in each(gas.outlets):
        shutoff = given(outlet.shutoff)
        yield outlet.id, shutoff.id if shutoff else outlet.id


def _gas_upstream(house: House) -> dict[str, str]:
    """Return what feeds each thing on the gas line; a shutoff is fed by what feeds its owner."""
    gas = given(house.record.gas) or Gas()
    feeds: dict[str, str | None] = {}
    for fed in (*each(gas.regulators), *each(gas.valves), *each(gas.tees), *each(gas.outlets)):
        feeds[fed.id] = fed.from_
    for outlet in each(gas.outlets):
        if shutoff := given(outlet.shutoff):
            feeds[shutoff.id] = outlet.from_
    for owner, connection in gas_users(house):
        shutoff = given(connection.shutoff)
        feeds[shutoff.id if shutoff else owner] = connection.from_
    return {thing: from_ for thing, from_ in feeds.items() if from_}


def _way(start: str, onward: dict[str, str]) -> tuple[str, ...]:
    """Return the ids met from `start` on; a record that leads in a circle is walked once."""
    met = [start]
    while (following := onward.get(met[-1])) and following not in met:
        met.append(following)
    return tuple(met)


def drained_through(house: House, stretch: str) -> tuple[Item, ...]:
    """Return the fixtures whose waste passes this stretch of drain, in walking order."""
    tree = house.drains
    return tuple(house.items[f] for f in tree.through(stretch)) if stretch in tree.legs else ()
