"""Rules for the supply behind the mains: backflow, and lines that lead nowhere."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.house.lines import Lines, water_lines
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import Fed, each, given
from handbook.record.grammar.water import Bypass
from handbook.rules import facts
from handbook.rules.looks import water
from handbook.rules.rule import (
    PRACTICE,
    Broken,
    CannotTell,
    Clear,
    Fact,
    Gap,
    Outcome,
    look,
    rule,
    told,
)

DEAD_ENDS_BY_NATURE = ("hammer arrester", "pressure tank")


@rule(
    "WA-05",
    "outdoor-water-without-backflow-protection",
    "unsafe",
    why="When the street's pressure drops, water from lawn and hose is drawn back to the taps.",
    remedy="Have a licensed plumber set a backflow preventer between the house and the lawn.",
    stages=("rough-in", "trim-out", "handover"),
    source="IRC P2902.4.3 for hose outlets (edition not stated in the copy that was read); "
    "for irrigation by the same reason, " + PRACTICE,
)
def outdoor_water_without_backflow_protection(house: House) -> Iterator[Outcome]:
    """Irrigation and hose bibbs have a backflow preventer that is theirs alone."""
    supply = water(house)
    yield from told(supply.irrigation, facts.IRRIGATION)
    yield from told(house.record.fixtures, facts.FIXTURES)
    for fixture in each(house.record.fixtures):
        if fixture.kind == "hose bibb" and fixture.cold is not ABSENT:
            own, _ = _protected(house, f"{fixture.id}.cold")
            if own or given(fixture.vacuum_breaker):
                yield Clear(fixture.id)
            elif fixture.vacuum_breaker is None:
                yield CannotTell(facts.VACUUM_BREAKER, fixture.id)
            else:
                said = f"{house.called(fixture.id)} has no vacuum breaker"
                yield Broken(fixture.id, said, fixture.mark_of("vacuum_breaker"))
    if not (irrigation := given(supply.irrigation)):
        return
    protected, way_ends = _protected(house, irrigation.id)
    if protected:
        yield Clear(irrigation.id)
    elif way_ends is None or supply.equipment is None:
        fact = facts.WATER_FEED if way_ends is None else facts.EQUIPMENT
        yield CannotTell(fact, irrigation.id)
    else:
        said = f"{house.called(irrigation.id)} has no backflow preventer in its own line"
        yield Broken(irrigation.id, said, irrigation.mark_of("from_"))


def _protected(house: House, thing: str) -> tuple[bool, str | None]:
    """Whether a backflow preventer stands in a thing's own line, and where that line ends.

    The line ends where something else draws from it too, or at the street; None: not recorded.
    """
    lines = water_lines(house.record)
    at = thing
    while feeders := lines.up.get(at, ()):
        at = feeders[0]
        if len(lines.down.get(at, ())) > 1:
            return False, at
        item = house.items.get(at)
        if item and item.kind == "backflow preventer":
            return True, at
    return False, at if at in lines.ends else None


@rule(
    "WA-06",
    "recirculation-without-check",
    "advice",
    why="Without it cold water runs up the return into the hot side when a hot tap is opened.",
    remedy="Have a check valve set in the return, between the pump and the heater.",
    stages=("rough-in", "trim-out"),
    source=PRACTICE,
)
def recirculation_without_check(house: House) -> Iterator[Outcome]:
    """A recirculation return has a check valve."""
    supply = water(house)
    yield from told(supply.recirculation, facts.RECIRCULATION)
    if not (pump := given(supply.recirculation)):
        return
    before = house.items.get(pump.from_ or "")
    if given(pump.check) or (before and before.kind == "check valve"):
        yield Clear(pump.id)
    elif pump.check is None:
        yield CannotTell(facts.CHECK, pump.id)
    else:
        said = f"{house.called(pump.id)} has no check valve in its return"
        yield Broken(pump.id, said, pump.mark_of("check"))


@rule(
    "WA-07",
    "softener-without-bypass",
    "advice",
    why="Without a bypass a leaking softener shuts off everything behind it.",
    remedy="Have a bypass set: a lever, or an inlet, an outlet and a bypass valve.",
    stages=("rough-in", "trim-out"),
    source=PRACTICE,
)
def softener_without_bypass(house: House) -> Iterator[Outcome]:
    """Each softener can be bypassed."""
    supply = water(house)
    yield from told(supply.softeners, facts.SOFTENERS)
    for softener in each(supply.softeners):
        name, mark = house.called(softener.id), softener.mark_of("bypass")
        if softener.bypass is ABSENT:
            yield Broken(softener.id, f"{name} has no bypass", mark)
        elif (bypass := given(softener.bypass)) and _is_whole(bypass):
            yield Clear(softener.id)
        else:
            said = f"{name} does not say how water goes round it"
            yield Gap(softener.id, said, mark, look("bypass"))


def _is_whole(bypass: Bypass) -> bool:
    return bool(bypass.lever or (bypass.inlet and bypass.outlet and bypass.across))


@rule(
    "WA-08",
    "dead-end",
    "gap",
    why="Either something that it feeds is missing from the record, or it is a stub nobody knows.",
    remedy="Record what it feeds (that thing's `from`), or take it out of the record.",
    stages=("rough-in", "trim-out", "handover"),
    source=PRACTICE,
)
def dead_end(house: House) -> Iterator[Outcome]:
    """Each valve, tee, manifold and piece of equipment in the line feeds something."""
    lines = water_lines(house.record)
    yield from told(water(house).valves, facts.VALVES)
    for entry in _in_line(house):
        thing = entry.id
        if lines.down.get(thing):
            yield Clear(thing)
        elif wanted := _may_feed(house, thing, lines):
            yield CannotTell(wanted, thing)
        else:
            said = f"{house.called(thing)} feeds nothing that is recorded"
            yield Gap(thing, said, entry.mark_of("id"))


def _in_line(house: House) -> Iterator[Fed]:
    supply = water(house)
    things: tuple[Fed, ...] = (
        *each(supply.valves),
        *each(supply.tees),
        *each(supply.manifolds),
        *each(supply.equipment),
    )
    for entry in things:
        if getattr(entry, "kind", None) not in DEAD_ENDS_BY_NATURE:
            yield entry


def _may_feed(house: House, thing: str, lines: Lines) -> Fact | None:
    """Return the fact without which a thing cannot be said to feed nothing."""
    if house.record.fixtures is None:
        return facts.FIXTURES
    unfed = any(not up and at not in lines.ends for at, up in lines.up.items())
    return facts.WATER_FEED if unfed and thing in house.water.mains else None


RULES = (
    outdoor_water_without_backflow_protection,
    recirculation_without_check,
    softener_without_bypass,
    dead_end,
)
