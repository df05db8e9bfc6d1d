"""For the service plumber: the house at a glance, every run, models, codes, and how it is known."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.pages.content import (
    Block,
    Facts,
    HouseNote,
    Line,
    Page,
    Para,
    Part,
    SubHead,
    Tag,
    plain,
)
from handbook.pages.parts import runs
from handbook.pages.parts.cleanouts import TO_ALL, all_cleanouts, first_to_try, tapes_of
from handbook.pages.parts.drain_loads import drain_loads
from handbook.pages.parts.gas_left import sizing
from handbook.pages.parts.hot_water import relief_words
from handbook.pages.parts.phrases import (
    NONE,
    NOT_RECORDED,
    NOTHING,
    day,
    established,
    joined,
    said,
    short,
    table,
    where,
)
from handbook.pages.parts.say import Say
from handbook.pages.parts.sources import sources
from handbook.pages.parts.spills import spill_tables
from handbook.pages.parts.stoppages import stoppage_blocks
from handbook.pages.parts.ties import tie_table
from handbook.pages.parts.waits import wait_table
from handbook.pages.parts.water_flow import water_flow
from handbook.pages.risers import drain_diagram, water_diagram
from handbook.pages.site_plan import site_plan
from handbook.pages.way_in import way_in
from handbook.record.entry import Entry
from handbook.record.grammar.common import Fed, Run, Seen, WaterRun, each, given
from handbook.record.grammar.drains import Cleanout
from handbook.record.grammar.gas import Appliance
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.water import Equipment, Softener, Water
from handbook.record.ids import entries

Row = tuple[str, Line]


def plumber_part(house: House) -> tuple[Part, ...]:
    """Return the dense part: trade notation, tables, nothing explained."""
    pages = (
        *_page("at_a_glance", "At a glance", _at_a_glance(house)),
        *_sheet("way_in", "The way to the inside main", way_in(house)),
        *_page("ties_outdoors", "Outdoors: ties", _ties_outdoors(house)),
        *_sheet("site_plan", "Site plan", site_plan(house)),
        *_sheet("water_riser", "Riser diagram: water", water_diagram(house)),
        *_page("water_pipe", "Water pipe", runs.water_runs(house)),
        *_page("water_flow", "Water: pressure and flow", water_flow(house)),
        *_page("spill_and_drain", "Spill and drain-down", spill_tables(house)),
        *_sheet("drain_riser", "Riser diagram: drains", drain_diagram(house)),
        *_page("drain_pipe", "Drains", (*runs.drain_runs(house), *runs.vents(house))),
        *_page("drain_loading", "What the drains carry", drain_loads(house)),
        *_page("stoppage_table", "Stoppages", stoppage_blocks(house)),
        *_page("hot_water_ways", "Hot water: pipe and waits", wait_table(house)),
        *_page("gas_pipe", "Gas pipe", (*runs.gas_runs(house), *sizing(house))),
        *_page("buried_and_hidden", "Indoors: ties of what is hidden", _ties(house)),
        *_page("equipment_list", "Equipment", _models(house)),
        *_page("codes_and_permit", "Codes, permit, inspections", _codes(house)),
        *_page("how_known", "How each fact was established", _known(house)),
        *_page("plumber_notes", "Notes for the plumber", _notes(house)),
    )
    if not pages:
        return ()
    pages += _page("table_sources", "Where the numbers come from", sources())
    return (Part("plumber_part", "For the service plumber", pages),)


def _page(name: str, title: str, blocks: tuple[Block, ...]) -> tuple[Page, ...]:
    return (Page(name, title, blocks),) if blocks else ()


def _sheet(name: str, title: str, blocks: tuple[Block, ...]) -> tuple[Page, ...]:
    """Return a page whose drawing takes a whole sheet."""
    return (Page(name, title, blocks, wide=True),) if blocks else ()


def _at_a_glance(house: House) -> tuple[Block, ...]:
    """Return the page's facts, holes and all; nothing where there would be only holes."""
    rows = tuple(_glance(house))
    if all(plain(line) in (NOT_RECORDED, NONE) for _, line in rows):
        return ()
    return (Facts(rows), *_cleanouts(house))


def _glance(house: House) -> Iterator[Row]:
    water, say = house.record.water or Water(), Say.of(house)
    yield "Static pressure", (_static(house, water),)
    yield "Water service", _service(house, water)
    meter = given(water.meter)
    words = f", size {said(meter.size)}, no. {said(meter.number)}" if meter else ""
    yield "Water meter", ((Tag(meter.id), words) if meter else (said(water.meter),))
    for item in house.items.values():
        if isinstance(item.entry, Equipment) and item.kind == "pressure-reducing valve":
            set_to = say.pressure(item.entry.set_to)
            yield "Reducing valve", (Tag(item.id), f", set to {set_to}, {where(house, item.id)}")
    for label, main in (("Interior", water.inside_main), ("Exterior", water.outside_main)):
        named = given(main)
        place: Line = (f", {where(house, named)}",) if named else ()
        yield f"{label} main", (*short(house, named, said(main)), *place)
    yield "Water pipe made of", (_materials(house, "WaterRun"),)
    yield "Building drain", runs.sizes_of(house, "building drain")
    yield "Building sewer", runs.sizes_of(house, "building sewer")
    end = house.record.drains.discharge if house.record.drains else None
    yield "Discharges to", (said(end.kind if end else None),)
    yield "Drain pipe made of", (_materials(house, "DrainRun"),)
    yield from _gas(house)
    for heater in each(house.record.heaters):
        yield "Water heater", _heater(house, heater)


def _static(house: House, water: Water) -> str:
    static = water.static_pressure
    if static is None:
        return NOT_RECORDED
    value = Say.of(house).pressure(static.value)
    return f"{value} at {said(static.at)}; {established(static.seen, 'measured')}"


def _service(house: House, water: Water) -> Line:
    """Return the pipe from the street to the first reducing valve, or else to the inner main."""
    fed = {entry.id: entry for entry in entries(water) if isinstance(entry, Fed)}
    valves = [e.id for e in each(water.equipment) if e.kind == "pressure-reducing valve"]
    at: str | None = next(iter((*valves, *house.water.mains)), None)
    found: list[tuple[WaterRun | None, Line]] = []
    while at in fed and not any(plain(thing) == at for _, thing in found):
        found.append((fed[at].by, short(house, at)))
        at = fed[at].from_
    if all(run is None for run, _ in found):
        return (NOT_RECORDED,)
    return runs.in_order(house, found[::-1])


def _materials(house: House, kind: str) -> str:
    """Return every material of one kind of pipe, most used first as the record has them."""
    found = [
        str(getattr(entry, "material", None))
        for entry in entries(house.record)
        if isinstance(entry, Run) and type(entry).__name__ == kind
    ]
    return ", ".join(dict.fromkeys(m for m in found if m != "None")) or NOT_RECORDED


def _gas(house: House) -> Iterator[Row]:
    gas = given(house.record.gas)
    if gas is None:
        yield "Gas", (said(house.record.gas),)
        return
    meter = gas.meter
    words = f"class {said(meter.capacity)}, delivers {said(meter.delivers)}" if meter else ""
    yield "Gas", (f"{said(gas.fuel)}; {words or 'meter ' + NOT_RECORDED}",)
    yield "Gas pipe made of", (_materials(house, "GasRun"),)


def _heater(house: House, heater: Heater) -> Line:
    say, gas = Say.of(house), given(heater.gas)
    rate = gas.input if gas and gas.input is not None else heater.input
    words = [said(heater.kind), said(heater.fuel), say.volume(heater.capacity), say.heat(rate)]
    words += [f"T&P {relief_words(house, heater.relief)}"]
    return (Tag(heater.id), ": " + ", ".join(words))


def _cleanouts(house: House) -> tuple[Block, ...]:
    if not all_cleanouts(house):
        return ()
    first = first_to_try(house)
    taped = tapes_of(house, house.items[first.id]) if first else None
    found: Line = ("; the first to try with two tapes: ", taped) if taped else ()
    return (Para(("Cleanouts: ", TO_ALL, *found, ".")),)


def _ties(house: House) -> tuple[Block, ...]:
    """Return the ties of all that is hidden indoors; the cleanouts have theirs in their own part,
    and what is outdoors by the site plan."""
    inside = (i for i in house.items.values() if house.places.level_id(i.place) != OUTSIDE)
    return tie_table(house, (item for item in inside if not isinstance(item.entry, Cleanout)))


def _ties_outdoors(house: House) -> tuple[Block, ...]:
    outside = (i for i in house.items.values() if house.places.level_id(i.place) == OUTSIDE)
    return tie_table(house, outside)


def _models(house: House) -> tuple[Block, ...]:
    kinds = Equipment | Softener | Heater | Appliance
    found = [item for item in house.items.values() if isinstance(item.entry, kinds)]
    rows = [
        (
            (Tag(item.id), f" {item.name}") if item.tagged else (item.name,),
            (item.kind,),
            (said(getattr(item.entry, "model", None)),),
            (_serial(item.entry),),
        )
        for item in found
    ]
    head = ("Thing", "Kind", "Model", "Serial number")
    return table("Equipment and appliances", head, rows, (3.4, 2.2, 3, 1.8))


def _serial(entry: Entry) -> str:
    """Return a serial number; a hyphen for what the record asks none of."""
    return said(entry.serial) if hasattr(entry, "serial") else NOTHING


def _codes(house: House) -> tuple[Block, ...]:
    facts = house.record.house
    permit = given(facts.permit)
    codes = [((code.name,), (code.edition,), (code.note or "-",)) for code in facts.codes or ()]
    inspections = [
        ((i.what,), (said(i.number),), (said(i.on, day),), (said(i.result),))
        for i in each(facts.inspections)
    ]
    if not (facts.codes or inspections or facts.permit is not None):
        return ()
    number = f"{permit.number}, office: {said(permit.office)}" if permit else said(facts.permit)
    return (
        Facts((("Permit", (number,)),)),
        *table("Codes it was built under", ("Code", "Edition", "Remark"), codes, (4, 2, 4)),
        *table(
            "Inspections", ("What", "Number", "Day", "Result"), inspections, (3.2, 2.6, 2.6, 1.8)
        ),
        Para(("The local code and the inspector decide; another edition may say otherwise.",)),
    )


def _known(house: House) -> tuple[Block, ...]:
    """Group the things by how, by whom and when they were seen."""
    groups: dict[str, list[Line]] = {}
    for item in house.items.values():
        if item.tagged or item.system == "fixture" or _seen(item.entry):
            words = established(_seen(item.entry))
            groups.setdefault(words, []).append(short(house, item.id))
    if set(groups) <= {NOT_RECORDED}:
        return ()
    rows = [((how,), joined(things)) for how, things in groups.items()]
    return table("How it is known", ("Established", "Things"), rows, (3, 7))


def _seen(entry: Entry) -> Seen | None:
    seen: Seen | None = getattr(entry, "seen", None)
    return seen


def _notes(house: House) -> tuple[Block, ...]:
    blocks: list[Block] = []
    for note in house.record.notes or ():
        if note.part == "plumber":
            blocks += (SubHead(note.title), HouseNote(note.text))
    return tuple(blocks)
