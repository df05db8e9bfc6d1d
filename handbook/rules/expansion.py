"""Rules for expansion tanks: large enough for what the heater's water swells by, rightly charged.

What is reckoned, and from which tables, stands in `answers/expansion.py`.
"""

from collections.abc import Iterator

from handbook.answers.expansion import Expansion, Lack, expansion
from handbook.house.house import House
from handbook.measures import Pressure, Volume, say_pressure, say_temperature, say_volume
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import ExpansionTank
from handbook.rules import facts
from handbook.rules.rule import Broken, CannotTell, Clear, Fact, Outcome, rule, told

_FACTS: dict[Lack, Fact] = {
    "kind": facts.HEATER_KIND,
    "capacity": facts.HEATER_CAPACITY,
    "setting": facts.HEATER_SETTING,
    "pressure": facts.PRESSURE_AT_HEATER,
    "equipment": facts.EQUIPMENT,
    "feed": facts.WATER_FEED,
    "size": facts.EXPANSION_TANK_SIZE,
    "precharge": facts.EXPANSION_TANK_CHARGE,
}
_PRESSURE: tuple[Lack, ...] = ("pressure", "equipment", "feed")
_FOR_SIZE: tuple[Lack, ...] = ("kind", "capacity", "setting", *_PRESSURE, "size")
_FOR_CHARGE: tuple[Lack, ...] = (*_PRESSURE, "precharge")


@rule(
    "HE-07",
    "expansion-tank-too-small",
    "fault",
    why="Once its tank is full, the swelling water lifts the pressure and the relief valve weeps.",
    remedy="Have it replaced with a tank of at least the size that the heater's water needs.",
    stages=("trim-out", "handover"),
    table="expansion_tanks",
)
def expansion_tank_too_small(house: House) -> Iterator[Outcome]:
    """An expansion tank takes what its heater's water swells by, below the pressure limit."""
    yield from told(house.record.heaters, facts.HEATERS)
    for tank, answer in _tanks(house):
        if answer.kind == "tankless" or answer.big_enough:
            yield Clear(tank.id)
        elif answer.tank_needed and tank.size:
            has, needs = _gallons(house, tank.size), _gallons(house, answer.tank_needed)
            said = f"{house.called(tank.id)} holds {has}, and {house.called(answer.heater)} "
            entry = say_temperature(answer.entry, house.record.house.units)
            said += f"needs one of {needs}, its cold water being assumed to come in at {entry}"
            yield Broken(tank.id, said, tank.mark_of("size"))
        else:
            yield CannotTell(_waits_for(answer, _FOR_SIZE), tank.id)


@rule(
    "HE-08",
    "expansion-tank-wrongly-charged",
    "fault",
    why="Charged too low it is full of water from the start; too high, it takes none for long.",
    remedy="Have its air charged, with the water side open, to the pressure behind the reducer.",
    stages=("trim-out", "handover", "lived-in"),
    table="expansion_tanks",
)
def expansion_tank_wrongly_charged(house: House) -> Iterator[Outcome]:
    """An expansion tank's air is charged to the pressure that the house stands at."""
    yield from told(house.record.heaters, facts.HEATERS)
    for tank, answer in _tanks(house):
        if answer.charge_right:
            yield Clear(tank.id)
        elif answer.charge_right is False and tank.precharge and answer.pressure:
            charge, at = _psi(house, tank.precharge), _psi(house, answer.pressure)
            said = f"{house.called(tank.id)} is charged to {charge}, and the house stands at {at}"
            said += f" ({answer.pressure_from})"
            yield Broken(tank.id, said, tank.mark_of("precharge"))
        else:
            yield CannotTell(_waits_for(answer, _FOR_CHARGE), tank.id)


def _tanks(house: House) -> Iterator[tuple[ExpansionTank, Expansion]]:
    """Yield each expansion tank with what is reckoned for its heater."""
    for heater, answer in zip(each(house.record.heaters), expansion(house), strict=True):
        if tank := given(heater.expansion_tank):
            yield tank, answer


def _waits_for(answer: Expansion, needed: tuple[Lack, ...]) -> Fact:
    lacking = [_FACTS[lack] for lack in needed if lack in answer.lacks]
    return lacking[0] if lacking else facts.EXPANSION_FIGURE


def _gallons(house: House, volume: Volume) -> str:
    return say_volume(volume, house.record.house.units)


def _psi(house: House, pressure: Pressure) -> str:
    return say_pressure(pressure, house.record.house.units)


RULES = (expansion_tank_too_small, expansion_tank_wrongly_charged)
