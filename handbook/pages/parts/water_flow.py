"""Pressure and flow for the service plumber, and one sentence a bathroom for the people in it."""

from collections.abc import Iterator
from fractions import Fraction

from handbook import measures
from handbook.answers.flow import flow, velocity_limit_of
from handbook.answers.flowing.bathrooms import bathroom
from handbook.answers.flowing.flow_results import DeviceFlow, FixtureFlow, Flow, RunFlow
from handbook.answers.flowing.margins import Margins
from handbook.answers.flowing.pressure_profile import WayStep, profile, way_table
from handbook.answers.flowing.readings import Reading
from handbook.house.house import House
from handbook.measures import KPA_PER_PSI, METRES_PER_FOOT, Units
from handbook.pages.content import (
    Block,
    Bullets,
    Facts,
    Line,
    Para,
    Profile,
    ProfileMark,
    SubHead,
    Tag,
    plain,
)
from handbook.pages.parts.phrases import short, table
from handbook.pages.parts.say import Say
from handbook.pages.words import lower
from handbook.tables import table as published

HOLE = "n/r"


def water_flow(house: House) -> tuple[Block, ...]:
    """Return what is left at peak, the profile, the fixtures, the runs, and what it leans on."""
    if not house.water.own or all(s.run is None for s in house.hydraulics.stretches.values()):
        return ()
    answer, say = flow(house), _Sayer(house.record.house.units)
    return (
        *_left(house, answer, say),
        *(_way(house, answer.margins, say) if answer.margins else ()),
        *_fixtures(house, answer, say),
        *_runs(house, answer, say),
        *_leans(answer),
    )


def bath_sentence(house: House, room: str | None) -> tuple[Block, ...]:
    """Return what a bathroom's shower, tub or sink loses when something else runs."""
    found = bathroom(house, room) if room else None
    return (SubHead("When water runs elsewhere"), Para((found.sentence,))) if found else ()


class _Sayer:
    """Says what is a plain number in an answer: psi, gpm, ft/s."""

    def __init__(self, units: Units) -> None:
        self.units = units

    def psi(self, value: float | None) -> str:
        if value is None:
            return "-"
        return measures.say_pressure(measures.Pressure(max(0.0, value)), self.units)

    def gpm(self, value: float | None) -> str:
        return "-" if value is None else measures.say_flow(measures.Flow(value), self.units)

    def speed(self, value: float | None) -> str:
        if value is None:
            return "-"
        return measures.say_velocity(measures.Velocity(value), self.units)

    def height(self, feet: float | None) -> str:
        if feet is None:
            return "-"
        return measures.say_length(measures.Length(feet * 12), self.units, Fraction(1))

    def reading(self, found: Reading) -> str:
        pressure = _between(self.psi(found.pressure_psi), self.psi(found.kind_pressure_psi))
        if found.flow_gpm is None:
            return pressure
        return f"{pressure}; {_between(self.gpm(found.flow_gpm), self.gpm(found.kind_flow_gpm))}"


def _between(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


# --- what is left ----------------------------------------------------------------------------


def _left(house: House, answer: Flow, say: _Sayer) -> tuple[Block, ...]:
    rows: list[tuple[str, Line]] = [
        ("Static pressure", (say.psi(answer.static_psi),)),
        ("Peak demand", (f"{answer.wsfu:g} WSFU: {say.gpm(answer.demand_gpm)}{_upc(house)}",)),
    ]
    if found := answer.margins:
        rows += _margin_rows(house, found, say)
    return (Facts(tuple(rows)),)


def _margin_rows(house: House, found: Margins, say: _Sayer) -> Iterator[tuple[str, Line]]:
    name = lower(house.items[found.worst].name)
    side = found.supply.rpartition(".")[2]
    yield (
        "Worst at peak",
        (f"{name}, {side}: {say.psi(found.pressure_psi)}; needs {say.psi(found.need_psi)}",),
    )
    if pipe := found.costliest:
        yield "Pipe that costs most", (f"to {pipe.id}: {say.psi(pipe.psi)}",)
    if found.equipment:
        words = f": {say.psi(found.equipment.psi)}"
        yield "Equipment that costs most", (*short(house, found.equipment.id), words)
    if larger := found.upsizing:
        back = say.psi(larger.gives_back_psi)
        where = f"for the pipe to {larger.run}"
        yield "One size more", (f"{larger.to_size} {where} gives back {back}",)
    if spare := found.spare:
        left = f"leaves {say.psi(spare.pressure_psi)} at the worst fixture"
        holds = "enough" if spare.holds else "too little"
        yield "One bathroom more", (f"{say.gpm(spare.demand_gpm)} at peak, {left}: {holds}",)


def _upc(house: House) -> str:
    """Return the house's fixture units on the UPC's own scale, which goes with its own curve."""
    rows = published("fixture_units_upc").values
    kinds = [house.items[owner].kind for owner in house.water.own]
    total = sum(rows.get(kind, 0.0) for kind in kinds)
    hoses = kinds.count("hose bibb")
    if hoses > 1:
        total -= (hoses - 1) * (rows["hose bibb"] - rows["hose bibb, each more"])
    return f" (on the UPC's own scale, with its own curve: {total:g})" if total else ""


# --- the profile -----------------------------------------------------------------------------


def _way(house: House, found: Margins, say: _Sayer) -> tuple[Block, ...]:
    """Return the drawing of the way to the worst fixture, and its steps as a table."""
    drawing = _profile(house, found, say)
    if not drawing:
        return ()
    name = lower(house.items[found.worst].name)
    return (SubHead(f"From the meter to the {name}"), *drawing, *_steps(house, found, say))


def _steps(house: House, found: Margins, say: _Sayer) -> tuple[Block, ...]:
    pipe = Say.of(house, HOLE)
    rows = [
        (
            _thing(house, step, found),
            (pipe.run(step.pipe.run) if step.pipe else house.items[step.thing].kind,),
            (say.gpm(step.gpm),),
            (say.speed(step.speed_ft_s),),
            (say.psi(step.loss_psi),),
            (say.height(step.height_ft),),
            (say.psi(step.left_psi),),
        )
        for step in way_table(house, found)
    ]
    head = ("To", "Pipe or equipment", "Flow", "Speed", "Takes", "Height", "Left")
    return table("The same way, step by step", head, rows, (1.5, 2.6, 1.3, 1.3, 1.2, 1.5, 1.1))


def _thing(house: House, step: WayStep, found: Margins) -> Line:
    return (house.items[found.worst].name,) if step.thing == found.worst else (Tag(step.thing),)


def _profile(house: House, found: Margins, say: _Sayer) -> tuple[Block, ...]:
    metric = say.units == "metric"
    pressure, length = (KPA_PER_PSI, METRES_PER_FOOT) if metric else (1.0, 1.0)
    points = profile(house, found)
    if len(points) < 2:
        return ()
    name = lower(house.items[found.worst].name)
    marks = tuple(
        ProfileMark(
            plain(short(house, point.thing)),
            point.along_ft * length,
            point.before_psi * pressure,
            point.behind_psi * pressure,
            point.rest_before_psi * pressure,
            point.rest_behind_psi * pressure,
        )
        for point in points
    )
    need, left = say.psi(found.need_psi), say.psi(found.pressure_psi)
    title = (
        f"Pressure from {marks[0].label} to the {name} at peak demand: {left} is left there, "
        f"and it needs {need}."
    )
    drawing = Profile(
        title,
        marks,
        found.need_psi * pressure,
        "kPa" if metric else "psi",
        "at peak demand",
        "nothing running",
        f"needs {need}",
    )
    said = (
        f"Pressure along the pipe, from {marks[0].label} to the {name}; equipment stands upright."
    )
    return (Para((said,)), drawing)


# --- fixtures and runs -----------------------------------------------------------------------


def _fixtures(house: House, answer: Flow, say: _Sayer) -> tuple[Block, ...]:
    rows = [
        (
            (house.items[each.id].name,),
            (_need(each, say),),
            (say.psi(each.static_psi),),
            (say.reading(each.alone),),
            (say.speed(each.speed_ft_s) + (" !" if each.too_fast else ""),),
            (say.reading(each.peak),),
        )
        for each in answer.fixtures.values()
    ]
    head = ("Fixture", "Needs", "At rest", "Alone", "Speed", "At peak")
    blocks = table("Pressure and flow at each fixture", head, rows, (3, 1.1, 1.1, 2, 1.3, 2))
    return (*blocks, Para((_COLUMNS,))) if blocks else ()


_COLUMNS = (
    "Alone: wide open, nothing else running; speed is then in its own pipe (!: faster than its "
    "limit, for as long as it runs so). At peak: wide open while every pipe on its way carries "
    "its peak demand, or what the fixture itself draws where that is more."
)


def _need(each: FixtureFlow, say: _Sayer) -> str:
    if each.need_psi is None:
        return "-"
    return say.psi(each.need_psi)


def _runs(house: House, answer: Flow, say: _Sayer) -> tuple[Block, ...]:
    pipe = Say.of(house, HOLE)
    rows = [
        (
            _to(house, each),
            (pipe.run(each.run),),
            (f"{each.wsfu:g}",),
            (say.gpm(each.demand_gpm),),
            (say.speed(each.velocity_ft_s) + (" !" if each.too_fast else ""),),
            (_loss(each, say),),
        )
        for each in answer.runs.values()
        if each.fixtures > 1 or each.too_fast
    ]
    head = ("Pipe to", "Pipe", "WSFU", "Peak", "Speed", "Loss")
    caption = "What each run to more than one fixture carries at peak (!: faster than its limit)"
    metal, plastic = velocity_limit_of("metal"), velocity_limit_of("plastic")
    said = (
        f"Limits at peak: {say.speed(metal)} in metal, {say.speed(plastic)} in plastic pipe. "
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


def _loss(each: RunFlow | DeviceFlow, say: _Sayer) -> str:
    return _between(say.psi(each.kind_loss_psi), say.psi(each.loss_psi))


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
        blocks += [SubHead("Assumed"), Bullets(tuple((said,) for said in answer.assumed))]
    if answer.missing:
        wanted = tuple((f"{said[:1].upper()}{said[1:]}.",) for said in answer.missing)
        blocks += [SubHead("Not recorded"), Bullets(wanted)]
    return tuple(blocks)
