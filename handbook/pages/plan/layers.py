"""Which things belong on which map."""

from collections.abc import Callable

from handbook.house.house import House
from handbook.house.items import Item
from handbook.record.grammar.common import Handle
from handbook.record.grammar.drains import Cleanout, DrainEquipment
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.gas import GasValve
from handbook.record.grammar.safeguards import Condensate, Pan, Sensor
from handbook.record.grammar.water import Meter
from handbook.record.grammar.water import Valve as LineValve

Layer = Callable[[House, Item], bool]


def shutoffs(house: House, item: Item) -> bool:
    """Everything that shuts water off, the main gas shutoffs and the electrical panel."""
    if isinstance(item.entry, Meter) or item.kind == "electrical panel":
        return True
    if isinstance(item.entry, GasValve):
        return item.entry.main
    return isinstance(item.entry, Handle) and item.system == "water"


def cleanouts(house: House, item: Item) -> bool:
    """Cleanouts, what else stands in the drain line, and floor drains."""
    return isinstance(item.entry, Cleanout | DrainEquipment) or _floor_drain(item)


def gas(house: House, item: Item) -> bool:
    """The whole gas line and everything that burns gas."""
    return item.system == "gas" or bool(getattr(item.entry, "gas", None))


def leaks(house: House, item: Item) -> bool:
    """Sensors, pans, condensate drains, floor drains, and shutoffs that close by themselves."""
    if isinstance(item.entry, LineValve):
        return item.entry.kind == "automatic shutoff"
    return isinstance(item.entry, Sensor | Pan | Condensate) or _floor_drain(item)


def _floor_drain(item: Item) -> bool:
    return isinstance(item.entry, Fixture) and item.entry.kind == "floor drain"


