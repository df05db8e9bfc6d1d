"""What the drains carry, for the service plumber: stretches, traps and their arms, vents."""

from handbook.answers.drain_loading import DrainLoading, drain_loading
from handbook.answers.draining.drain_said import (
    adds_up,
    arm_verdict,
    bath_verdict,
    groups_said,
    left,
    load,
    vent_needs,
    vent_verdict,
)
from handbook.answers.draining.stretch_loads import StretchLoad
from handbook.house.house import House
from handbook.pages.content import Block, Bullets, Go, Line, Para, Tag
from handbook.pages.parts.phrases import HOLE, joined, table
from handbook.pages.parts.say import Say
from handbook.pages.words import lower


def drain_loads(house: House) -> tuple[Block, ...]:
    """Return the tables; nothing where no drains are recorded."""
    answer = drain_loading(house)
    found = (
        *_stretches(house, answer),
        *_bath(house, answer),
        *_arms(house, answer),
        *_vents(house, answer),
    )
    if not found:
        return ()
    code = f"By the {answer.code.name}; the local code and the inspector decide. "
    whence = Para((code, Go("table_sources", "Where the numbers come from"), "."))
    return (whence, *found, Bullets(tuple((each,) for each in answer.assumed)))


def _stretches(house: House, answer: DrainLoading) -> tuple[Block, ...]:
    say = Say.of(house, HOLE)
    rows = [
        (
            (Tag(it.id), f" {lower(it.name)}"),
            (_kind(it),),
            (say.text(it.size),),
            ("-" if it.kind == "stack" else say.slope(it.slope),),
            (load(it),),
            (str(it.allowed) if it.allowed is not None else "-",),
            (left(it),),
        )
        for it in answer.stretches
    ]
    head = ("Drain", "Kind", "Size", "Slope", "Units", "Allowed", "Left")
    caption = f"Drainage fixture units, {answer.code.name}"
    loads = table(caption, head, rows, (3, 1.6, 1, 1.8, 1, 1, 1.6))
    return (*loads, *_sums(house, answer))


def _kind(it: StretchLoad) -> str:
    """Return its kind, and of what it is a branch where the table of the main drain holds it."""
    main = it.kind == "branch" and it.column == "building drain"
    return f"{it.kind} of the building drain" if main else it.kind or HOLE


def _sums(house: House, answer: DrainLoading) -> tuple[Block, ...]:
    """How the units add up: the groups, and the sum of each drain that several fixtures pass."""
    sums: dict[str, list[StretchLoad]] = {}
    for it in answer.stretches:
        if said := adds_up(house, it):
            sums.setdefault(said, []).append(it)
    rows = [
        (joined([(Tag(it.id),) for it in alike]), (load(alike[0]),), (said,))
        for said, alike in sums.items()
    ]
    found = table("How the units add up", ("Drain", "Units", "Sum of"), rows, (1.8, 0.8, 8))
    groups = groups_said(house, answer.stretches)
    said = f"Where they drain together, a group counts less than its fixtures. {'. '.join(groups)}."
    return (*found, *((Para((said,)),) if groups else ()))


def _bath(house: House, answer: DrainLoading) -> tuple[Block, ...]:
    """What one more bath would add, wherever its toilet may run in."""
    say = Say.of(house, HOLE)
    rows = [
        (
            (Tag(it.into), f" {lower(house.items[it.into].name)}"),
            (say.text(it.size),),
            (_number(it.adds),),
            (_number(it.carries),),
            (_number(it.allowed),),
            (bath_verdict(it),),
        )
        for it in answer.one_more_bath
    ]
    head = ("Run into", "Size", "Adds", "Then", "Allowed", "This and all below it")
    caption = "One more full bath (toilet, bathroom sink, tub or shower): units"
    after = (
        "Only drains that may take a toilet are listed. Its fall, its trap arms, its vent and the "
        "water for it are another matter; the permit office decides.",
    )
    found = table(caption, head, rows, (3.6, 0.9, 0.9, 0.9, 1.1, 3.6))
    return (*found, Para(after)) if found else ()


def _number(units: int | None) -> str:
    return "-" if units is None else str(units)


def _arms(house: House, answer: DrainLoading) -> tuple[Block, ...]:
    say = Say.of(house, HOLE)
    rows = [
        (
            (house.items[it.fixture].name,),
            (say.text(it.trap),),
            (say.text(it.size),),
            (say.length(it.length),),
            ("-" if it.most is None else say.length(it.most),),
            _tag(it.vent),
            (arm_verdict(it),),
        )
        for it in answer.arms
    ]
    head = ("Fixture", "Trap", "Arm", "To vent", "At most", "Vent", "Verdict")
    return table("Traps and trap arms", head, rows, (3, 1.2, 1.2, 1.4, 1.3, 0.9, 2.4))


def _vents(house: House, answer: DrainLoading) -> tuple[Block, ...]:
    say, units = Say.of(house, HOLE), house.record.house.units
    rows = [
        (
            (Tag(it.id), f" {lower(house.items[it.id].name)}"),
            (say.text(it.size),),
            (say.length(it.length),),
            (vent_needs(it, units, "-"),),
            (vent_verdict(it),),
        )
        for it in answer.vents
    ]
    head = ("Vent", "Size", "Length", "Needs", "Verdict")
    return table("Vents against the drains they serve", head, rows, (3, 1.2, 1.4, 1.2, 2.6))


def _tag(vent: str | None) -> Line:
    return (Tag(vent),) if vent else (HOLE,)
