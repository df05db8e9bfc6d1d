"""Spill, drain-down and shut-down as pages: why the valve indoors matters, and for the plumber."""

from collections.abc import Iterator, Sequence

from handbook.answers.drain_down import Leaving, drain_down, said_much, said_time
from handbook.answers.flowing.still_running import After
from handbook.answers.pan_flow import PanFlow, pans
from handbook.answers.route import said_seconds
from handbook.answers.shut_down import Do, shut_down
from handbook.answers.spill import Spill, spill, still_runs
from handbook.house.house import House
from handbook.measures import Flow, Units, Volume, say_flow, say_volume
from handbook.pages.content import (
    Block,
    Bullets,
    Go,
    Line,
    Note,
    Page,
    Para,
    Step,
    Steps,
    SubHead,
    Tag,
)
from handbook.pages.parts.phrases import NOT_RECORDED, table
from handbook.pages.whereabouts import named_in, take_along
from handbook.pages.words import capital, keyless, situation
from handbook.record.grammar.places import OUTSIDE

TRIP = Go(situation("trip"), "Shut the water off for a trip")
FROZEN = Go(situation("frozen"), "A pipe may be frozen")
BACK_ON = Go(situation("back-on"), "Turn the water back on")

WORST = 3
"""How many spills a homeowner is told of: those that put most on the floor."""


def spills(house: House) -> tuple[Spill, ...]:
    """Return the spill of every fixture whose flow can be told, the largest first."""
    found = [spill(house, owner) for owner in house.water.own]
    return tuple(sorted((s for s in found if s.gpm), key=lambda s: -(s.gpm or 0.0)))


def why_blocks(house: House) -> tuple[Block, ...]:
    """Return what a homeowner should know of it: each of the worst in one sentence a step."""
    indoors = [found for found in spills(house) if not _outdoors(house, found.thing)]
    told = sorted(indoors, key=_at_the_main, reverse=True)[:WORST]
    if not told or not _at_the_main(told[0]):
        return ()
    rows = tuple(_sentence(house, found) for found in told)
    return (
        Para(("If a supply gives way, water runs until somebody has walked to a valve.",)),
        Bullets(rows),
        Para(
            (
                "Counted from setting out; looking for the valve takes longer. So know the way, "
                "and turn each valve once a year.",
            )
        ),
        *_still(house),
    )


def _still(house: House) -> tuple[Block, ...]:
    """Say what still comes once the last valve is shut, so that nobody thinks it has failed."""
    much = still_running(house)
    said = "After the valve is shut, what stands in the pipes above still runs out"
    return (Para((f"{said}: {much}. The valve has not failed.",)),) if much else ()


def still_running(house: House) -> str:
    """Say how much still runs out once the house's own valves are shut; nothing if not known."""
    after = still_runs(house)
    return _lasting(house, after) if after else ""


def _lasting(house: House, after: After) -> str:
    """Say how much still runs out, and for how long at the least."""
    much = f"up to {say_volume(Volume(after.at_most), _units(house))}"
    return f"{much}, for {said_seconds(after.seconds)} or longer" if after.seconds else much


def _outdoors(house: House, thing: str) -> bool:
    return house.places.level_id(house.items[thing].place) == OUTSIDE


def _at_the_main(found: Spill) -> float:
    """Return what is on the floor by the last valve that an occupant may turn."""
    return max((step.gallons or 0.0 for step in found.steps if not step.utility), default=0.0)


def _sentence(house: House, found: Spill) -> Line:
    line: Line = (
        f"{capital(found.name)}: {say_flow(Flow(found.gpm or 0.0), _units(house))} can run. ",
    )
    for step in found.steps:
        if step.gallons is None or step.seconds is None or step.utility:
            continue
        line += (
            "By ",
            *_tags(step.close),
            f" (about {step.seconds} seconds on foot) {_floor(house, step.gallons)}. ",
        )
    if found.automatic and found.automatic_gallons is not None:
        line += (
            Tag(found.automatic),
            f" closes by itself once its sensor is wet: {_floor(house, found.automatic_gallons)}.",
        )
    return line


def _floor(house: House, gallons: float) -> str:
    return f"{say_volume(Volume(gallons), _units(house))} on the floor"


def _tags(ids: tuple[str, ...]) -> Line:
    line: Line = ()
    for number, name in enumerate(ids):
        line += (" and ", Tag(name)) if number else (Tag(name),)
    return line


def _units(house: House) -> Units:
    return house.record.house.units


_FAUCET = "Close for faucet or hose"
_STOPS = "Close for its stops"


def spill_tables(house: House) -> tuple[Block, ...]:
    """Return the plumber's tables: what runs from each supply, and what to drain for work there."""
    found = spills(house)
    if not found:
        return ()
    rows = tuple(_spill_row(house, each) for each in found)
    drains = tuple(_drain_row(house, each.thing) for each in found)
    assumed = tuple(dict.fromkeys(said for each in found for said in each.assumed))
    return (
        *table(
            "A supply parted at its end",
            ("Fixture", "Flow", "On the floor by", "Then still"),
            rows,
            (2.4, 1.2, 4, 2.4),
        ),
        *table(
            "Before work at a fixture",
            ("Fixture", _FAUCET, _STOPS, "Then runs out", "Where, how long"),
            drains,
            (2.6, 1.6, 1.6, 2.2, 3),
        ),
        Para(
            (
                "For work on a faucet, a fill valve or a hose the fixture's own stops are enough, "
                "and nothing runs out but what stands in its tubes or hoses. For work on the stops "
                "themselves, on the pipe to them, or where there are none, close the valves of the "
                "third column; what stands in the pipes above then runs out, as the last two say.",
            )
        ),
        SubHead("Assumed"),
        Bullets(tuple((keyless(said),) for said in assumed)),
    )


def _spill_row(house: House, found: Spill) -> tuple[Line, ...]:
    units = _units(house)
    by: Line = ()
    for step in found.steps:
        if step.gallons is None:
            continue
        by += ("; ",) if by else ()
        by += (*_tags(step.close), f" {say_volume(Volume(step.gallons), units)}")
    last = found.steps[-1].after if found.steps else None
    still = _lasting(house, last) if last and last.at_most else "nothing"
    return (
        (found.name,),
        (say_flow(Flow(found.gpm or 0.0), units),),
        by or (NOT_RECORDED,),
        (still,),
    )


def _drain_row(house: House, thing: str) -> tuple[Line, ...]:
    answer = drain_down(house, thing)
    none: Line = ("none of its own",)
    ways = [way for way in answer.leaving if way.at_most]
    held = "; ".join(_held(house, way) for way in ways)
    return (
        (answer.name,),
        _tags(answer.stops) if answer.stops else none,
        _tags(answer.close) or (NOT_RECORDED,),
        (held or (NOT_RECORDED if answer.missing else "nothing"),),
        ("; ".join(_leave(house, ways)) or "-",),
    )


def _held(house: House, way: Leaving) -> str:
    return f"{' and '.join(way.sides)} {said_much(way.at_most, _units(house))}"


def _leave(house: House, ways: Sequence[Leaving]) -> Iterator[str]:
    """Say each place once where water leaves, and how long the slower way there takes."""
    longest: dict[str | None, float] = {}
    for way in ways:
        longest[way.low] = max(longest.get(way.low, 0.0), way.seconds or 0.0)
    for low, seconds in longest.items():
        place = house.items[low].name if low else "at the work itself"
        yield f"{place}, {said_time(seconds)} or longer" if seconds else place


def freeze_page(house: House) -> tuple[Page, ...]:
    """Return the page that drains the house against a freeze and brings it back."""
    answer = shut_down(house)
    if answer.missing:
        return ()
    leave = say_volume(Volume(answer.gallons), _units(house)) if answer.gallons else ""
    caution = Note(
        "notice",
        (
            ("Water that freezes in a pipe splits it. It leaks once it thaws.",),
            (
                "A heater, softener, traps, machines, dips and the pipe up to the main stay full. "
                "A licensed plumber empties them.",
            ),
            ("Nobody relights an appliance. The gas company or a licensed plumber does that.",),
            ("If the heat stays on while you are away, see ", TRIP, " instead."),
        ),
    )
    blocks: tuple[Block, ...] = (
        caution,
        SubHead("Drain the pipes"),
        Steps(tuple(_step(house, each) for each in answer.down)),
        *((Para((f"The pipes give up to {leave} to the lowest tap.",)),) if leave else ()),
        SubHead("Bring the water back"),
        Steps(tuple(_step(house, each) for each in answer.back)),
        Para(
            ("If a tap gives no water, see ", FROZEN, "."),
        ),
        Para(
            ("If the pipes were not drained, see ", BACK_ON, " instead."),
        ),
    )
    return (Page("freeze_order", "Drain the house against a freeze", blocks),)


def _step(house: House, action: Do) -> Step:
    if action.thing is None:
        return Step((f"{capital(action.do)}.",))
    item = house.items[action.thing]
    where = house.places.say(item.place)
    tool = take_along(house, item.id)
    beside = named_in(house, action.do, but=item.id)
    told = (
        f"Where: {where}." if where else "",
        f"Take along: {tool}." if tool else "",
        f"{beside}." if beside else "",
    )
    said = " ".join(filter(None, told))
    note: Line | None = (said,) if said else None
    named: Line = (Tag(item.id), f" ({item.name})") if item.tagged else (item.name,)
    return Step((*named, f": {action.do.rstrip('.')}."), note)


def pan_blocks(house: House) -> tuple[Block, ...]:
    """Return what the pans' drains carry, against a burst; nothing where none can be told."""
    rows = tuple(_pan(house, found) for found in pans(house) if found.carries_gpm is not None)
    if not rows:
        return ()
    head = ("Pan", "Its drain carries", "A burst brings", "So")
    return table("What the pans can carry off", head, rows, tagged=True)


def _pan(house: House, found: PanFlow) -> tuple[Line, ...]:
    units = _units(house)
    carries = say_flow(Flow(found.carries_gpm or 0.0), units)
    burst = say_flow(Flow(found.burst_gpm), units) if found.burst_gpm else "not known"
    so = {True: "it keeps up with a burst", False: "it is for drips, not for a burst"}
    verdict = so[found.holds_a_burst] if found.holds_a_burst is not None else "it is for drips"
    return ((Tag(found.pan),), (carries,), (burst,), (verdict,))
