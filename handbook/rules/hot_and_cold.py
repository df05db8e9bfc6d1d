"""Rules for what is hot and what is cold: no pipe is fed from one that carries the other.

A pipe is hot behind a water heater. What the record calls a cold or a hot manifold has to agree.
"""

from collections.abc import Iterator
from typing import Literal

from handbook.house.house import House
from handbook.house.lines import water_lines
from handbook.record.grammar.common import each, given
from handbook.record.problems import Mark
from handbook.rules import facts
from handbook.rules.looks import water
from handbook.rules.rule import (
    PRACTICE,
    Broken,
    CannotTell,
    Clear,
    Outcome,
    rule,
    told,
)

Side = Literal["cold", "hot"]


@rule(
    "WA-14",
    "hot-and-cold-mixed-up",
    "fault",
    why="A valve named for the hot side then stops the cold, and a tap may scald or never warm.",
    remedy="Follow the pipe back, and put its `from` right; if it is piped so, call a plumber.",
    stages=("rough-in", "trim-out", "handover"),
    source=PRACTICE,
)
def hot_and_cold_mixed_up(house: House) -> Iterator[Outcome]:
    """Hot connections and manifolds are fed with hot water; cold ones, and heaters, with cold."""
    yield from told(house.record.fixtures, facts.FIXTURES)
    yield from told(house.record.heaters, facts.HEATERS)
    lines, carry = water_lines(house.record), _carriers(house)
    heaters = {heater.id for heater in each(house.record.heaters)}
    for thing, pipe, side, mark in _sided(house):
        # One heater may be fed by another that warms its water first.
        carriers = {up: carry[up] for up in carry if not (thing in heaters and up in heaters)}
        met = [up for up in lines.upstream(pipe, carriers) if up in carriers]
        if any(carriers[up] == side for up in met):
            yield Clear(thing)
        elif met:
            said = f"{_said(house, thing, pipe, side)} is fed from {house.called(met[0])}, "
            yield Broken(thing, f"{said}which carries {carriers[met[0]]} water", mark)
        elif side == "cold":
            yield Clear(thing)
        elif lines.holes(pipe) or house.record.heaters is None:
            yield CannotTell(facts.WATER_FEED, thing)
        else:
            said = f"{_said(house, thing, pipe, side)} is fed through no water heater"
            yield Broken(thing, said, mark)


def _carriers(house: House) -> dict[str, Side]:
    """Return what says of itself what it carries; behind a heater all is hot."""
    manifolds = each(water(house).manifolds)
    carry: dict[str, Side] = {m.id: m.carries for m in manifolds if m.carries}
    return carry | {heater.id: "hot" for heater in each(house.record.heaters)}


def _sided(house: House) -> Iterator[tuple[str, str, Side, Mark]]:
    """Yield what is hot or cold by its own words: its id, its name in the lines, side and mark."""
    for manifold in each(water(house).manifolds):
        if manifold.carries:
            yield manifold.id, manifold.id, manifold.carries, manifold.mark_of("from_")
    for heater in each(house.record.heaters):
        if heater.cold:
            yield heater.id, heater.id, "cold", heater.cold.mark_of("from_")
    for fixture in each(house.record.fixtures):
        if cold := given(fixture.cold):
            yield fixture.id, f"{fixture.id}.cold", "cold", cold.mark_of("from_")
        if hot := given(fixture.hot):
            yield fixture.id, f"{fixture.id}.hot", "hot", hot.mark_of("from_")


def _said(house: House, thing: str, pipe: str, side: Side) -> str:
    manifolds = {manifold.id for manifold in each(water(house).manifolds)}
    what = "manifold" if thing in manifolds else "pipe of"
    return f"The {side} {what} {house.called(thing)}"


RULES = (hot_and_cold_mixed_up,)
