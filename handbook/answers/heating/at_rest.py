"""What a water heater needs while no water reaches it, and how it is set to work again.

It follows from what lights it, as the record says: a pilot is left burning by its own knob, and
what is lit by electricity is still once its breaker is off. Where that is not recorded, the words
are for either.
"""

from handbook.house.house import House
from handbook.record.grammar.common import Place, given
from handbook.record.grammar.heaters import Heater
from handbook.tables import table

GAS_FUELS = ("natural gas", "propane")


def without_water(house: House, heater: Heater, *, panel: bool = True) -> str:
    """Say what to do with a heater that gets no water; with `panel`, where its breaker is."""
    return _said(house, heater, "heater_without_water", panel)


def with_water_again(house: House, heater: Heater, *, panel: bool = True) -> str:
    """Say how a heater is set to work once it is full again; with `panel`, where its breaker is."""
    return _said(house, heater, "heater_with_water_again", panel)


def at_breaker(heater: Heater) -> bool:
    """Whether a heater is put to rest at its breaker, so that nobody need go near it."""
    return _kind(heater) in ("electric", "gas, electronic")


def _said(house: House, heater: Heater, name: str, panel: bool) -> str:
    manner: str = table(name).values[_kind(heater)]
    return manner.format(breaker=_breaker(house, heater, panel))


def _kind(heater: Heater) -> str:
    if heater.kind == "tankless":
        return "tankless"
    if heater.fuel in GAS_FUELS:
        return f"gas, {heater.ignition}" if heater.ignition else "gas"
    return heater.fuel or "unknown"


def _breaker(house: House, heater: Heater, told: bool) -> str:
    """The breaker in brackets: `(14, HEATER, panel: lower level, front end of the hall)`; empty if
    not recorded."""
    electrical = house.record.electrical if told else None
    panel = electrical.panel if electrical else None
    where = _panel(house, panel.place) if panel and panel.place else ""
    known = filter(None, (given(heater.breaker), f"panel: {where}" if where else None))
    words = ", ".join(known)
    return f" ({words})" if words else ""


def _panel(house: House, place: Place) -> str:
    """Where the panel is; its room is not said twice."""
    room, words = house.places.room_name(place), (place.where or "").strip(" .")
    named = room is not None and room in words.lower()
    said = house.places.level_name(place) if named else house.places.room_and_level(place)
    return ", ".join(filter(None, (said, words)))
