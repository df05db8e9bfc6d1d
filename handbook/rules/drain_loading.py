"""Rules for what drains carry: their load, traps and their arms, vents.

What is reckoned, and from which tables, stands in `answers/drain_loading.py`. The tables are those
of the code that the record names; the local code and the inspector decide.
"""

from collections.abc import Iterator

from handbook.answers.drain_loading import DrainLoading, drain_loading
from handbook.answers.draining.stretch_loads import Lack as LoadLack
from handbook.answers.draining.stretch_loads import StretchLoad
from handbook.answers.draining.trap_arms import Lack as ArmLack
from handbook.answers.draining.trap_arms import TrapArm
from handbook.answers.draining.vent_sizes import Lack as VentLack
from handbook.answers.draining.vent_sizes import VentSize
from handbook.house.house import House
from handbook.house.sizes import size_said
from handbook.measures import Length, say_length
from handbook.record.grammar.common import given
from handbook.record.grammar.fixtures import DrainConnection, Fixture
from handbook.rules import facts
from handbook.rules.looks import drains
from handbook.rules.rule import Broken, CannotTell, Clear, Fact, Outcome, rule, told

_LOAD: dict[LoadLack, Fact] = {
    "kind": facts.STRETCH_KIND,
    "to": facts.STRETCH_END,
    "size": facts.STRETCH_SIZE,
    "slope": facts.STRETCH_SLOPE,
    "fixture drains": facts.FIXTURE_DRAIN,
    "rooms": facts.FIXTURE_ROOM,
    "units": facts.UNLISTED_FIXTURE,
    "figure": facts.DRAIN_FIGURE,
}
_ARM: dict[ArmLack, Fact] = {
    "trap": facts.TRAP_SIZE,
    "size": facts.FIXTURE_DRAIN_RUN,
    "length": facts.FIXTURE_DRAIN_RUN,
    "slope": facts.FIXTURE_DRAIN_SLOPE,
    "vent": facts.VENT_OF_TRAP,
    "figure": facts.TRAP_FIGURE,
}
_VENT: dict[VentLack, Fact] = {
    "serves": facts.VENT_SERVES,
    "size": facts.VENT_SIZE,
    "length": facts.VENT_LENGTH,
    "drain size": facts.DRAIN_FIGURE,
}
_CODES = "of the code that the record names (IRC, IPC or UPC), read as `handbook/tables` says"


@rule(
    "DR-07",
    "drain-overloaded",
    "fault",
    why="A drain that runs full draws the traps on it dry and backs up when all is in use at once.",
    remedy="Have it replaced with the size that its load needs, or take fixtures off it.",
    stages=("rough-in", "top-out"),
    source=f"The tables of drainage fixture units and of pipe capacity {_CODES}",
)
def drain_overloaded(house: House) -> Iterator[Outcome]:
    """No stretch of drain takes more fixture units than its size and fall may carry."""
    yield from told(drains(house).stretches, facts.STRETCHES)
    yield from told(house.record.fixtures, facts.FIXTURES)
    for load in drain_loading(house).stretches:
        if load.fits:
            yield Clear(load.id)
        elif load.fits is None:
            yield CannotTell(_LOAD[load.lacks[0]], load.id)
        else:
            mark = house.items[load.id].entry.mark_of("by", "size")
            yield Broken(load.id, _overloaded(house, load), mark)


def _overloaded(house: House, load: StretchLoad) -> str:
    said = f"{house.called(load.id)} takes {load.load.least} fixture units"
    if load.allowed is not None and load.load.least > load.allowed:
        return f"{said}; {load.size} carries {load.allowed}"
    said = f"{house.called(load.id)} takes {load.closets[0]} water closets"
    return f"{said}; {load.size} carries {load.closets_allowed}"


@rule(
    "DR-08",
    "trap-too-small",
    "fault",
    why="A trap smaller than its fixture's outlet stops first and empties the fixture slowly.",
    remedy="Have it replaced with a trap of the size in the table.",
    stages=("rough-in", "trim-out"),
    source="IRC Table P3201.7, UPC Table 702.1; no table of the IPC's was read",
)
def trap_too_small(house: House) -> Iterator[Outcome]:
    """Each trap is as large as such a fixture needs."""
    yield from told(house.record.fixtures, facts.FIXTURES)
    for arm in drain_loading(house).arms:
        if arm.trap_least_in is None:
            continue
        if arm.trap is None:
            yield CannotTell(facts.TRAP_SIZE, arm.fixture)
        elif arm.trap_too_small:
            said = f"{house.called(arm.fixture)} has a trap of {arm.trap}; "
            said += f"{_size(house, arm.trap_least_in)} is the least"
            yield Broken(arm.fixture, said, _drain(house, arm).mark_of("trap"))
        else:
            yield Clear(arm.fixture)


@rule(
    "DR-09",
    "trap-arm-too-long",
    "fault",
    why="Too far from its vent, a trap is sucked dry by its own water, and sewer gas comes in.",
    remedy="Have a vent set nearer to the trap, or the drain shortened.",
    stages=("rough-in", "top-out"),
    source="IRC Table P3105.1, IPC Table 909.1 (2018); UPC Table 1002.2",
)
def trap_arm_too_long(house: House) -> Iterator[Outcome]:
    """Each trap is as near to its vent as its size asks, and not closer than two diameters."""
    yield from told(house.record.fixtures, facts.FIXTURES)
    yield from told(drains(house).vents, facts.VENTS)
    for arm in _arms(house):
        verdicts, name = (arm.too_long, arm.too_short), house.called(arm.fixture)
        if any(verdicts) and arm.length and arm.most and arm.least:
            limit, word = (arm.most, "most") if arm.too_long else (arm.least, "least")
            said = f"The trap of {name} is {_said(house, arm.length)} from its vent {arm.vent}; "
            said += f"{_said(house, limit)} is the {word}"
            yield Broken(arm.fixture, said, _drain(house, arm).mark_of("by", "length"))
        else:
            yield _settled(arm, verdicts, ("trap", "vent", "length", "size", "figure"))


@rule(
    "DR-10",
    "trap-arm-falls-wrongly",
    "fault",
    why="Too flat it silts up; too steep its vent opens below the trap, which is then sucked dry.",
    remedy="Have it hung again, falling as its size needs and no more than that size in all.",
    stages=("rough-in", "top-out"),
    source="IPC Table 704.1, IRC P3005.3 for the least fall; IPC 909.1, IRC P3105.2 for the most",
)
def trap_arm_falls_wrongly(house: House) -> Iterator[Outcome]:
    """Each trap arm falls as its size needs, and no more than its own diameter in all."""
    yield from told(house.record.fixtures, facts.FIXTURES)
    yield from told(drains(house).vents, facts.VENTS)
    for arm in _arms(house):
        verdicts, name = (arm.too_flat, arm.falls_too_far), house.called(arm.fixture)
        mark = _drain(house, arm).mark_of("slope")
        if arm.too_flat:
            yield Broken(arm.fixture, f"The trap arm of {name} is too flat for {arm.size}", mark)
        elif arm.falls_too_far and arm.fall_in is not None:
            fall = _said(house, Length(arm.fall_in))
            said = f"The trap arm of {name} falls {fall} to its vent; its size, {arm.size}, is"
            yield Broken(arm.fixture, f"{said} the most", mark)
        else:
            yield _settled(arm, verdicts, ("vent", "length", "size", "slope"))


@rule(
    "DR-11",
    "vent-too-small",
    "fault",
    why="A vent that cannot let in enough air leaves the traps to be sucked dry.",
    remedy="Have it replaced, over its whole length, with the size that its drains need.",
    stages=("rough-in", "top-out"),
    table="vent_sizes",
)
def vent_too_small(house: House) -> Iterator[Outcome]:
    """Each vent is at least half the drain that the code asks for, and larger if it is long."""
    yield from told(drains(house).vents, facts.VENTS)
    for vent in drain_loading(house).vents:
        if vent.too_small and vent.needs:
            said = f"{house.called(vent.id)} is {vent.size}; {_needed(house, vent)}"
            yield Broken(vent.id, said, house.items[vent.id].entry.mark_of("size"))
        elif vent.too_small is None:
            yield CannotTell(_VENT[vent.lacks[0]], vent.id)
        else:
            yield Clear(vent.id)


def _needed(house: House, vent: VentSize) -> str:
    if vent.needs is None or vent.needs == float("inf"):
        return "the table has no size that carries its drains so far"
    return f"its drains need {_size(house, vent.needs)}" + (
        " for its length" if vent.is_long else ""
    )


def _arms(house: House) -> Iterator[TrapArm]:
    """Yield the arms where the vents are recorded at all; without them the section is asked for."""
    found: DrainLoading = drain_loading(house)
    yield from found.arms if drains(house).vents is not None else ()


def _settled(
    arm: TrapArm, verdicts: tuple[bool | None, ...], needs: tuple[ArmLack, ...]
) -> Clear | CannotTell:
    """Clear where every verdict is no; else what it waits for."""
    if None not in verdicts:
        return Clear(arm.fixture)
    lacking = [_ARM[lack] for lack in needs if lack in arm.lacks]
    return CannotTell(lacking[0] if lacking else facts.VENT_OF_TRAP, arm.fixture)


def _drain(house: House, arm: TrapArm) -> DrainConnection | Fixture:
    """Return where a fixture's drain stands in the record."""
    fixture = house.items[arm.fixture].entry
    assert isinstance(fixture, Fixture)
    return given(fixture.drain) or fixture


def _size(house: House, inches: float) -> str:
    return size_said(inches, house.record.house.units)


def _said(house: House, length: Length) -> str:
    return say_length(length, house.record.house.units)


RULES = (
    drain_overloaded,
    trap_too_small,
    trap_arm_too_long,
    trap_arm_falls_wrongly,
    vent_too_small,
)
