"""How much water each stretch has to carry at peak: from the fixture units that it serves.

A stretch serves a supply by the share of that supply's water that comes through it: all of it in
a tree, a part in a loop. Bath, kitchen and laundry fixtures of one room count as the table's
groups where the stretch carries the whole group. The table's curve turns units into gallons a
minute; a stretch to a single fixture carries that fixture's own flow, and a lawn's comes on top.

The scale is the IRC's and IPC's. The UPC's is another one and is never mixed with it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from handbook.answers.flowing.flow_case import Pipework, ways
from handbook.answers.flowing.outlets import Giving, giving
from handbook.answers.flowing.pipe_network import Outlet
from handbook.house.house import House
from handbook.tables import table

_WHOLE = 0.999
_NOTHING = 0.001
_TOTAL, _COLD, _HOT = "combined", "cold", "hot"

Shares = Mapping[str, float]
"""By supply (`hall-lav.cold`): which part of its water comes this way, 0 to 1."""


@dataclass(frozen=True)
class Way:
    """One supply's water: the ids of the links that it comes through, the source's end first."""

    links: tuple[str, ...]
    shares: Mapping[str, float]


@dataclass(frozen=True)
class Load:
    """What a stretch carries at peak. `gpm` is None beyond the end of the table's curve."""

    owners: tuple[str, ...]
    wsfu: float
    gpm: float | None


def supply_ways(house: House) -> dict[str, Way]:
    """Return the way of each supply that water reaches, found by letting it alone run."""
    hydraulics = house.hydraulics
    found, pipes = {}, ways(hydraulics)
    for tap in hydraulics.taps.values():
        if way := _way(pipes, tap.id, tap.node):
            found[tap.id] = way
    return found


def _way(pipes: Pipework, tap: str, node: str) -> Way | None:
    solved = pipes.solved([Outlet(tap, node, 0.3)])
    drawn = solved.flows.get(tap, 0.0)
    if drawn < _NOTHING:
        return None
    shares = {
        link.id: abs(solved.flows[link.id]) / drawn
        for link in pipes.links
        if abs(solved.flows.get(link.id, 0.0)) > _NOTHING * drawn
    }
    return Way(tuple(reversed(list(_upstream(pipes, solved.flows, shares, node)))), shares)


def _upstream(
    pipes: Pipework, flows: Mapping[str, float], shares: Shares, node: str
) -> Iterator[str]:
    """Yield the links that most of the water came through, from a node back to the source."""
    coming: dict[str, list[tuple[str, str]]] = {}
    for link in pipes.links:
        if link.id in shares:
            forward = flows[link.id] > 0
            before, behind = (link.a, link.b) if forward else (link.b, link.a)
            coming.setdefault(behind, []).append((link.id, before))
    while node in coming:
        name, node = max(coming[node], key=lambda each: shares[each[0]])
        yield name


def loads(house: House, supplies: Mapping[str, Way]) -> dict[str, Load]:
    """Return the load of each link that carries water to some supply, by its id."""
    carried: dict[str, dict[str, float]] = {}
    for supply, way in supplies.items():
        for link, share in way.shares.items():
            carried.setdefault(link, {})[supply] = 1.0 if share > _WHOLE else share
    return {link: load(house, shares) for link, shares in carried.items()}


def load(house: House, shares: Shares, more_units: float = 0.0) -> Load:
    """Return what a stretch carries that brings `shares`, and `more_units` besides."""
    taps = house.hydraulics.taps
    owners = tuple(dict.fromkeys(taps[supply].owner for supply in shares))
    gives = {owner: found for owner in owners if (found := giving(house, owner))}
    constant = sum(g.gpm * _share(house, o, shares) for o, g in gives.items() if g.constant)
    units = fixture_units(house, shares) + more_units
    counted = [g for o, g in gives.items() if not g.constant]
    return Load(owners, units, _gpm(units, counted, constant, bool(more_units)))


def _gpm(units: float, gives: Sequence[Giving], constant: float, more: bool) -> float | None:
    largest = max((each.gpm for each in gives), default=0.0)
    if len(gives) <= 1 and not more:
        return largest + constant
    probable = demand(units)
    return None if probable is None else max(probable, largest) + constant


def demand(units: float) -> float | None:
    """Return the peak demand in gpm of that many fixture units; None beyond the table's end.

    Below its first row nothing is read from it: the demand is nothing, and the flow of the
    largest fixture stands in for it.
    """
    points = table("demand").values["wsfu_gpm"]
    if units < points[0][0]:
        return 0.0
    for (low, gpm), (high, more) in pairwise(points):
        if units <= high:
            part: float = gpm + (more - gpm) * (units - low) / (high - low)
            return part
    return None


# --- fixture units ---------------------------------------------------------------------------


def fixture_units(house: House, shares: Shares) -> float:
    """Return the fixture units that a stretch serves, groups counted as groups."""
    owners = dict.fromkeys(house.hydraulics.taps[supply].owner for supply in shares)
    sides = {owner: _sides(house, owner, shares) for owner in owners}
    alone = {owner: _alone(house, owner, each) for owner, each in sides.items()}
    saved = 0.0
    for room in dict.fromkeys(_room(house, owner) for owner in owners if _room(house, owner)):
        left = {owner: sides[owner] for owner in owners if _room(house, owner) == room}
        while found := max(_grouped(house, left, alone), default=None):
            saved += found[0]
            left = {owner: each for owner, each in left.items() if owner not in found[1]}
    return sum(alone.values()) - saved


def _grouped(
    house: House, left: Mapping[str, Mapping[str, float]], alone: Mapping[str, float]
) -> Iterator[tuple[float, tuple[str, ...]]]:
    """Yield what each group saves on the fixtures of one room, and which it is made of.

    A part of a group never counts for more than the whole group.
    """
    for group in table("fixture_units").values["groups"].values():
        for side in (_TOTAL, _COLD, _HOT):
            members = tuple(_members(house, group["of"], left, side))
            saves = sum(alone[member] for member in members) - group[side]
            if saves > _NOTHING:
                yield saves, members


def _sides(house: House, owner: str, shares: Shares) -> dict[str, float]:
    """Return the share of a fixture's cold and hot that comes this way, of those that it has."""
    supplies = house.water.own[owner]
    return {supply.rpartition(".")[2]: shares.get(supply, 0.0) for supply in supplies}


def _share(house: House, owner: str, shares: Shares) -> float:
    return max(shares.get(supply, 0.0) for supply in house.water.own[owner])


def _room(house: House, owner: str) -> str | None:
    place = house.items[owner].place
    return place.room if place else None


def _kind(house: House, owner: str) -> str:
    return house.items[owner].kind


def _members(
    house: House,
    kinds: Iterable[Sequence[str]],
    left: Mapping[str, Mapping[str, float]],
    side: str,
) -> Iterator[str]:
    """Yield one fixture for each place of a group that is all carried on this side."""
    for choice in kinds:
        fitting = (
            owner
            for owner, sides in left.items()
            if _kind(house, owner) in choice and _carries(sides, side)
        )
        yield from list(fitting)[:1]


def _carries(sides: Mapping[str, float], side: str) -> bool:
    """Whether all that a fixture draws comes this way, or all of one side and none of the other."""
    if side == _TOTAL:
        return all(share > _WHOLE for share in sides.values())
    return sides.get(side, 0.0) > _WHOLE and all(
        share < _NOTHING for other, share in sides.items() if other != side
    )


def _alone(house: House, owner: str, sides: Mapping[str, float]) -> float:
    """Return one fixture's units: its total for what comes on both sides, else the side's own."""
    row = table("fixture_units").values["fixtures"].get(_kind(house, owner))
    if row is None:
        return 0.0
    cold, hot = sides.get("cold", 0.0), sides.get("hot", 0.0)
    both = min(cold, hot)
    units: float = row[_TOTAL] * both + row["cold"] * (cold - both) + row["hot"] * (hot - both)
    return units
