"""The shutoffs one by one, with their ladders; stops at fixtures stand with their fixtures."""

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Page, Part
from handbook.pages.parts.order import walking
from handbook.pages.parts.valve import GAS_VALVE, valve_page, valves
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.gas import Appliance


def shutoff_part(house: House) -> tuple[Part, ...]:
    """Return the part on the water shutoffs; none where none is recorded."""
    water = [item for item in valves(house) if item.kind != GAS_VALVE]
    pages = _pages(house, water)
    return (Part("shutoff_part", "Water shutoffs, one by one", pages),) if pages else ()


def gas_valve_pages(house: House) -> tuple[Page, ...]:
    """Return the pages of the gas shutoffs in the line and at the meter."""
    return _pages(house, [item for item in valves(house) if item.kind == GAS_VALVE])


def _pages(house: House, items: list[Item]) -> tuple[Page, ...]:
    own = [item for item in items if not _at_a_fixture(house, item)]
    return tuple(valve_page(house, item) for item in walking(house, own))


def _at_a_fixture(house: House, item: Item) -> bool:
    owner = house.items.get(item.owner or "")
    return owner is not None and isinstance(owner.entry, Fixture | Appliance)
