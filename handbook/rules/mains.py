"""Rules for the main shutoffs."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import each, given
from handbook.record.grammar.water import Valve
from handbook.rules import facts
from handbook.rules.looks import is_indoors, water
from handbook.rules.rule import (
    Broken,
    CannotTell,
    Clear,
    Outcome,
    rule,
)
from handbook.tables import table


def _mains(house: House) -> tuple[Valve, ...]:
    return tuple(v for v in each(water(house).valves) if v.main and not v.utility)


@rule(
    "WA-01",
    "no-main-inside",
    "fault",
    why="In the minutes that matter, nobody finds the street valve or the tool for it.",
    remedy="Have a full-open main shutoff set indoors, near where the service enters.",
    stages=("rough-in", "handover"),
    source="IRC P2903.9.1 (edition not stated in the copy that was read)",
)
def no_main_inside(house: House) -> Iterator[Outcome]:
    """There is a main shutoff inside the house."""
    supply = water(house)
    indoors = (is_indoors(house, main.place) for main in _mains(house))
    if supply.inside_main is ABSENT:
        said = "The record says that there is no main shutoff inside the house"
        yield Broken(None, said, supply.mark_of("inside_main"))
    elif given(supply.inside_main) or any(indoors):
        yield Clear()
    else:
        yield CannotTell(facts.INSIDE_MAIN)


@rule(
    "WA-02",
    "no-main-outside",
    "fault",
    why="When the valve indoors fails or the room cannot be entered, this is the next one.",
    remedy="Ask the water utility where its valve is, or have one set at the property line.",
    stages=("rough-in", "handover"),
    source="IRC P2903.9.1 (edition not stated in the copy that was read); IPC 606.1",
)
def no_main_outside(house: House) -> Iterator[Outcome]:
    """There is a main shutoff outside the house."""
    supply = water(house)
    outdoors = (is_indoors(house, main.place) is False for main in _mains(house))
    if supply.outside_main is ABSENT:
        said = "The record says that there is no main shutoff outside the house"
        yield Broken(None, said, supply.mark_of("outside_main"))
    elif given(supply.outside_main) or any(outdoors):
        yield Clear()
    else:
        yield CannotTell(facts.OUTSIDE_MAIN)


@rule(
    "WA-03",
    "main-that-throttles",
    "fault",
    why="A valve that is not full-open takes pressure from every fixture, all day.",
    remedy="Have it replaced with a full-open valve, such as a ball valve.",
    stages=("rough-in", "trim-out"),
    table="full_open_valves",
)
def main_that_throttles(house: House) -> Iterator[Outcome]:
    """Each main shutoff is of a full-open kind."""
    full_open = table("full_open_valves").values["full_open"]
    mains = _mains(house)
    if not mains:
        yield CannotTell(facts.MAIN)
    for main in mains:
        if main.kind is None:
            yield CannotTell(facts.KIND_OF_MAIN, main.id)
        elif main.kind in full_open:
            yield Clear(main.id)
        else:
            said = f"{house.called(main.id)} is a main, but {main.kind} is not a full-open kind"
            yield Broken(main.id, said, main.mark_of("kind"))


RULES = (
    no_main_inside,
    no_main_outside,
    main_that_throttles,
)
