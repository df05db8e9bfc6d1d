"""What a water heater needs while no water reaches it, and how it is set to work again.

It follows from what lights it, as the record says: a pilot is left burning by its own knob, and
what is lit by electricity is still once its breaker is off. Where that is not recorded, the words
are for either.
"""

from handbook.house.house import House
from handbook.record.grammar.common import given
from handbook.record.grammar.heaters import Heater
from handbook.tables import table

GAS_FUELS = ("natural gas", "propane")


def without_water(house: House, heater: Heater) -> str:
    """Say what to do with a heater that gets no water."""
    return _said(house, heater, "heater_without_water")


def with_water_again(house: House, heater: Heater) -> str:
    """Say how a heater is set to work once it is full again."""
    return _said(house, heater, "heater_with_water_again")


def at_breaker(heater: Heater) -> bool:
    """Whether a heater is put to rest at its breaker, so that nobody need go near it."""
    return _kind(heater) in ("electric", "gas, electronic")


def _said(house: House, heater: Heater, name: str) -> str:
    manner: str = table(name).values[_kind(heater)]
    return manner.format(breaker=_breaker(house, heater))


def _kind(heater: Heater) -> str:
    if heater.kind == "tankless":
        return "tankless"
    if heater.fuel in GAS_FUELS:
        return f"gas, {heater.ignition}" if heater.ignition else "gas"
    return heater.fuel or "unknown"


def _breaker(house: House, heater: Heater) -> str:
    """The breaker in brackets: `(14, HEATER FAN, panel: lower hall)`; empty if not recorded."""
    electrical = house.record.electrical
    panel = electrical.panel if electrical else None
    room = house.places.room_name(panel.place) if panel else None
    known = filter(None, (given(heater.breaker), f"panel: {room}" if room else None))
    words = ", ".join(known)
    return f" ({words})" if words else ""
