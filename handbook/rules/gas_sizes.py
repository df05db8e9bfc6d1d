"""Rules for what gas pipes and meter carry: none over its capacity, no stub too small for its use,
and a connected load that is what burns.

Found only where it is sure: the fuel and the pressure are recorded, and the printed table (and,
where the code lets it be used, its equation) leaves no doubt. A CSST's maker has a table of its
own, which takes precedence, so of CSST nothing is found. All of it is a licensed plumber's work.
"""

from collections.abc import Iterator

from handbook.answers.gas import GasAnswer, differs, gas
from handbook.answers.gas_sizing.gas_outlets import GasMeterSize
from handbook.answers.gas_sizing.gas_pressure import pressure_in
from handbook.answers.gas_sizing.gas_runs import GasRunSize
from handbook.answers.gas_sizing.gas_tables import LOW_3_INCH
from handbook.house.house import House
from handbook.measures import PSI_PER_INCH_WATER, HeatRate, say_heat_rate
from handbook.record.entry import Entry
from handbook.record.grammar.common import each, given
from handbook.record.grammar.gas import Gas
from handbook.record.grammar.places import Site
from handbook.record.knowing import ABSENT
from handbook.record.problems import Mark
from handbook.rules import facts
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Outcome, rule, told
from handbook.tables import table


@rule(
    "GA-09",
    "gas-pipe-overloaded",
    "unsafe",
    why="Starved of gas, a burner may burn badly and make carbon monoxide, or go out.",
    remedy="Have a licensed plumber look at it; nobody else works on gas pipe.",
    stages=("rough-in", "top-out", "lived-in"),
    source="IRC G2413.4.1, IFGC 402.4.1 (2018)",
)
def gas_pipe_overloaded(house: House) -> Iterator[Outcome]:
    """No gas pipe has more on it than it carries at its developed length."""
    yield from told(house.record.gas, facts.GAS)
    for run in gas(house).runs:
        yield _run(house, run)


def _run(house: House, run: GasRunSize) -> Outcome:
    if run.over:
        return _over(house, run) if _sure(house, run) else CannotTell(facts.GAS_RUN_RULED, run.id)
    if run.margin_btuh is None:
        return CannotTell(facts.GAS_RUN, run.id)
    return Clear(run.id)


def _over(house: House, run: GasRunSize) -> Broken:
    units = house.record.house.units
    load = say_heat_rate(HeatRate(run.load_btuh), units)
    carries = say_heat_rate(HeatRate(run.capacity_btuh or 0.0), units)
    said = f"the gas pipe to {house.called(run.id)} carries {carries} and has {load} on it"
    return Broken(run.id, said[:1].upper() + said[1:], _mark(house, run.id))


def _sure(house: House, run: GasRunSize) -> bool:
    """Whether no fact left open, and no other table, could take the finding back."""
    node, head = house.gas.nodes[run.id], house.gas.head_of(run.id)
    line = given(house.record.gas)
    delivered = pressure_in(head.delivers) if head else None
    if line is None or delivered is None or (node.run and node.run.material == "CSST"):
        return False
    most = float(table("gas_method").values["altitude_most_ft"])
    altitude = (house.record.site or Site()).altitude
    if altitude is not None and altitude.feet > most:
        return False
    least = float(table(LOW_3_INCH.steel).values["delivered_least_inwc"])
    return line.drop is not None or delivered.psi < least * PSI_PER_INCH_WATER


def _mark(house: House, thing: str) -> Mark:
    """Return where the pipe to a thing stands in the record."""
    entry: Entry = house.items[thing].entry
    owner = given(getattr(entry, "gas", None)) or entry
    return owner.mark_of("by")


@rule(
    "GA-10",
    "gas-stub-too-small",
    "advice",
    why="Whoever connects there later what it was meant for starves it, or something else.",
    remedy="Have a licensed plumber enlarge the pipe while the walls are open, or record the "
    "smaller input that it can feed.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def gas_stub_too_small(house: House) -> Iterator[Outcome]:
    """A gas outlet stubbed for later can feed what it is meant for."""
    yield from told(house.record.gas, facts.GAS)
    if line := given(house.record.gas):
        yield from told(line.outlets, facts.OUTLETS)
        answer = gas(house)
        for outlet in each(line.outlets):
            yield _stub(house, answer, outlet.id)


def _stub(house: House, answer: GasAnswer, thing: str) -> Outcome:
    stub = next(outlet for outlet in answer.outlets if outlet.id == thing)
    if stub.wants_by != "record" or stub.wants_btuh is None:
        return CannotTell(facts.GAS_STUB, thing)
    if stub.margin_btuh is None or stub.limited_by is None:
        return CannotTell(facts.GAS_RUN, thing)
    if not stub.too_small:
        return Clear(thing)
    narrow = [run for run in answer.runs if run.id == stub.limited_by]
    if narrow and not _sure(house, narrow[0]):
        return CannotTell(facts.GAS_RUN_RULED, thing)
    units = house.record.house.units
    could = say_heat_rate(HeatRate(max(0.0, stub.margin_btuh + stub.load_btuh)), units)
    wants = say_heat_rate(HeatRate(stub.wants_btuh), units)
    said = f"{house.called(thing)} is meant for {wants}; only {could} can reach it"
    return Broken(thing, said, house.items[thing].entry.mark_of("input"))


@rule(
    "GA-11",
    "gas-meter-too-small",
    "fault",
    why="With everything lit the pressure falls behind the meter, and burners burn badly.",
    remedy="Ask the gas utility, which sets the meter, before anything more is connected.",
    stages=("rough-in", "handover", "lived-in"),
    table="gas_heat",
)
def gas_meter_too_small(house: House) -> Iterator[Outcome]:
    """The gas meter's class is at least what burns behind it."""
    yield from told(house.record.gas, facts.GAS)
    line = given(house.record.gas)
    if line is None or line.fuel == "propane":
        return
    meter = gas(house).meter
    if line.meter is None:
        yield CannotTell(facts.GAS_METER)
    elif meter is not None:
        yield _meter(house, line, meter)


def _meter(house: House, line: Gas, meter: GasMeterSize) -> Outcome:
    if line.fuel is None or meter.capacity_btuh is None:
        return CannotTell(facts.GAS_METER_CLASS, meter.id)
    if meter.load_btuh > meter.capacity_btuh:  # what is not known could only add to the load
        units = house.record.house.units
        load = say_heat_rate(HeatRate(meter.load_btuh), units)
        passes = say_heat_rate(HeatRate(meter.capacity_btuh), units)
        said = f"{house.called(meter.id)} passes {passes} by its class; {load} burns behind it"
        return Broken(meter.id, said, house.items[meter.id].entry.mark_of("capacity"))
    return Clear(meter.id) if meter.whole else CannotTell(facts.GAS_METER_CLASS, meter.id)


@rule(
    "GA-12",
    "connected-load-disagrees",
    "fault",
    why="Pipe and meter were sized for the permit's load; one of the two figures is wrong.",
    remedy="Read the inputs off the plates and the load off the permit, and put right what is "
    "wrong; where more burns than was permitted, ask a licensed plumber before it is lit.",
    stages=("trim-out", "handover"),
    source=PRACTICE,
)
def connected_load_disagrees(house: House) -> Iterator[Outcome]:
    """The connected load that the permit states is what the recorded inputs add up to."""
    yield from told(house.record.gas, facts.GAS)
    line = given(house.record.gas)
    if line is None or line.connected is ABSENT:
        return
    tree, stated = house.gas, given(line.connected)
    whole = tree.listed and not tree.unclear
    whole = whole and all(node.input for node in tree.ends if node.kind == "appliance")
    more = stated is not None and tree.input_btuh > stated.btu_h
    if stated is None or (not whole and not (more and differs(house, stated))):
        yield CannotTell(facts.GAS_CONNECTED)
    elif not differs(house, stated):
        yield Clear()
    else:
        units = house.record.house.units
        summed = say_heat_rate(HeatRate(tree.input_btuh), units)
        said = f"The permit states a connected load of {say_heat_rate(stated, units)}; the "
        said += f"recorded inputs add up to {summed}" + ("" if whole else " already")
        yield Broken(None, said, line.mark_of("connected"))


RULES = (
    gas_pipe_overloaded,
    gas_stub_too_small,
    gas_meter_too_small,
    connected_load_disagrees,
)
