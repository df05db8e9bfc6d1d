"""The fuel gas: meter, shutoffs, what burns it, what is stubbed for later. Nobody relights."""

from handbook.answers.serves import gas_served, gas_users
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.pages.calls import call
from handbook.pages.content import Block, Facts, Note, Page, Part, Tag
from handbook.pages.maps import map_page
from handbook.pages.parts.gas_left import could_take, left_for_later
from handbook.pages.parts.phrases import (
    Rows,
    called,
    lost,
    said,
    table,
    thing_line,
    told,
    where,
    yes_no,
)
from handbook.pages.parts.say import Say
from handbook.pages.parts.shutoffs import gas_valve_pages
from handbook.pages.parts.valve import GAS_VALVE, kind_of, what_it_stops
from handbook.pages.plan.layers import GAS
from handbook.record.grammar.common import each, given
from handbook.record.grammar.gas import Gas, GasMeter, GasOutlet, Regulator


def gas_part(house: House) -> tuple[Part, ...]:
    """Return the part on gas; none where the house has no gas or none is recorded."""
    gas = given(house.record.gas)
    if gas is None:
        return ()
    blocks: tuple[Block, ...] = (
        caution(house),
        Facts(_system(house, gas)),
        *_shutoffs(house),
        *_appliances(house),
        *_outlets(house, gas),
        *left_for_later(house),
    )
    where_it_runs = map_page(house, GAS, "gas_maps", "Where the gas runs")
    system = Page("gas_system", "Your gas", blocks)
    return (Part("gas_part", "Gas", (system, *gas_valve_pages(house), *where_it_runs)),)


def caution(house: House) -> Note:
    """Return what every page about gas opens with."""
    return Note(
        "danger",
        (
            ("Gas burns and explodes.",),
            ("If you smell it, leave at once with everyone; switch nothing, look for nothing.",),
            (
                "From a safe place: ",
                *call(contact(house, "emergency")),
                ". Then: ",
                *call(contact(house, "gas utility")),
                ".",
            ),
            (
                "Gas that has been shut off is turned on, and its flames relit, only by the gas "
                "utility or a licensed plumber.",
            ),
        ),
    )


def _system(house: House, gas: Gas) -> Rows:
    say = Say.of(house)
    rows: Rows = (("Fuel", (said(gas.fuel),)),)
    if gas.meter is None:
        rows += (("Meter", (said(None),)),)
    else:
        rows += (
            (
                "Meter",
                (
                    Tag(gas.meter.id, house.items[gas.meter.id].name),
                    "; ",
                    where(house, gas.meter.id),
                ),
            ),
        )
        rows += meter_facts(house, gas.meter)
    if connected := given(gas.connected):
        rows += (("Connected load, from the permit", (say.heat(connected),)),)
    if gas.longest:
        rows += (("Meter to the farthest outlet", (say.length(gas.longest),)),)
    return (*rows, ("Bonding", (told(said(gas.bonding)),)))


def meter_facts(house: House, meter: GasMeter) -> Rows:
    """Return what is recorded about the gas meter or tank."""
    return (
        ("Shutoff at it", thing_line(house, meter.shutoff)),
        ("Class", (said(meter.capacity),)),
        ("Delivers", (said(meter.delivers),)),
    )


def regulator_facts(house: House, regulator: Regulator) -> Rows:
    """Return what is recorded about a second regulator."""
    return (
        ("Pressure before it", (Say.of(house).gas_pressure(regulator.inlet),)),
        ("Pressure behind it", (said(regulator.outlet),)),
        ("Vents", (said(regulator.vent),)),
        ("Fed from", called(house, regulator.from_)),
        ("Feeds", (lost(it.name for it in gas_served(house, regulator.id)) or said(None),)),
    )


def outlet_facts(house: House, outlet: GasOutlet) -> Rows:
    """Return what is recorded about an outlet stubbed for later."""
    return (
        ("Meant for", (said(outlet.meant_for),)),
        ("Could take", could_take(house, outlet.id)),
        ("Capped", (said(outlet.capped, yes_no),)),
        ("Shutoff", thing_line(house, outlet.shutoff)),
        ("Fed from", called(house, outlet.from_)),
        ("Run", (Say.of(house).run(outlet.by),)),
    )


def _shutoffs(house: House) -> tuple[Block, ...]:
    rows = [
        (
            (Tag(item.id),),
            (item.name,),
            (where(house, item.id),),
            (kind_of(item),),
            (what_it_stops(house, item),),
        )
        for item in house.items.values()
        if item.kind == GAS_VALVE
    ]
    head = ("Tag", "Shutoff", "Where", "Kind", "Stops")
    return table("Gas shutoffs", head, rows, (1, 2, 4.4, 2.2, 1.6), tagged=True)


def _appliances(house: House) -> tuple[Block, ...]:
    say = Say.of(house)
    rows = [
        (
            (house.items[owner].name,),
            (where(house, owner),),
            (say.heat(line.input),),
            thing_line(house, line.shutoff),
            (said(line.sediment_trap, yes_no),),
        )
        for owner, line in gas_users(house)
    ]
    head = ("Appliance", "Where", "Input", "Shutoff", "Sediment trap")
    return table("What burns gas", head, rows, (1.3, 3.6, 1.4, 2.4, 1.3))


def _outlets(house: House, gas: Gas) -> tuple[Block, ...]:
    rows = [
        (
            (Tag(o.id),),
            (house.items[o.id].name,),
            (where(house, o.id),),
            (said(o.meant_for),),
            (said(o.capped, yes_no),),
        )
        for o in each(gas.outlets)
    ]
    head = ("Tag", "Outlet", "Where", "Meant for", "Capped")
    return table("Outlets stubbed for later", head, rows, (1, 1.8, 4.6, 1.6, 1), tagged=True)
