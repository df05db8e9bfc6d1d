"""What has to be dry: the nodes of the water network that a question about a leak means."""

from handbook.answers.isolating.ladder import cuts
from handbook.answers.not_asked import no_thing, no_water
from handbook.house.drains import FLOOR_DRAIN
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.water import LEVER, pipe_ends

WHOLE = "house"
PIPE_TO = "pipe to "


def things_with_water(house: House) -> tuple[str, ...]:
    """Return the id of every thing that can be asked about, in walking order."""
    return tuple(name for name in house.items if name in house.water.bodies)


def targets_of(
    house: House, thing: str
) -> tuple[str, frozenset[str], frozenset[str], tuple[str, ...]]:
    """Return the thing's name, wet nodes, unusable valves, and what had to be assumed."""
    water = house.water
    if thing == WHOLE:
        node, said = _after_mains(house)
        return "the whole house", node, frozenset(), said
    if thing.startswith(PIPE_TO):
        end = thing.removeprefix(PIPE_TO)
        stretch = next((s for s in pipe_ends(water) if s in (f"{end}.in", end)), None)
        if stretch is not None:
            return f"pipe to {house.called(end)}", frozenset({stretch}), frozenset(), ()
    item = house.items.get(thing)
    if item is None:
        raise no_thing(house, thing, things_with_water(house))
    if thing not in water.bodies:
        raise no_water(item)
    if _is_drain(house, item):
        return item.name, frozenset(), frozenset(), ()
    if item.kind in {"shutoff", "stop"}:
        return item.name, water.bodies[thing], frozenset({thing, thing + LEVER}), ()
    if item.system == "fixture" and thing not in water.own:
        node, said = _after_mains(house)
        guess = f"What feeds {item.name} is not recorded: the whole house is stopped."
        return item.name, node, frozenset(), (guess, *said)
    return item.name, water.bodies[thing], frozenset(), ()


def _is_drain(house: House, item: Item) -> bool:
    """Whether a fixture takes water and is led none."""
    return item.kind == FLOOR_DRAIN and item.id not in house.water.own


def kept_off(house: House, targets: frozenset[str], failed: frozenset[str]) -> tuple[str, ...]:
    """Return the closed valves that keep the water from what is dry as they stand, and no more:
    with these open, and every other left as it stands, it would arrive."""
    network = house.water.network
    barred = network.standing(targets, failed).barred()
    found = [valve for valve in dict.fromkeys(network.way(targets, ())) if valve in barred]
    for valve in tuple(found):
        shut = barred - {other for other in found if other != valve}
        if not targets.isdisjoint(network.downstream(network.sources, shut)):
            found.remove(valve)  # such as a bypass, round which the water comes anyway
    return tuple(found)


def supply_kept_off(house: House, supply: str) -> tuple[str, ...]:
    """Return the closed valves that keep the water from one supply, such as `sink.hot`."""
    network = house.water.network
    nodes = frozenset(tap.node for tap in network.supplies if tap.id == supply)
    return kept_off(house, nodes, frozenset()) if cuts(network, nodes) else ()


def stands(house: House, thing: str) -> str | None:
    """Return the thing that one stands before; None for the whole house."""
    name = thing.removeprefix(PIPE_TO)
    if name in house.items:
        return name
    owner = name.rpartition(".")[0]
    return owner if owner in house.items else None


def _after_mains(house: House) -> tuple[frozenset[str], tuple[str, ...]]:
    """Return the nodes to keep dry so that nothing in the house runs."""
    water = house.water
    if water.mains:
        return frozenset({water.mains[0]}), ()
    taps = frozenset(supply.node for supply in water.network.supplies)
    return taps or water.network.sources, ()
