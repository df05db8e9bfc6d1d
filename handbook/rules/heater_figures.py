"""Rules for a water heater's figures: how its relief valve is set and piped, how hot it is set."""

from collections.abc import Iterator

from handbook.answers.heating.scald import scald
from handbook.house.house import House
from handbook.house.lines import water_lines
from handbook.measures import (
    Pressure,
    Temperature,
    say_pressure,
    say_temperature,
)
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import Heater, Relief
from handbook.rules import facts
from handbook.rules.looks import smaller, too_much, water
from handbook.rules.rule import Broken, CannotTell, Clear, Outcome, rule, told
from handbook.tables import table


def _reliefs(house: House) -> Iterator[tuple[Heater, Relief]]:
    for heater in each(house.record.heaters):
        if relief := given(heater.relief):
            yield heater, relief


@rule(
    "HE-09",
    "relief-set-too-high",
    "unsafe",
    why="Before a valve set that high opens, the tank may have burst.",
    remedy="Read its tag again. If the figure is right, turn the heater off and have a licensed "
    "plumber set the right valve.",
    stages=("trim-out", "handover", "lived-in"),
    table="relief_settings",
)
def relief_set_too_high(house: House) -> Iterator[Outcome]:
    """Each relief valve opens by the pressure and the temperature that the code names."""
    yield from told(house.record.heaters, facts.HEATERS)
    limits, units = table("relief_settings").values, house.record.house.units
    psi, hot = Pressure(limits["most_psi"]), Temperature(limits["most_fahrenheit"])
    for heater, relief in _reliefs(house):
        said = f"The relief valve of {house.called(heater.id)} is set to"
        if relief.pressure and too_much(relief.pressure.psi, psi.psi):
            has, most = say_pressure(relief.pressure, units), say_pressure(psi, units)
            yield Broken(heater.id, f"{said} {has}; {most} is the most", relief.mark_of("pressure"))
        elif relief.temperature and too_much(relief.temperature.fahrenheit, hot.fahrenheit):
            has, most = say_temperature(relief.temperature, units), say_temperature(hot, units)
            mark = relief.mark_of("temperature")
            yield Broken(heater.id, f"{said} {has}; {most} is the most", mark)
        elif relief.pressure is None or relief.temperature is None:
            yield CannotTell(facts.RELIEF_SETTING, heater.id)
        else:
            yield Clear(heater.id)


@rule(
    "HE-10",
    "relief-pipe-too-small",
    "unsafe",
    why="A valve that cannot let go of all that it is made for does not hold the pressure down.",
    remedy="Have a licensed plumber pipe it in the size of the valve's outlet, all the way.",
    stages=("trim-out", "handover"),
    source="IRC P2804.6.1, IPC 504.6 (2018)",
)
def relief_pipe_too_small(house: House) -> Iterator[Outcome]:
    """No relief valve's discharge pipe is smaller than the valve's outlet."""
    yield from told(house.record.heaters, facts.HEATERS)
    for heater, relief in _reliefs(house):
        ending = given(relief.discharge)
        if ending is None:
            continue  # that it has a pipe is asked by another rule
        size = ending.by.size if ending.by else None
        if relief.size is None or size is None:
            yield CannotTell(facts.RELIEF_SIZE, heater.id)
        elif smaller(size, relief.size.inches):
            said = f"The relief valve of {house.called(heater.id)} is {relief.size}, "
            said += f"and its pipe {size}"
            yield Broken(heater.id, said, ending.mark_of("by"))
        else:
            yield Clear(heater.id)


@rule(
    "HE-11",
    "heater-set-to-scald",
    "unsafe",
    why="Water this hot burns skin before a hand is out of it; a child's sooner still.",
    remedy="Turn it down, or have a licensed plumber set a mixing valve behind the heater.",
    stages=("trim-out", "handover", "lived-in"),
    table="scald",
)
def heater_set_to_scald(house: House) -> Iterator[Outcome]:
    """A heater set hotter than the table of burns reaches has a mixing valve behind it."""
    yield from told(house.record.heaters, facts.HEATERS)
    for heater in each(house.record.heaters):
        if heater.setting is None:
            yield CannotTell(facts.HEATER_SETTING, heater.id)
        elif not scald(heater.setting).sooner or _mixed(house, heater.id):
            yield Clear(heater.id)
        elif water(house).equipment is None or _mixed(house, heater.id) is None:
            fact = facts.EQUIPMENT if water(house).equipment is None else facts.WATER_FEED
            yield CannotTell(fact, heater.id)
        else:
            hot = say_temperature(heater.setting, house.record.house.units)
            said = f"{house.called(heater.id)} is set to {hot}, and no mixing valve stands "
            yield Broken(heater.id, f"{said}behind it", heater.mark_of("setting"))


def _mixed(house: House, heater: str) -> bool | None:
    """Whether a mixing valve stands behind a heater; None where one's feed is not recorded."""
    lines = water_lines(house.record)
    valves = [e.id for e in each(water(house).equipment) if e.kind == "mixing valve"]
    if any(heater in lines.upstream(valve) for valve in valves):
        return True
    return None if any(lines.holes(valve) for valve in valves) else False


RULES = (relief_set_too_high, relief_pipe_too_small, heater_set_to_scald)
