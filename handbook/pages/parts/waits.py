"""How soon hot water comes: for the household a sentence an outlet, for the plumber a table."""

from handbook.answers.heating.hot_said import by_pump, held, needs, verdicts, wait, wasted
from handbook.answers.hot_water import HotWater, Outlet, Way, hot_water
from handbook.house.house import House
from handbook.measures import say_flow, say_length
from handbook.pages.content import Block, Bullets, Go, Line, Page, Para, SubHead, Tag
from handbook.pages.parts.phrases import HOLE, table
from handbook.pages.words import keyless, sentences


def waits(house: House) -> tuple[Page, ...]:
    """Return the page of waits; none where no fixture with hot water is recorded."""
    answer = hot_water(house)
    known = [it for it in answer.outlets if it.from_loop or it.from_heater or it.kept_off]
    blocks: tuple[Block, ...] = ()
    if known:
        blocks = (*_waited(answer, known), *_waste(house, answer), *_taken(answer))
    blocks += _needed(answer)
    return (Page("hot_waits", "How soon hot water comes", blocks),) if blocks else ()


def _waited(answer: HotWater, known: list[Outlet]) -> tuple[Block, ...]:
    """Return the waits: in a table where the pump makes two of one, else a sentence each."""
    rows: list[tuple[Line, ...]] = []
    lines: list[Line] = []
    for outlet in known:
        if both := by_pump(answer, outlet):
            rows.append(((outlet.name,), *((said,) for said in both)))
        else:
            lines.append((f"{outlet.name}: {wait(answer, outlet)}.",))
    head = ("Tap", "While the hot water pump runs", "When it does not")
    found: tuple[Block, ...] = table("Until the water is hot", head, rows, (3, 2.6, 2))
    found += (Bullets(tuple(lines)),) if lines else ()
    return (Para(("Counted from the tap turned full open.",)), *found)


def _waste(house: House, answer: HotWater) -> tuple[Block, ...]:
    units, loop = house.record.house.units, answer.loop
    never = wasted(answer.outlets, units, loop=False)
    always = wasted(answer.outlets, units, loop=True) if loop else None
    if loop and always and never:
        pump, runs = Tag(loop.pump), f" runs whenever a tap is opened, about {never} if it never"
        return (Para((f"Run to waste: about {always} a year if ", pump, f"{runs} does.")),)
    return (Para((f"Run to waste: about {never} a year.",)),) if never else ()


def _taken(answer: HotWater) -> tuple[Block, ...]:
    lines: list[Line] = []
    if answer.loop:
        control = sentences(answer.loop.control or "not recorded when")
        lines.append((Tag(answer.loop.pump), f" runs by: {control}"))
    lines += [(said,) for said in answer.assumed]
    last = "The pipe takes some heat too, so that the water is a little longer in getting hot."
    return (SubHead("How this was reckoned"), Bullets((*lines, (last,))))


def _needed(answer: HotWater) -> tuple[Block, ...]:
    """Return what has to be recorded before the rest can be said; each hole once."""
    holes = dict.fromkeys(need for it in answer.outlets for need in it.missing)
    holes |= dict.fromkeys(answer.missing if answer.outlets else ())
    if not holes:
        return ()
    lines = tuple((keyless(hole),) for hole in holes)
    return (SubHead("Not known yet, because not recorded"), Bullets(lines))


def wait_table(house: House) -> tuple[Block, ...]:
    """Return the plumber's table: a row for each way that hot water has to an outlet."""
    answer = hot_water(house)
    rows = [
        row
        for outlet in answer.outlets
        for row in (_row(house, outlet, way) for way in _ways(outlet))
    ]
    head = ("Outlet", "From", "Pipe", "Holds", "Flow", "Wait", "By the limits")
    widths = (3.2, 1, 1.7, 1.4, 1.4, 0.9, 3)
    found = table("Hot water, from the loop and from the heater", head, rows, widths)
    limits = "Limits: ASPE's classes of wait, WaterSense's water in the pipe, LEED's lengths. "
    whence = Para((limits, Go("table_sources", "Where the numbers come from"), "."))
    return (*found, whence) if found else ()


def _ways(outlet: Outlet) -> tuple[Way | None, ...]:
    near, far = outlet.from_loop, outlet.from_heater
    if near and far and near.source == far.source:
        return (far,)
    return tuple(way for way in (near, far) if way) or (None,)


def _row(house: House, outlet: Outlet, way: Way | None) -> tuple[Line, ...]:
    units = house.record.house.units
    flow = say_flow(outlet.flow, units) if outlet.flow else HOLE
    if way is None:
        return ((outlet.name,), (HOLE,), ("-",), ("-",), (flow,), ("-",), (needs(outlet),))
    return (
        (outlet.name,),
        (Tag(way.source),),
        (say_length(way.length, units),),
        (held(way.volume, units),),
        (flow,),
        (f"{max(1, round(way.seconds))} s",),
        (verdicts(way),),
    )
