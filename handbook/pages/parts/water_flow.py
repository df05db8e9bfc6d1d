"""Pressure and flow for the service plumber, and one sentence a bathroom for the people in it."""

from collections.abc import Iterator
from operator import itemgetter

from handbook.answers.drain_loading import drain_loading
from handbook.answers.flow import flow
from handbook.answers.flowing.bathrooms import bathroom
from handbook.answers.flowing.flow_results import DeviceFlow, FixtureFlow, Flow, RunFlow
from handbook.answers.flowing.margins import Margins
from handbook.answers.flowing.speed_limits import limits_said
from handbook.answers.flowing.upsizing import TOLD
from handbook.house.house import House
from handbook.pages.content import Block, Bullets, Facts, Go, Line, Para, SubHead, Tag
from handbook.pages.parts.flow_say import FlowSay, between
from handbook.pages.parts.phrases import HOLE, called, short, table
from handbook.pages.parts.say import Say
from handbook.pages.parts.water_settings import settings
from handbook.pages.parts.water_way import way_blocks
from handbook.pages.words import capital, keyless, lower
from handbook.tables import table as published


def water_flow(house: House) -> tuple[Block, ...]:
    """Return what is left at peak, the profile, the fixtures, the runs, and what it leans on."""
    if not house.water.own or all(s.run is None for s in house.hydraulics.stretches.values()):
        return ()
    answer, say = flow(house), FlowSay(house.record.house.units)
    return (
        *_left(house, answer, say),
        *(way_blocks(house, answer.margins, say) if answer.margins else ()),
        *_fixtures(house, answer, say),
        *_runs(house, answer, say),
        *_leans(answer),
    )


def bath_sentence(house: House, room: str | None) -> tuple[Block, ...]:
    """Return what a bathroom's shower, tub or sink loses when something else runs."""
    found = bathroom(house, room) if room else None
    return (SubHead("When water runs elsewhere"), Para((found.sentence,))) if found else ()


# --- what is left ----------------------------------------------------------------------------


def _left(house: House, answer: Flow, say: FlowSay) -> tuple[Block, ...]:
    rows: list[tuple[str, Line]] = [
        ("Static pressure", (say.psi(answer.static_psi),)),
        ("Peak demand", (f"{answer.wsfu:g} WSFU: {say.gpm(answer.demand_gpm)}{_upc(house)}",)),
    ]
    if not (found := answer.margins):
        return (Facts(tuple(rows)),)
    rows += _margin_rows(house, answer, found, say)
    return (
        Facts(tuple(rows)),
        *settings(house, found, say),
        *_larger(house, answer, found, say),
    )


def _larger(house: House, answer: Flow, found: Margins, say: FlowSay) -> tuple[Block, ...]:
    """Return the pipes whose next size gives the worst fixture most, each tried by itself."""
    pipe = Say.of(house, HOLE)
    rows = [
        (
            _to(house, answer.runs[each.run]),
            (pipe.run(answer.runs[each.run].run),),
            (each.to_size,),
            (say.psi(each.gives_back_psi),),
            (say.psi(each.pressure_psi),),
        )
        for each in found.upsizings[:TOLD]
    ]
    caption = "One size more, one pipe at a time: what the worst fixture would have at peak"
    head = ("Pipe to", "Now", "Next size", "Gives back", "Then there")
    return table(caption, head, rows, (2.4, 3, 1.5, 1.5, 1.5))


def _margin_rows(
    house: House, answer: Flow, found: Margins, say: FlowSay
) -> Iterator[tuple[str, Line]]:
    name = lower(house.items[found.worst].name)
    side = found.supply.rpartition(".")[2]
    yield (
        "Worst at peak",
        (f"{name}, {side}: {say.psi(found.pressure_psi)}; needs {say.psi(found.need_psi)}",),
    )
    if pipe := found.costliest:
        to = _to(house, answer.runs[pipe.id])
        yield "Pipe that costs most", ("to ", *to, f": {say.psi(pipe.psi)}")
    if found.equipment:
        words = f": {say.psi(found.equipment.psi)}"
        yield "Equipment that costs most", (*short(house, found.equipment.id), words)
    if spare := found.spare:
        left = f"leaves {say.psi(spare.pressure_psi)} at the worst fixture"
        holds = "enough" if spare.holds else "too little"
        yield "One bathroom more", (f"{say.gpm(spare.demand_gpm)} at peak, {left}: {holds}",)
        if drain_loading(house).one_more_bath:
            yield "Its drains", (Go("drain_loading", "What the drains carry"),)


def _upc(house: House) -> str:
    """Return the house's fixture units on the UPC's own scale, which goes with its own curve."""
    rows = published("fixture_units_upc").values
    kinds = [house.items[owner].kind for owner in house.water.own]
    total = sum(rows.get(kind, 0.0) for kind in kinds)
    hoses = kinds.count("hose bibb")
    if hoses > 1:
        total -= (hoses - 1) * (rows["hose bibb"] - rows["hose bibb, each more"])
    return f" (on the UPC's own scale, with its own curve: {total:g})" if total else ""


# --- fixtures and runs -----------------------------------------------------------------------


def _fixtures(house: House, answer: Flow, say: FlowSay) -> tuple[Block, ...]:
    rows = [
        (
            called(house, each.id),
            (_rated(each, say),),
            (_need(each, say),),
            (say.psi(each.static_psi),),
            (say.reading(each.alone),),
            (say.marked(each.speed_ft_s, each.limit),),
            (say.reading(each.peak),),
        )
        for each in answer.fixtures.values()
    ]
    head = ("Fixture", "Rated", "Needs", "At rest", "Alone", "Speed", "At peak")
    widths = (2.8, 2, 0.9, 0.9, 1.8, 1.2, 1.8)
    blocks = table("Pressure and flow at each fixture", head, rows, widths)
    said = (Para((_COLUMNS,)), *_held_back(answer, say), Para((_limits(answer, say),)))
    return (*blocks, *said) if blocks else ()


def _rated(each: FixtureFlow, say: FlowSay) -> str:
    if each.rating is None:
        return HOLE
    return f"{say.gpm(each.rating.gpm)} at {say.psi(each.rating.psi)}"


def _held_back(answer: Flow, say: FlowSay) -> tuple[Block, ...]:
    """Say why what has its pressure may flow little, by the fixture that is held back most."""
    held = [(s, each) for each in answer.fixtures.values() if (s := each.held_back) is not None]
    if not held:
        return ()
    each = min(held, key=itemgetter(0))[1]
    has = f"{say.psi(each.peak.pressure_psi)} at peak, and it needs {say.psi(each.need_psi)}"
    return (
        Para(
            (
                "Rated: what the maker of its head, aerator or valve says it gives, where that is "
                "recorded. At a lower pressure it passes less, as the square root of the pressure. "
                f"{each.name}, has {has}; still it flows only {say.gpm(each.peak.flow_gpm)}, for "
                f"it is rated {_rated(each, say)}. A head rated "
                "for that flow at a lower pressure gives more.",
            )
        ),
    )


_COLUMNS = (
    "Alone: wide open, nothing else running; speed is then in its own pipe. At peak: wide open "
    "while every pipe on its way carries its peak demand, or what the fixture itself draws where "
    "that is more."
)


def _limits(answer: Flow, say: FlowSay) -> str:
    """Say how fast water should run, by whom, and what the marks beside a speed mean."""
    hangs = any(each.limit and each.limit.needs for each in answer.runs.values())
    return (
        f"Limits for speed: {limits_said(say.units)}. They are set for the peak demand of a pipe. "
        "An outlet wide open may run faster than its demand: ! in the table above means noise and "
        "wear while it runs so, ! in the table below a pipe that is too small for its demand."
        + (" ? means that the limit hangs on the heater's setting, not recorded." if hangs else "")
    )


def _need(each: FixtureFlow, say: FlowSay) -> str:
    if each.need_psi is None:
        return "-"
    return say.psi(each.need_psi)


def _runs(house: House, answer: Flow, say: FlowSay) -> tuple[Block, ...]:
    pipe = Say.of(house, HOLE)
    rows = [
        (
            _to(house, each),
            (pipe.run(each.run),),
            (f"{each.wsfu:g}",),
            (say.gpm(each.demand_gpm),),
            (say.marked(each.velocity_ft_s, each.limit),),
            (_loss(each, say),),
        )
        for each in answer.runs.values()
        if each.fixtures > 1 or each.too_fast
    ]
    head = ("Pipe to", "Pipe", "WSFU", "Peak", "Speed", "Loss")
    caption = "What each run to more than one fixture carries at peak (!: faster than its limit)"
    said = (
        "The loss is of pipe, fittings and the valve at its end. What meter and equipment take "
        "stands below."
    )
    devices = [
        ((Tag(each.id),), (each.kind,), (say.gpm(each.demand_gpm),), (_loss(each, say),))
        for each in answer.devices.values()
    ]
    return (
        *table(caption, head, rows, (2.4, 3, 0.9, 1.2, 1.2, 1.2)),
        Para((said,)),
        *table("Equipment at peak", ("Tag", "Kind", "Peak", "Loss"), devices, (1, 3, 2, 2)),
    )


def _loss(each: RunFlow | DeviceFlow, say: FlowSay) -> str:
    return between(say.psi(each.kind_loss_psi), say.psi(each.loss_psi))


def _to(house: House, each: RunFlow) -> Line:
    if each.thing in house.water.own:
        side = each.id.removeprefix(each.thing).lstrip(".")
        return (f"{house.items[each.thing].name}{f' ({side})' if side else ''}",)
    if each.id == each.thing:
        return (Tag(each.id),)
    rest = each.id.removeprefix(each.thing).lstrip(".")
    return (Tag(each.thing), f" {rest}" if " from " in each.id else f" ({rest})")


def _leans(answer: Flow) -> tuple[Block, ...]:
    blocks: list[Block] = []
    if answer.assumed:
        blocks += [SubHead("Assumed"), Bullets(tuple((keyless(said),) for said in answer.assumed))]
    if answer.missing:
        wanted = tuple((f"{capital(keyless(said))}.",) for said in answer.missing)
        blocks += [SubHead("Not recorded"), Bullets(wanted)]
    return tuple(blocks)
