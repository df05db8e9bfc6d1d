"""What the guides say of each water heater: what to close, how to make it safe, where its relief
pipe ends. What to do is taken from the heater's fuel; where that is not recorded, nothing is."""

from collections.abc import Collection

from handbook.answers.has import GAS_FUELS
from handbook.answers.isolate import isolate
from handbook.house.house import House
from handbook.measures import say_temperature
from handbook.pages import valves
from handbook.pages.content import Tag, Value
from handbook.pages.words import bare, ending, sentences
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.knowing import Absent
from handbook.tables import table


def heaters(house: House, ids: Collection[str]) -> tuple[Value, ...]:
    """Return the values of these heaters, in the order of the record."""
    known = [heater for heater in each(house.record.heaters) if heater.id in ids]
    return tuple(_heater(house, heater) for heater in known)


def _heater(house: House, heater: Heater) -> Value:
    rung = valves.first(isolate(house, heater.id))
    units = house.record.house.units
    return {
        "tag": (Tag(heater.id, house.items[heater.id].name),),
        "short": (Tag(heater.id),),
        "where": bare(house.where(heater.id) or "not recorded"),
        "close": valves.to_close(house, rung),
        "stops_all_hot": valves.stops_all_hot(house, rung),
        "burns_gas": heater.fuel in GAS_FUELS or bool(given(heater.gas)),
        "electric": heater.fuel == "electric",
        "tankless": heater.kind == "tankless",
        "safe": _manner(heater, "heater_without_water"),
        "again": _manner(heater, "heater_with_water_again"),
        "breaker": bare(given(heater.breaker) or ""),
        "controls": bare(heater.controls or ""),
        "setting": say_temperature(heater.setting, units) if heater.setting else "",
        "relief_end": _relief_end(house, heater),
        "pan": _pan(house, heater),
    }


def _manner(heater: Heater, name: str) -> str:
    """What a table says to do with a heater of this kind and fuel, as sentences."""
    kind = "tankless" if heater.kind == "tankless" else heater.fuel or "unknown"
    return sentences(table(name).values[kind])


def _relief_end(house: House, heater: Heater) -> str:
    relief = given(heater.relief)
    return "" if relief is None or relief.discharge is None else ending(house, relief.discharge)


def _pan(house: House, heater: Heater) -> Value:
    """The pan under it and where that drains; empty where none is recorded."""
    if heater.pan is None or isinstance(heater.pan, Absent):
        return {}
    guards = house.record.safeguards
    pan = next(pan for pan in each(guards.pans if guards else None) if pan.id == heater.pan)
    return {"tag": (Tag(pan.id),), "end": ending(house, pan.drain)}
