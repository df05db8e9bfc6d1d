"""The shutoffs one by one, with their ladders; stops at fixtures stand with their fixtures."""

from handbook.answers.serves import stops
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Line, Note, Page, Part, Tag
from handbook.pages.parts.order import walking
from handbook.pages.parts.phrases import joined, table
from handbook.pages.parts.valve import (
    GAS_VALVE,
    handle_of,
    how_to_close,
    how_to_open,
    is_utilitys,
    kind_of,
    valve_page,
    valves,
)
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
    """Return how each kind of valve is turned, and what the heater needs once it gets no water.

    The words are those of the valves' own pages. A valve that turns in a way of its own stands in
    a row of its own, with its tag.
    """
    alike: dict[tuple[str, ...], list[Item]] = {}
    for item in items:
        if (handle := handle_of(item)) and handle.kind:
            alike.setdefault(_ways(house, item), []).append(item)
    own = [ways for ways in alike if _own_words(house, alike[ways])]
    usual = [ways for ways in alike if ways not in own]
    rows = [
        ((ways[0],) if ways in usual else _kind_and_tags(ways[0], alike[ways]), *_cells(ways))
        for ways in (*usual, *own)
    ]
    blocks = table("Kinds of valve in this house", _HEAD, rows, (1.8, 3, 3, 3))
    heaters = dict.fromkeys(said for item in items for said in stops(house, item.id).heater)
    if heaters:
        lines = tuple((sentences(said),) for said in heaters)
        blocks += (Note("notice", (("Once no water reaches the water heater:",), *lines)),)
    return (Page("how_to_turn", "How to turn a valve", blocks),) if blocks else ()


def _ways(house: House, item: Item) -> tuple[str, ...]:
    """The kind, how it is closed, how opened, and what to take care of."""
    handle = handle_of(item)
    limit = table_of("valves").values.get(handle.kind if handle else None, {}).get("limit", "")
    return kind_of(item), how_to_close(house, item), how_to_open(house, item), limit


def _own_words(house: House, items: list[Item]) -> bool:
    """Whether these do not turn as their kind does: the record says how, or they are not ours."""
    handles = (handle_of(item) for item in items)
    return is_utilitys(house, items[0]) or any(h and (h.turn or h.back) for h in handles)


def _kind_and_tags(kind: str, items: list[Item]) -> Line:
    return (f"{kind}: ", *joined([(Tag(item.id),) for item in items]))


def _cells(ways: tuple[str, ...]) -> tuple[Line, ...]:
    return tuple((sentences(said),) for said in ways[1:])


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
