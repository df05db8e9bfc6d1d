"""The water heaters: what they are, how hot, what protects them and where that ends."""

from handbook.answers.flowing.speed_limits import MIXER
from handbook.answers.heating.scald import scald as burns_in
from handbook.answers.isolate import Isolation, isolate
from handbook.house.house import House
from handbook.house.water import fed_through
from handbook.measures import HeatRate, Temperature
from handbook.pages.content import (
    Block,
    Facts,
    Line,
    Note,
    Page,
    Part,
    Step,
    SubHead,
    plain,
)
from handbook.pages.heater_first import if_it_sprays, leave_it, relief_drips
from handbook.pages.heater_values import lettered
from handbook.pages.parts.equipment import facts as equipment_facts
from handbook.pages.parts.ladders import ladder, ladder_table
from handbook.pages.parts.own import own_blocks
from handbook.pages.parts.phrases import (
    NOT_RECORDED,
    Rows,
    called,
    day,
    established,
    joined,
    said,
    thing_line,
    told,
    where,
)
from handbook.pages.parts.say import Say
from handbook.pages.parts.swelling import swelling
from handbook.pages.parts.waits import waits
from handbook.pages.situation_tables import burns
from handbook.pages.valves import first
from handbook.record.grammar.common import Ending, each, given
from handbook.record.grammar.heaters import ExpansionTank, Heater, Relief
from handbook.record.knowing import Absent


def hot_water_part(house: House) -> tuple[Part, ...]:
    """Return the part on hot water; none where no heater is recorded."""
    heaters = each(house.record.heaters)
    if not heaters:
        return ()
    pages = (
        *_settings(house, heaters),
        *waits(house),
        *(heater_page(house, it, brief=True) for it in heaters),
        *swelling(house),
    )
    pump = given(house.record.water.recirculation) if house.record.water else None
    if pump:
        pages += (_recirculation(house, pump.id),)
    return (Part("hot_water", "Hot water", pages),)


def _settings(house: House, heaters: tuple[Heater, ...]) -> tuple[Page, ...]:
    notes = [Note("warning", scald(house, heater.setting)) for heater in heaters if heater.setting]
    page = Page("how_hot", "How hot the water is", (*notes, *burns(house)))
    return (page,) if notes else ()


def heater_page(house: House, heater: Heater, *, brief: bool = False) -> Page:
    """Return the page of one heater; `brief` for the book, whose part says the warning once."""
    item, setting = house.items[heater.id], heater.setting
    known = Facts((*_facts(house, heater), *_protected(house, heater)))
    leaking, own = _leaking(house, heater.id, brief), own_blocks(house, item, brief=brief)
    blocks: tuple[Block, ...] = (known, *leaking, *own)
    if not brief:  # on a phone what to do comes first
        warned = (Note("warning", scald(house, setting)),) if setting else ()
        blocks = (*leaking, *warned, SubHead("What is recorded of it"), known, *own)
    summary = (f"{said(heater.kind).capitalize()} water heater",)
    return Page(heater.id, item.name, blocks, summary, tag=heater.id)


def _leaking(house: House, thing: str, brief: bool) -> tuple[Block, ...]:
    answer = isolate(house, thing)
    if brief:
        return ladder_table(house, answer, "If it leaks")
    return (SubHead("If it leaks"), *ladder(house, answer, _first(house, answer)))


def _first(house: House, answer: Isolation) -> tuple[Step, ...]:
    """When to leave it alone, before the first valve: a phone is read where it leaks."""
    before = (leave_it(house), *relief_drips(house))
    return (*before, *if_it_sprays(house, answer.thing, first(answer)))


def scald(house: House, setting: Temperature) -> tuple[Line, ...]:
    """Return what water at this setting does to skin; never kinder than the table's next row."""
    at = Say.of(house).temperature(setting)
    burn = burns_in(setting)
    than = "less than " if burn.sooner else ""
    return (
        (f"The heater is set to {at}. Water this hot can scald.",),
        (f"An adult's skin can blister in {than}{_time(burn.seconds)}; a child's sooner.",),
        ("Feel the water with your hand before a child or an old person goes in.",),
    )


def _time(seconds: int) -> str:
    """Return seconds up to two minutes, then whole minutes, rounded down."""
    return f"{seconds} seconds" if seconds < 120 else f"{seconds // 60} minutes"


def _facts(house: House, heater: Heater) -> Rows:
    say = Say.of(house)
    rows: Rows = (
        ("Where", (where(house, heater.id),)),
        ("Kind", (f"{said(heater.kind)}, fuel: {said(heater.fuel)}",)),
        ("Set to", (f"{say.temperature(heater.setting)}{_marks(heater)}",)),
        *_mixed(house, heater),
        ("Controls", (told(said(heater.controls)),)),
        ("Cold shutoff", thing_line(house, heater.cold.stop if heater.cold else None)),
    )
    if heater.fuel != "electric" and not isinstance(heater.gas, Absent):
        gas = given(heater.gas)
        rows += (("Lit by", (said(heater.ignition, _lit_by),)),)
        rows += (("Gas shutoff", thing_line(house, gas.shutoff if gas else None)),)
        rows += (("Flue ends", (told(said(heater.vent)),)),)
    return (
        *rows,
        ("Breaker", (said(heater.breaker),)),
        ("Holds", (say.volume(heater.capacity),)),
        ("Input", (say.heat(_input(heater)),)),
        ("Model", (said(heater.model),)),
        ("Serial number", (said(heater.serial),)),
        ("Installed", (said(heater.installed, day),)),
        ("Checked", (told(established(heater.seen)),)),
    )


def _marks(heater: Heater) -> str:
    """Say, where the record tells of a control marked in letters, what they have to be read by."""
    if heater.setting is None or not lettered(heater):
        return ""
    return ", as recorded; what a letter on its control stands for, its maker's chart says"


def _mixed(house: House, heater: Heater) -> Rows:
    """Return the mixing valves that this heater's water passes: taps behind them run cooler."""
    valves = [each.id for each in house.items.values() if each.kind == MIXER]
    fed = [v for v in valves if heater.id in fed_through(house.water, frozenset({v}))]
    return (("Mixed down by", joined(called(house, v) for v in fed)),) if fed else ()


def _lit_by(ignition: str) -> str:
    return "a pilot" if ignition == "pilot" else "electricity; it has no pilot"


def _input(heater: Heater) -> HeatRate | None:
    gas = given(heater.gas)
    return gas.input if gas and gas.input is not None else heater.input


def _protected(house: House, heater: Heater) -> Rows:
    relief = given(heater.relief)
    rows: Rows = (("Relief valve (T&P)", (relief_words(house, heater.relief),)),)
    if relief:
        rows += (("Relief pipe ends", ending(house, relief.discharge)),)
    rows += (("Expansion tank", _tank(house, heater.expansion_tank)),)
    pan = given(heater.pan)
    return (*rows, ("Pan under it", called(house, pan) if pan else (said(heater.pan),)))


def _tank(house: House, tank: ExpansionTank | Absent | None) -> Line:
    """Return the expansion tank with its size, charge and place."""
    line, found = thing_line(house, tank), given(tank)
    if found is None:
        return line
    words = [f"{label.lower()} {plain(value)}" for label, value in tank_facts(house, found)]
    return (*line, f"; {', '.join(words)}; {where(house, found.id)}")


def relief_words(house: House, relief: Relief | Absent | None) -> str:
    """Return at what a relief valve opens: `opens at 210 F or 150 psi; 3/4 in`."""
    found = given(relief)
    if found is None:
        return said(relief)
    say = Say.of(house)
    opens = [say.temperature(found.temperature), say.pressure(found.pressure)]
    known = [word for word in opens if word != NOT_RECORDED]
    at = "opens at " + " or ".join(known) if known else f"rating {NOT_RECORDED}"
    return f"{at}; size {say.text(found.size)}"


def ending(house: House, end: Ending | Absent | None) -> Line:
    """Return where a drain of a pan, a relief valve or a coil ends, and how it gets there."""
    found = given(end)
    if found is None:
        return (said(end),)
    say = Say.of(house)
    more = [found.where, house.places.say(found.place)]
    if found.above:
        more.append(f"{say.length(found.above)} above {_ABOVE.get(found.to or '', 'it')}")
    if found.by:
        more.append(say.run(found.by))
    return (*ends_over(house, end), *(f"; {words}" for words in more if words))


def ends_over(house: House, end: Ending | Absent | None) -> Line:
    """Return over what a drain ends, and no more: `outdoors`, `Floor drain, utility room`; of a
    laundry box, that it is its standpipe and no machine."""
    found = given(end)
    if found is None:
        return (said(end),)
    if found.drain:
        into = "standpipe of " if found.to == "standpipe" else ""
        return (into, *called(house, found.drain)) if into else called(house, found.drain)
    return (found.to or f"a place that is {NOT_RECORDED}",)


_ABOVE = {"outdoors": "the ground", "floor": "the floor"}
"""What the height of a pipe's end is measured from, where it is not what it ends over."""


def tank_facts(house: House, tank: ExpansionTank) -> Rows:
    """Return what is recorded about an expansion tank."""
    say = Say.of(house)
    return (("Size", (say.volume(tank.size),)), ("Air charge", (say.pressure(tank.precharge),)))


def _recirculation(house: House, pump: str) -> Page:
    item = house.items[pump]
    blocks: tuple[Block, ...] = (
        Facts((("Where", (where(house, pump),)), *equipment_facts(house, item))),
        *_leaking(house, pump, brief=True),
        *own_blocks(house, item, brief=True),
    )
    return Page(pump, item.name, blocks, ("Keeps hot water near the taps",), tag=pump)
