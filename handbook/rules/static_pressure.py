"""Rule for the static pressure that each outlet gets: brought down before it, where it is too high.

It is looked at outlet by outlet, on the network, because a reducing valve helps only what hangs
behind it. Outlets outdoors (hose bibbs, lawn watering) may take what the street gives: of UPC
608.2 it is the outlets in the building that the valve has to serve, and IPC 604.8 excepts the
lines to hose bibbs.
"""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.house.lines import Lines, water_lines
from handbook.measures import say_pressure
from handbook.record.grammar.common import each
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.water import Equipment
from handbook.record.problems import Mark
from handbook.rules import facts
from handbook.rules.looks import is_indoors, too_much, water
from handbook.rules.rule import Broken, CannotTell, Clear, Gap, Outcome, look, look_at, rule
from handbook.tables import table

NAMED = 3
"""How many outlets a finding names; how many more there are it counts."""


@rule(
    "WA-04",
    "pressure-too-high",
    "fault",
    why="High pressure wears out hoses, valves and the heater, and makes every leak worse.",
    remedy="Have a pressure-reducing valve set behind the main shutoff.",
    stages=("trim-out", "handover"),
    table="static_pressure",
)
def pressure_too_high(house: House) -> Iterator[Outcome]:
    """Static pressure over the limit is brought down before each fixture and heater indoors."""
    supply, most = water(house), table("static_pressure").values["most_psi"]
    reducers = [e for e in each(supply.equipment) if e.kind == "pressure-reducing valve"]
    if supply.static_pressure is None:
        yield CannotTell(facts.PRESSURE)
    elif not too_much(supply.static_pressure.value.psi, most):
        yield Clear()
    elif reducers:
        yield from _each_outlet(house, reducers)
    else:
        said = f"{_static(house)}, and no pressure-reducing valve is recorded"
        mark = supply.static_pressure.mark_of("value")
        if supply.equipment is None:
            yield CannotTell(facts.EQUIPMENT)
            yield Gap(None, said, mark, look("water: equipment"))
        else:
            yield Broken(None, said, mark)


def _static(house: House) -> str:
    static = water(house).static_pressure
    units = house.record.house.units
    return f"The static pressure is {say_pressure(static.value, units)}" if static else ""


def _each_outlet(house: House, reducers: list[Equipment]) -> Iterator[Outcome]:
    """Look at each outlet; those that get the street's pressure are found by where they branch."""
    network, lines = house.water.network, water_lines(house.record)
    behind = frozenset(valve.id for valve in reducers)
    ahead = network.downstream(network.sources, network.standing().barred(), behind)
    outlets = list(_outlets(house))
    if outlets and all(node in ahead for _, _, node in outlets):
        yield from _nothing_behind(house, reducers)
        return
    found: dict[str, list[str]] = {}
    for owner, pipe, node in outlets:
        if node not in ahead:
            yield Clear(owner)
        elif lines.holes(pipe):
            yield CannotTell(facts.WATER_FEED, owner)
        else:
            branch = found.setdefault(_branch(lines, pipe, behind), [])
            branch += [owner] * (owner not in branch)
    for at, owners in found.items():
        yield _ahead(house, at, owners, reducers[0].id)


def _outlets(house: House) -> Iterator[tuple[str, str, str]]:
    """Yield what draws water indoors: its id, its name in the lines, its node in the network."""
    for supply in house.water.network.supplies:
        owner = supply.id.rpartition(".")[0]
        entry = house.items[owner].entry if owner in house.items else None
        if not isinstance(entry, Fixture) or entry.kind == "hose bibb":
            continue
        if is_indoors(house, entry.place) is not False:
            yield owner, supply.id, supply.node
    for heater in each(house.record.heaters):
        yield heater.id, heater.id, heater.id


def _nothing_behind(house: House, reducers: list[Equipment]) -> Iterator[Outcome]:
    valve = reducers[0]
    said = f"{_static(house)}, and nothing recorded draws its water through "
    said += house.called(valve.id)
    if valve.from_ is None:
        remedy = look_at("from") + f" What hangs behind it has to say so: `from: {valve.id}`."
        yield Gap(valve.id, said, valve.mark_of("id"), remedy)
    else:
        remedy = f"What hangs behind it has to say so: `from: {valve.id}`."
        yield Broken(valve.id, said, valve.mark_of("id"), remedy)


def _branch(lines: Lines, pipe: str, reducers: frozenset[str]) -> str:
    """Return the thing at which a line leaves the one to the reducing valves, ahead of them."""
    way = (pipe, *lines.upstream(pipe))
    common = {met for valve in reducers for met in lines.upstream(valve)}
    return next((met for met in reversed(way) if met not in common | reducers), pipe)


def _ahead(house: House, at: str, owners: list[str], reducer: str) -> Outcome:
    thing = at if at in house.items else at.rpartition(".")[0]
    thing = house.items[thing].owner or thing
    fed = [house.called(owner) for owner in owners if owner != thing]
    names = ", ".join(fed[:NAMED]) + (f" and {len(fed) - NAMED} more" if fed[NAMED:] else "")
    said = f"{_static(house)}, and {house.called(thing)} is fed from ahead of "
    said += house.called(reducer) + (f", with what hangs on it: {names}" if names else "")
    remedy = f"If it hangs behind {reducer}, put its `from` right; if not, have it piped so, or "
    remedy += "have a pressure-reducing valve set in its own line."
    return Broken(thing, said, _mark(house, at, thing), remedy)


def _mark(house: House, at: str, thing: str) -> Mark:
    """Where that branch's own `from` stands."""
    entry = house.items[thing].entry
    if isinstance(entry, Heater):
        return entry.mark_of("cold", "from_")
    return entry.mark_of(at.rpartition(".")[2], "from_") if at != thing else entry.mark_of("from_")


RULES = (pressure_too_high,)
