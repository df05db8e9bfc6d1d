"""What the guides on going away and coming back say of this house beside its main shutoff.

The lawn watering may branch off before the main, so that closing the main does not stop it; what
runs on its own clock would run dry; and a boiler or fire sprinklers may need the water. Whether
the book has a page on draining the pipes decides whether they point to it.
"""

from handbook.answers.isolate import isolate
from handbook.answers.isolating.rungs import Rung
from handbook.answers.shut_down import shut_down
from handbook.house.house import House
from handbook.pages import valves
from handbook.pages.content import Line, Tag, Value
from handbook.pages.words import bare, sentences
from handbook.record.grammar.common import each, given
from handbook.record.grammar.gas import Gas
from handbook.record.grammar.water import Irrigation, Water
from handbook.record.knowing import Absent


def trip_values(house: House, main: Rung | None) -> dict[str, Value]:
    """Return what these guides print; `main` is the step that stops the house's water."""
    water = house.record.water or Water()
    lawn = given(water.irrigation)
    pump = given(water.recirculation)
    away = [softener.id for softener in each(water.softeners)] + ([pump.id] if pump else [])
    return {
        "irrigation": _irrigation(house, lawn, main) if lawn else {},
        "switched_off": _named(house, away),
        "frost_stops": _frost_stops(house),
        "boilers": _named(house, _boilers(house)),
        "heating_known": _heating_known(house),
        "drained": not shut_down(house).missing,
    }


def _named(house: House, things: list[str]) -> Line:
    said: Line = ()
    for thing in things:
        item = house.items[thing]
        said += (", ",) if said else ()
        said += (Tag(thing, item.name) if item.tagged else item.name.lower(),)
    return said


def _irrigation(house: House, lawn: Irrigation, main: Rung | None) -> Value:
    stop = given(lawn.stop)
    return {
        "tag": (Tag(stop.id, house.items[stop.id].name),) if stop else (),
        "where": bare(house.where(stop.id) or "") if stop else "",
        "how": sentences(valves.manner(house, stop.id, "close")) if stop else "",
        "controller": bare(house.places.say(lawn.controller) or ""),
        "winter": sentences(lawn.winter),
        "past_main": main is not None and lawn.id not in main.also_off,
    }


def _frost_stops(house: House) -> tuple[Value, ...]:
    """The shutoffs indoors that empty the outdoor taps."""
    taps = [f for f in each(house.record.fixtures) if f.kind == "hose bibb"]
    rungs = [valves.first(isolate(house, tap.id)) for tap in taps if given(tap.cold)]
    mains = set(house.water.mains)
    own = [rung for rung in rungs if rung and not rung.utility and not mains & set(rung.close)]
    return tuple(value for rung in own for value in valves.to_close(house, rung))


def _boilers(house: House) -> list[str]:
    gas = given(house.record.gas) or Gas()
    return [it.id for it in each(gas.appliances) if it.kind == "boiler"]


def _heating_known(house: House) -> bool:
    """Whether it is recorded what heats the house; without gas nothing of it is in a record."""
    gas = house.record.gas
    if gas is None or isinstance(gas, Absent):
        return False
    return any(it.kind in ("furnace", "boiler") for it in each(gas.appliances))
