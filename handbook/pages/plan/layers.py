"""What each kind of map shows: which things, and which lines between them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.plan import pipes
from handbook.pages.plan.pipes import Lines
from handbook.pages.plan.supplies import gas_lines
from handbook.record.grammar.common import Handle
from handbook.record.grammar.drains import Cleanout, Discharge, DrainEquipment
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.gas import GasTee, GasValve
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.safeguards import Condensate, Pan, Sensor
from handbook.record.grammar.water import Meter
from handbook.record.grammar.water import Valve as LineValve


@dataclass(frozen=True)
class Layer:
    """A kind of map: its words in a title, which things are on it, the lines of one level."""

    title: str
    shows: Callable[[Item], bool]
    lines: Callable[[House, str, Sequence[Item]], Lines]


def _shutoffs(item: Item) -> bool:
    """Everything that shuts water off, the main gas shutoffs and the breaker panel."""
    if isinstance(item.entry, Meter) or item.kind == "breaker panel":
        return True
    if isinstance(item.entry, GasValve):
        return item.entry.main
    return isinstance(item.entry, Handle) and item.system == "water"


def _cleanouts(item: Item) -> bool:
    """Cleanouts, what else stands in the drain line, where it ends, and floor drains."""
    return isinstance(item.entry, Cleanout | DrainEquipment | Discharge) or _floor_drain(item)


def _gas(item: Item) -> bool:
    """The whole gas line and everything that burns gas; a tee is where its lines meet."""
    if isinstance(item.entry, GasTee):
        return False
    return item.system == "gas" or bool(getattr(item.entry, "gas", None))


def _leaks(item: Item) -> bool:
    """Sensors, pans, condensate drains, floor drains, and shutoffs that close by themselves."""
    if isinstance(item.entry, LineValve):
        return item.entry.kind == "automatic shutoff"
    return isinstance(item.entry, Sensor | Pan | Condensate) or _floor_drain(item)


def _floor_drain(item: Item) -> bool:
    return isinstance(item.entry, Fixture) and item.entry.kind == "floor drain"


def _no_lines(house: House, level: str, items: Sequence[Item]) -> Lines:
    return Lines(())


def _drain_lines(house: House, level: str, items: Sequence[Item]) -> Lines:
    return pipes.buried_drains(house) if level == OUTSIDE else pipes.drains(house, level)


def _gas_lines(house: House, level: str, items: Sequence[Item]) -> Lines:
    return gas_lines(house, level)


def _pan_lines(house: House, level: str, items: Sequence[Item]) -> Lines:
    return pipes.pan_drains(house, level)


SHUTOFFS = Layer("shutoffs", _shutoffs, _no_lines)
CLEANOUTS = Layer("cleanouts and drains", _cleanouts, _drain_lines)
GAS = Layer("gas", _gas, _gas_lines)
LEAKS = Layer("leak sensors and pans", _leaks, _pan_lines)
