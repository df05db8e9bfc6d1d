"""Rules for the gas line: one valve for all of it, nothing open, nothing unbonded, no dead end.

What is wrong here is put right by a licensed plumber, an electrician or the gas utility.
"""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.house.lines import gas_lines
from handbook.record import ids
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import GasRun, each, given
from handbook.record.grammar.fixtures import GasConnection
from handbook.record.grammar.gas import Gas, GasFed
from handbook.rules import facts
from handbook.rules.rule import (
    PRACTICE,
    Broken,
    CannotTell,
    Clear,
    Gap,
    Outcome,
    look,
    look_at,
    rule,
    told,
)


@rule(
    "GA-05",
    "no-building-gas-valve",
    "unsafe",
    why="The fire department and the gas utility stop all the gas here.",
    remedy="Ask the gas utility; have a licensed plumber set a shutoff outside the building.",
    stages=("rough-in", "handover"),
    source="IRC G2420.3 (edition not stated in the copy that was read)",
)
def no_building_gas_valve(house: House) -> Iterator[Outcome]:
    """One valve stops all the gas of the building."""
    yield from told(house.record.gas, facts.GAS)
    if not (gas := given(house.record.gas)):
        return
    at_meter = gas.meter.shutoff if gas.meter else None
    if given(at_meter) or any(valve.main for valve in each(gas.valves)):
        yield Clear()
    elif at_meter is None or gas.valves is None:
        yield CannotTell(facts.GAS_METER)
    else:
        said = "No valve that stops all the gas is recorded, neither at the meter nor behind it"
        yield Broken(None, said, gas.meter.mark_of("shutoff") if gas.meter else gas.mark)


@rule(
    "GA-06",
    "gas-outlet-not-capped",
    "unsafe",
    why="A shutoff alone is one bumped handle away from gas in the room.",
    remedy="Leave it alone and have a licensed plumber cap it; smell gas: leave, and call.",
    stages=("rough-in", "trim-out", "handover"),
    source=PRACTICE,
)
def gas_outlet_not_capped(house: House) -> Iterator[Outcome]:
    """Each gas outlet that nothing is connected to is capped."""
    yield from told(house.record.gas, facts.GAS)
    if not (gas := given(house.record.gas)):
        return
    yield from told(gas.outlets, facts.OUTLETS)
    for outlet in each(gas.outlets):
        name, mark = house.called(outlet.id), outlet.mark_of("capped")
        if outlet.capped is True:
            yield Clear(outlet.id)
        elif outlet.capped is None:
            yield Gap(
                outlet.id, f"{name} does not say whether it is capped", mark, look_at("capped")
            )
        else:
            yield Broken(outlet.id, f"{name} is not capped", mark)


@rule(
    "GA-07",
    "csst-not-bonded",
    "unsafe",
    why="Lightning nearby can burn a hole through the thin wall of CSST that is not bonded.",
    remedy="Have an electrician bond it to the grounding electrode system.",
    stages=("rough-in", "trim-out"),
    source="IRC G2411.2 (2018, 2021); CSST listed with an arc-resistant jacket is exempt",
)
def csst_not_bonded(house: House) -> Iterator[Outcome]:
    """Gas pipe of CSST is bonded."""
    yield from told(house.record.gas, facts.GAS)
    if not (gas := given(house.record.gas)):
        return
    owners = [e for e in ids.entries(house.record) if isinstance(e, GasFed | GasConnection)]
    runs = [e for e in ids.entries(house.record) if isinstance(e, GasRun)]
    if given(gas.bonding):
        yield Clear()
    elif any(run.material == "CSST" for run in runs):
        mark = gas.mark_of("bonding")
        if gas.bonding is ABSENT:
            yield Broken(None, "The gas line has CSST in it and is not bonded", mark)
        else:
            said = "The gas line has CSST in it and does not say how it is bonded"
            yield Gap(None, said, mark, look("bonding"))
    elif any(run.material is None for run in runs) or any(e.by is None for e in owners):
        yield CannotTell(facts.GAS_MATERIAL)
    else:
        yield Clear()


@rule(
    "GA-08",
    "gas-dead-end",
    "gap",
    why="Either an appliance is missing from the record, or it is a stub nobody knows of.",
    remedy="Record what it feeds, or record it as an outlet (`gas: outlets`) and whether it is "
    "capped.",
    stages=("rough-in", "trim-out"),
    source=PRACTICE,
)
def gas_dead_end(house: House) -> Iterator[Outcome]:
    """Each gas valve, tee and regulator feeds something."""
    yield from told(house.record.gas, facts.GAS)
    gas, lines = (given(house.record.gas) or Gas()), gas_lines(house.record)
    for thing in (*each(gas.regulators), *each(gas.valves), *each(gas.tees)):
        if lines.down.get(thing.id):
            yield Clear(thing.id)
        elif gas.appliances is None:
            yield CannotTell(facts.APPLIANCES, thing.id)
        else:
            said = f"{house.called(thing.id)} feeds nothing that is recorded"
            yield Gap(thing.id, said, thing.mark_of("id"))


RULES = (no_building_gas_valve, gas_outlet_not_capped, csst_not_bonded, gas_dead_end)
