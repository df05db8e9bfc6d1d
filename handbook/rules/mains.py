"""Rules for the main shutoffs."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import Place, each, given
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.water import Valve
from handbook.rules import facts
from handbook.rules.looks import is_indoors, water
from handbook.rules.rule import (
    PRACTICE,
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


@rule(
    "WA-12",
    "main-stands-closed",
    "fault",
    why="Closed in ordinary use it keeps the house dry; written so by mistake, every step that "
    "says which valve to close is wrong.",
    remedy="Look at it. If it is open, take `stands: closed` out; if it is closed, find out why.",
    stages=("trim-out", "handover"),
    source=PRACTICE,
)
def main_stands_closed(house: House) -> Iterator[Outcome]:
    """No main shutoff stands closed in ordinary use, so that water reaches the house."""
    network = house.water.network
    wet = network.downstream(network.sources, network.standing().barred())
    mains = [v for v in each(water(house).valves) if v.main or v.utility]
    if not mains:
        yield CannotTell(facts.MAIN)
    for main in mains:
        if main.stands == "open" or main.id in wet:
            yield Clear(main.id)
        else:
            said = f"{house.called(main.id)} is recorded as closed in ordinary use, "
            said += "and no water comes past it"
            yield Broken(main.id, said, main.mark_of("stands"))


@rule(
    "WA-13",
    "main-on-the-wrong-side",
    "fault",
    why="Whoever is sent indoors for a valve that is in the street loses the first minutes.",
    remedy="Name the main that is there under `inside_main` or `outside_main` (`none` if there "
    "isn't one), or put its `place` right.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def main_on_the_wrong_side(house: House) -> Iterator[Outcome]:
    """The main named as the inside one is indoors, and the one named as outside is outdoors."""
    supply = water(house)
    for field, side, inside in (("inside_main", "in", True), ("outside_main", "out", False)):
        named = given(getattr(supply, field))
        if named is None:
            continue
        place = house.items[named].place
        indoors = is_indoors(house, place)
        if place is None or indoors is None:
            yield CannotTell(facts.INDOORS, named)
        elif indoors is inside:
            yield Clear(named)
        else:
            said = f"{house.called(named)} is named as the main shutoff {side}side the house, "
            said += f"but its place is {_room(house, place)}"
            yield Broken(named, said, place.mark_of("room" if place.room else "level"))


def _room(house: House, place: Place) -> str:
    said = house.places.room_and_level(place) or ""
    return said if said == OUTSIDE else f"indoors: {said}"


RULES = (
    no_main_inside,
    no_main_outside,
    main_that_throttles,
    main_stands_closed,
    main_on_the_wrong_side,
)
