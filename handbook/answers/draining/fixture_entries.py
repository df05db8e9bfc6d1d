"""Where a cable goes in at a fixture: a toilet pulled, a trap taken off, an overflow.

For what no fitting cable from a cleanout gets to. How it goes in at which kind of fixture, and
where it is counted from, is common practice (`tables/cable_entries`); the lengths and the sizes
are the record's: the fixture's own arm, then the stretches below it.
"""

from dataclasses import dataclass
from itertools import islice
from typing import Any

from handbook.answers.draining.cable_walk import Cable, Opening, Reached, walk
from handbook.answers.draining.cable_way import CableWay, past_reach
from handbook.house.house import House
from handbook.measures import PipeSize
from handbook.record.grammar.common import given
from handbook.record.grammar.fixtures import Fixture
from handbook.tables import table

AT_THE_PIPE = Cable(0, 0)


@dataclass(frozen=True)
class FixtureEntry(CableWay):
    """A way of a cable, with the flow, from a fixture; `id` is the fixture's."""

    how: str
    counted_from: str
    auger_first: bool
    """Whether a closet auger comes before it."""


@dataclass(frozen=True)
class ClosetAuger:
    """What goes in before a toilet is pulled: how long such are, and what they get to."""

    said: str
    cable: str
    reach_ft: tuple[float, float]
    gets_to: str


def closet_auger() -> ClosetAuger:
    """Return what the table of cables has of it."""
    row = table("drain_cables").values["closet_auger"]
    least, most = row["reach_ft"]
    return ClosetAuger(row["said"], row["cable"], (least, most), row["gets_to"])


def fixture_entries(
    house: House, legs: tuple[str, ...], from_cleanouts: tuple[CableWay, ...]
) -> tuple[FixtureEntry, ...]:
    """Return where a cable goes in for those of these legs that no cleanout serves.

    For the uppermost the fixtures from which it passes the fewest legs before, of those that
    one cable takes there; before a toilet that has to be pulled, the next one that need not be.
    Then for what they leave.
    """
    found: tuple[FixtureEntry, ...] = ()
    for leg in past_reach(legs, from_cleanouts):
        if leg in past_reach((leg,), found):
            found += tuple(way for way in _nearest(house, leg, legs) if way not in found)
    return found


def _nearest(house: House, leg: str, legs: tuple[str, ...]) -> tuple[FixtureEntry, ...]:
    """Return the entries with the fewest legs before this one, the shortest cable first.

    Where those are toilets, the next fixture comes before them: no toilet is pulled in vain.
    """
    tree = house.drains
    ways = [
        way for f in tree.through(leg) if (way := _entry(house, f, legs)) and leg in way.reaches
    ]
    ways.sort(key=lambda way: _far_off(way, leg))
    least = [way for way in ways if _far_off(way, leg)[:2] == _far_off(ways[0], leg)[:2]]
    if all(way.auger_first for way in least):
        fits = (way for way in ways if not way.auger_first and not past_reach((leg,), (way,)))
        least = [*islice(fits, 1), *least]
    return tuple(sorted(least, key=lambda way: way.auger_first))


def _far_off(way: FixtureEntry, leg: str) -> tuple[bool, int, float]:
    step = next(step for step in way.steps if step.stretch == leg)
    return bool(past_reach((leg,), (way,))), way.way.index(leg), step.near.low


def _entry(house: House, fixture: str, legs: tuple[str, ...]) -> FixtureEntry | None:
    """Return the way of a cable from one fixture; None where none goes in or gets there."""
    entry = house.items[fixture].entry
    kinds = table("cable_entries").values["kinds"]
    if not isinstance(entry, Fixture) or entry.kind not in kinds:
        return None
    kind: dict[str, Any] = kinds[entry.kind]
    arm = house.drains.legs[fixture]
    opening = Opening(
        arm, AT_THE_PIPE, AT_THE_PIPE, _first_size(entry, past_trap=kind["past_trap"])
    )
    passed = [s for s in walk(house.drains, opening, "downstream") if isinstance(s, Reached)]
    steps = tuple(step for step in passed if step.stretch in legs)
    if not steps:
        return None
    way = tuple(step.stretch for step in passed[: passed.index(steps[-1]) + 1])
    auger = kind.get("first") == "closet_auger"
    return FixtureEntry(
        fixture, "downstream", steps, way, kind["how"], kind["from"], auger_first=auger
    )


def _first_size(fixture: Fixture, *, past_trap: bool) -> PipeSize | None:
    """The size that a cable meets first: the trap's where it goes through it, else the arm's."""
    drain = given(fixture.drain)
    if drain is None:
        return None
    return drain.trap if past_trap else (drain.by.size if drain.by else None)
