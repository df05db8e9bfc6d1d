"""The page that a tag's code leads to: one for each tagged thing."""

from collections.abc import Iterator
from dataclasses import replace

from handbook.answers.has import has
from handbook.answers.isolate import isolate
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.once import once
from handbook.pages.content import Block, Bullets, Facts, Go, Line, Page, Para, Strong, SubHead
from handbook.pages.emergency import SUBJECTS
from handbook.pages.parts import cleanouts, drain_equipment, equipment, gas, hot_water, leaks
from handbook.pages.parts.alarms import alarm_steps
from handbook.pages.parts.fixtures import page_of
from handbook.pages.parts.ladders import ladder
from handbook.pages.parts.own import own_blocks
from handbook.pages.parts.phrases import Rows, established, told, where
from handbook.pages.parts.tersely import action, one_line
from handbook.pages.parts.ties import tie_blocks
from handbook.pages.parts.valve import handle_of, valve_page
from handbook.pages.parts.way_there import way_there
from handbook.pages.way_maps import thing_map, tie_maps
from handbook.pages.words import situation
from handbook.record.grammar.drains import Cleanout, DrainEquipment
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.gas import GasMeter, GasOutlet, Regulator
from handbook.record.grammar.heaters import ExpansionTank, Heater
from handbook.record.grammar.safeguards import Condensate, Pan, Sensor


@once
def thing_pages(house: House) -> tuple[Page, ...]:
    """Return a page for each tagged thing; its id and its address are its tag.

    The ways back to the emergency pages stand at the foot of every phone page.
    """
    return tuple(
        _linked(house, item, thing_page(house, item))
        for item in house.items.values()
        if item.tagged
    )


def thing_page(house: House, item: Item) -> Page:
    """Return the page of one tagged thing, as the book has it where it is in the book."""
    if handle_of(item):
        return valve_page(house, item)
    match item.entry:
        case Cleanout() as cleanout:
            return _first(cleanouts.cleanout_page(house, item, cleanout), _act(house, item))
        case Heater() as heater:
            page = hot_water.heater_page(house, heater)
            return _first(page, _act(house, item), *_troubles(house))
    return _page(house, item)


def _act(house: House, item: Item) -> Para:
    return Para((Strong(action(house, item)),))


def _first(page: Page, *blocks: Block) -> Page:
    return replace(page, blocks=(*blocks, *page.blocks))


def _troubles(house: House) -> tuple[Block, ...]:
    """The ways to what else may be wrong with a heater."""
    features = has(house)
    links = tuple(
        (Go(situation(subject.id), subject.title),)
        for subject in SUBJECTS
        if subject.needs in ("heater", "relief valve") and features[subject.needs] != "no"
    )
    return (Bullets(links),) if links else ()


def _page(house: House, item: Item) -> Page:
    known = (
        *_facts(house, item),
        ("Where", (told(where(house, item.id)),)),
        ("Checked", (told(established(getattr(item.entry, "seen", None))),)),
    )
    blocks: tuple[Block, ...] = (
        *((gas.caution(house),) if item.system == "gas" else ()),
        *((cleanouts.caution(house),) if item.system == "drain" else ()),
        *_do(house, item),
        SubHead("What is recorded of it"),
        Facts(known),
        *own_blocks(house, item),
    )
    return Page(item.id, item.name, blocks, one_line(house, item), tag=item.id)


def _facts(house: House, item: Item) -> Rows:
    match item.entry:
        case DrainEquipment() as it:
            return drain_equipment.equipment_facts(house, it)
        case Sensor() as sensor:
            return leaks.sensor_facts(house, sensor)
        case Pan() as pan:
            return leaks.pan_facts(house, pan)
        case Condensate() as drain:
            return leaks.condensate_facts(house, drain)
        case GasMeter() as meter:
            return gas.meter_facts(house, meter)
        case Regulator() as regulator:
            return gas.regulator_facts(house, regulator)
        case GasOutlet() as outlet:
            return gas.outlet_facts(house, outlet)
        case ExpansionTank() as tank:
            return hot_water.tank_facts(house, tank)
    return (("For", one_line(house, item)), *equipment.facts(house, item))


def _do(house: House, item: Item) -> tuple[Block, ...]:
    """Return what to do at it: for what warns of a leak by steps, for the rest in a line first."""
    match item.entry:
        case Sensor() | Pan():
            return alarm_steps(house, item)
    act = _act(house, item)
    if item.id not in house.water.bodies:
        return (act,)
    return (act, SubHead("If it leaks"), *ladder(house, isolate(house, item.id)))


def _linked(house: House, item: Item, page: Page) -> Page:
    more: tuple[Line, ...] = tuple((go,) for go in _related(house, item))
    links: tuple[Block, ...] = (SubHead("More"), Bullets(more)) if more else ()
    maps = (*thing_map(house, item.id), *tie_blocks(house, item), *tie_maps(house, item))
    return replace(page, blocks=(*page.blocks, *way_there(house, item), *maps, *links))


def _related(house: House, item: Item) -> Iterator[Go]:
    """Yield the pages of the book that say more; each is there whenever its thing is recorded."""
    owner = house.items.get(item.owner or "")
    if owner and isinstance(owner.entry, Fixture):
        yield Go(page_of(house, owner), f"Everything at: {owner.name}")
    if handle_of(item):
        yield Go("valve_schedule", "All valves")
    if isinstance(item.entry, Cleanout):
        yield Go("cleanout_list", "All cleanouts")
    if item.system == "gas" and house.record.gas:
        yield Go("gas_system", "Your gas")
    if isinstance(item.entry, Sensor | Pan):
        yield Go(situation("alarm"), "A leak alarm sounds")
    if isinstance(item.entry, Sensor | Pan | Condensate):
        yield Go("leak_protection", "What catches and reports a leak")
