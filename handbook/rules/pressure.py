"""Rules for pressure and speed at peak demand: what is sure whatever the record leaves open."""

from collections.abc import Iterator

from handbook.answers.flowing.shortfall import shortfalls, speeds
from handbook.house.house import House
from handbook.house.hydraulics import Stretch
from handbook.measures import Pressure, Velocity, say_pressure, say_velocity
from handbook.record.grammar.common import each
from handbook.record.problems import Mark
from handbook.rules import facts
from handbook.rules.looks import too_much, water
from handbook.rules.rule import Broken, CannotTell, Clear, Fact, Outcome, rule, told
from handbook.tables import table

REDUCER = "pressure-reducing valve"


@rule(
    "WA-09",
    "reducer-set-too-high",
    "fault",
    why="Behind a reducing valve set too high, hoses, valves and the heater wear out all the same.",
    remedy="Have the pressure-reducing valve set lower.",
    stages=("trim-out", "handover", "lived-in"),
    table="static_pressure",
)
def reducer_set_too_high(house: House) -> Iterator[Outcome]:
    """A pressure-reducing valve brings the static pressure below the limit."""
    supply, most = water(house), table("static_pressure").values["most_psi"]
    yield from told(supply.equipment, facts.EQUIPMENT)
    for valve in each(supply.equipment):
        if valve.kind != REDUCER:
            continue
        if valve.set_to is None:
            yield CannotTell(facts.REDUCER_SETTING, valve.id)
        elif not too_much(valve.set_to.psi, most):
            yield Clear(valve.id)
        elif supply.static_pressure is None:
            yield CannotTell(facts.PRESSURE, valve.id)
        elif not too_much(supply.static_pressure.value.psi, most):
            yield Clear(valve.id)
        else:
            psi = say_pressure(valve.set_to, house.record.house.units)
            limit = say_pressure(Pressure(most), house.record.house.units)
            said = f"{house.called(valve.id)} is set to {psi}; {limit} is the most"
            yield Broken(valve.id, said, valve.mark_of("set_to"))


@rule(
    "WA-10",
    "water-too-fast",
    "advice",
    why="Water that runs too fast is loud, hammers when it stops, and wears copper from inside.",
    remedy="Have the run laid in the next size, as long as the wall is open.",
    stages=("rough-in", "top-out"),
    table="velocity_limits",
)
def water_too_fast(house: House) -> Iterator[Outcome]:
    """At peak demand water runs no faster than the limit for its pipe."""
    yield from told(house.record.fixtures, facts.FIXTURES)
    units = house.record.house.units
    for found in speeds(house):
        thing = found.stretch.thing
        if found.speed is None or found.limit is None or _guessed(house, bool(found.too_fast)):
            yield CannotTell(_pipe_fact(found.stretch), thing)
        elif found.too_fast is None:
            yield CannotTell(facts.HEATER_SETTING, thing)
        elif not found.too_fast:
            yield Clear(thing)
        else:
            fast = say_velocity(Velocity(found.speed), units)
            most = say_velocity(Velocity(found.limit.most), units)
            said = f"Water runs at {fast} in the pipe to {house.called(thing)} at peak demand"
            yield Broken(thing, f"{said}; {most} is the most", _mark(house, found.stretch))


def _pipe_fact(stretch: Stretch) -> Fact:
    """What is missing of a pipe: all that says it may be recorded, and still be in no table."""
    run = stretch.run
    said = run and run.length and run.size and run.material
    return facts.WATER_BORE if said and stretch.bores is None else facts.WATER_PIPE


@rule(
    "WA-11",
    "fixture-short-of-pressure",
    "fault",
    why="When several fixtures run, this one gets less than it was made for.",
    remedy="Have a licensed plumber look at the sizes on its way; `handbook flow` names the run "
    "that costs most.",
    stages=("rough-in", "top-out"),
    table="outlet_flows",
)
def fixture_short_of_pressure(house: House) -> Iterator[Outcome]:
    """At peak demand each fixture keeps the flowing pressure that it needs."""
    yield from told(house.record.fixtures, facts.FIXTURES)
    yield from told(water(house).static_pressure, facts.PRESSURE)
    if house.hydraulics.gauge is None:
        return
    units = house.record.house.units
    for found in shortfalls(house):
        if found.best_psi is None or _guessed(house, found.falls_short):
            yield CannotTell(facts.WATER_PIPE, found.owner)
        elif not found.falls_short:
            yield Clear(found.owner)
        else:
            psi = say_pressure(Pressure(max(0.0, found.best_psi)), units)
            need = say_pressure(Pressure(found.need_psi), units)
            side = found.supply.rpartition(".")[2]
            said = f"{house.called(found.owner)} gets {psi} at its {side} supply at peak demand"
            mark = house.items[found.owner].entry.mark_of(side)
            yield Broken(found.owner, f"{said} and needs {need}", mark)


def _guessed(house: House, wrong: bool) -> bool:
    """Whether what looks wrong may only come from a feed that had to be assumed."""
    return wrong and bool(house.water.assumed)


def _mark(house: House, stretch: Stretch) -> Mark:
    entry = house.items[stretch.thing].entry
    side = stretch.id.removeprefix(stretch.thing).lstrip(".")
    return entry.mark_of(side) if side in ("cold", "hot") else entry.mark_of("by")


RULES = (reducer_set_too_high, water_too_fast, fixture_short_of_pressure)
