"""The shutoffs one by one, with their ladders; stops at fixtures stand with their fixtures."""

from handbook.answers.serves import stops
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Note, Page, Part
from handbook.pages.parts.order import walking
from handbook.pages.parts.phrases import table
from handbook.pages.parts.valve import GAS_VALVE, handle_of, valve_page, valves
from handbook.pages.words import sentences
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.gas import Appliance
from handbook.tables import table as table_of


def shutoff_part(house: House) -> tuple[Part, ...]:
    """Return the part on the water shutoffs; none where none is recorded."""
    water = [item for item in valves(house) if item.kind != GAS_VALVE]
    pages = (*_turning(house, water), *_pages(house, water))
    return (Part("shutoff_part", "Water shutoffs, one by one", pages),) if pages else ()


def _turning(house: House, items: list[Item]) -> tuple[Page, ...]:
    """Return how each kind of valve is turned, and what the heater needs once it gets no water."""
    manners = table_of("valves").values
    found = dict.fromkeys(handle.kind for item in items if (handle := handle_of(item)))
    kinds = [kind for kind in manners if kind in found]
    rows = [((kind,), *((sentences(manners[kind][act]),) for act in _ACTS)) for kind in kinds]
    blocks = table("Kinds of valve in this house", _HEAD, rows, (1.6, 3, 3, 3))
    heaters = dict.fromkeys(said for item in items for said in stops(house, item.id).heater)
    if heaters:
        lines = tuple((sentences(said),) for said in heaters)
        blocks += (Note("notice", (("Once no water reaches the water heater:",), *lines)),)
    return (Page("how_to_turn", "How to turn a valve", blocks),) if blocks else ()


_ACTS = ("close", "open", "limit")
_HEAD = ("Kind", "To close it", "To open it", "Take care")


def gas_valve_pages(house: House) -> tuple[Page, ...]:
    """Return the pages of the gas shutoffs in the line and at the meter."""
    return _pages(house, [item for item in valves(house) if item.kind == GAS_VALVE])


def _pages(house: House, items: list[Item]) -> tuple[Page, ...]:
    own = [item for item in items if not _at_a_fixture(house, item)]
    return tuple(valve_page(house, item, brief=True) for item in walking(house, own))


def _at_a_fixture(house: House, item: Item) -> bool:
    owner = house.items.get(item.owner or "")
    return owner is not None and isinstance(owner.entry, Fixture | Appliance)
