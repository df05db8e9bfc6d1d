"""What the guides say of each water heater: what to close, how to make it safe, where its relief
pipe ends. What to do follows from what lights the heater; where that is not recorded, the words are
for either."""

import re
from collections.abc import Collection

from handbook.answers.heating.at_rest import (
    GAS_FUELS,
    at_breaker,
    with_water_again,
    without_water,
)
from handbook.answers.isolate import isolate
from handbook.answers.serves import stops
from handbook.house.house import House
from handbook.measures import say_temperature, say_volume
from handbook.pages import valves
from handbook.pages.content import Tag, Value
from handbook.pages.heater_first import instead
from handbook.pages.pipe_ends import beside, made_of
from handbook.pages.words import bare, ending, lower, sentences
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.knowing import Absent

_LETTER = re.compile(r"\b[A-Z]\b")


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
        "instead": instead(house, heater.id, rung),
        "burns_gas": heater.fuel in GAS_FUELS or bool(given(heater.gas)),
        "tankless": heater.kind == "tankless",
        "at_breaker": at_breaker(heater),
        "lit_by_pilot": heater.kind != "tankless" and given(heater.ignition) != "electronic",
        "lettered": lettered(heater),
        "safe": sentences(without_water(house, heater, panel=False)),
        "again": sentences(with_water_again(house, heater, panel=False)),
        "breaker": bare(given(heater.breaker) or ""),
        "breaker_panel": breaker_panel(house),
        "controls": bare(heater.controls or ""),
        "setting": say_temperature(heater.setting, units) if heater.setting else "",
        "holds": heater_holds(house, heater),
        "relief_end": _relief_end(house, heater),
        "relief_pipe": _relief_pipe(heater),
        "relief_told": relief_told(heater),
        "others_there": len(beside(house, heater)),
        "hot_valves": _hot_valves(house),
        "pan": _pan(house, heater),
    }


def lettered(heater: Heater) -> bool:
    """Whether its control is marked in letters, from which no degrees can be read."""
    return bool(_LETTER.search(given(heater.controls) or ""))


def breaker_panel(house: House) -> str:
    """Where the breaker panel is, in words; empty where it is not recorded."""
    electrical = house.record.electrical
    place = electrical.panel.place if electrical and electrical.panel else None
    return bare(house.places.say(place) or "")


def heater_holds(house: House, heater: Heater) -> str:
    """What stands in its tank; empty for a heater without one, or where it is not recorded."""
    if heater.kind == "tankless" or heater.capacity is None:
        return ""
    return say_volume(heater.capacity, house.record.house.units)


def _relief_end(house: House, heater: Heater) -> str:
    """Where its relief pipe ends: the room first, then what it ends over, then its way there."""
    end = given(relief.discharge) if (relief := given(heater.relief)) else None
    if end is None or end.drain is None:
        return ending(house, relief.discharge) if relief and relief.discharge else ""
    over, _, _ = lower(house.items[end.drain].name).partition(",")
    said = (house.places.say(end.place), f"at the {over}", end.where)
    return bare("; ".join(word for word in said if word))


def _relief_pipe(heater: Heater) -> str:
    """What the relief pipe is made of, in plain words; empty where it is not recorded."""
    relief = given(heater.relief)
    end = given(relief.discharge) if relief else None
    return made_of(end) if end else ""


def relief_told(heater: Heater) -> str:
    """What a stranger can see of the relief pipe: `copper; down the left side of the heater`."""
    relief = given(heater.relief)
    end = given(relief.discharge) if relief else None
    seen = (made_of(end), bare(end.where or "")) if end else ()
    return "; ".join(filter(None, seen))


def _hot_valves(house: House) -> tuple[Value, ...]:
    """Each valve that by itself stops every hot tap and nothing else."""
    hot = {s.id for s in house.water.network.supplies if s.id.endswith(".hot")}
    valves_known = house.water.network.handles
    found = [name for name in valves_known if hot == set(stops(house, name).supplies)]
    return tuple(
        {
            "tag": (Tag(name, house.items[name].name),),
            "where": bare(house.where(name) or "not recorded"),
            "open": sentences(valves.manner(house, name, "open")),
        }
        for name in found
        if hot and name in house.items
    )


def _pan(house: House, heater: Heater) -> Value:
    """The pan under it and where that drains; empty where none is recorded."""
    if heater.pan is None or isinstance(heater.pan, Absent):
        return {}
    guards = house.record.safeguards
    pan = next(pan for pan in each(guards.pans if guards else None) if pan.id == heater.pan)
    return {"tag": (Tag(pan.id),), "end": ending(house, pan.drain)}
