"""Rules for the drains: that each leads somewhere, falls enough, and never narrows on the way."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.measures import PipeSize, Slope, say_slope
from handbook.record import ids
from handbook.record.grammar.common import each, given
from handbook.record.grammar.drains import Stretch
from handbook.record.grammar.fixtures import DrainConnection, Fixture
from handbook.rules import facts
from handbook.rules.looks import SLOPE_ROUNDED, drains, smaller, too_little
from handbook.rules.rule import (
    PRACTICE,
    Broken,
    CannotTell,
    Clear,
    Gap,
    Outcome,
    rule,
    told,
)
from handbook.tables import table


def stretches(house: House) -> dict[str, Stretch]:
    """Return the stretches of drain by id."""
    return {stretch.id: stretch for stretch in each(drains(house).stretches)}


def downhill(house: House, start: str | None) -> tuple[Stretch, ...]:
    """Return the stretches from `start` on down, in order; none for what is not a stretch."""
    by_id = stretches(house)
    met: dict[str, Stretch] = {}
    while start in by_id and start not in met:
        met[start] = by_id[start]
        start = by_id[start].to
    return tuple(met.values())


def size_of(drain: Stretch | DrainConnection) -> PipeSize | None:
    """Return the nominal size of a drain, where it is recorded."""
    return drain.by.size if drain.by else None


@rule(
    "DR-01",
    "drain-leads-nowhere",
    "gap",
    why="What a cleanout reaches and where a backup rises are told from how the drains join.",
    remedy="Follow it down, and record what it runs into under `to` (of a fixture, `drain: to`).",
    stages=("rough-in", "top-out"),
    source=PRACTICE,
)
def drain_leads_nowhere(house: House) -> Iterator[Outcome]:
    """Each drain says what it runs into."""
    needs = table("fixture_connections").values
    yield from told(house.record.fixtures, facts.FIXTURES)
    yield from told(drains(house).stretches, facts.STRETCHES)
    for fixture in each(house.record.fixtures):
        drain = given(fixture.drain)
        if drain is not None:
            yield _leads(house, fixture.id, drain)
        elif fixture.drain is None and "drain" in needs[fixture.kind]:
            yield _leads(house, fixture.id, fixture)
    for stretch in stretches(house).values():
        yield _leads(house, stretch.id, stretch)


def _leads(house: House, thing: str, drain: Stretch | DrainConnection | Fixture) -> Outcome:
    if getattr(drain, "to", None):
        return Clear(thing)
    said = f"{house.called(thing)} does not say where its waste goes"
    return Gap(thing, said, drain.mark_of("to"))


@rule(
    "DR-02",
    "drain-with-nothing-on-it",
    "gap",
    why="Either a fixture is missing from the record, or it is an open stub nobody knows of.",
    remedy="Record what runs into it (that thing's `to`), or take it out of the record.",
    stages=("rough-in", "top-out"),
    source=PRACTICE,
)
def drain_with_nothing_on_it(house: House) -> Iterator[Outcome]:
    """Something runs into each stretch of drain, or a cleanout opens into it."""
    yield from told(drains(house).stretches, facts.STRETCHES)
    pointers = ids.pointers(house.record)
    filled = {pointer.ref for pointer in pointers if pointer.field in ("to", "drain", "on")}
    for stretch in stretches(house).values():
        if stretch.id in filled:
            yield Clear(stretch.id)
        elif house.record.fixtures is None:
            yield CannotTell(facts.FIXTURES, stretch.id)
        else:
            said = f"Nothing that is recorded runs into {house.called(stretch.id)}"
            yield Gap(stretch.id, said, stretch.mark_of("id"))


@rule(
    "DR-03",
    "drain-shrinks",
    "fault",
    why="What passes the wide pipe stops at the narrow one.",
    remedy="Have the narrow stretch replaced with pipe at least as wide as what runs into it.",
    stages=("rough-in", "top-out"),
    source="IPC 704.2 (read in Chicago 18-29-704.2); a 4 in by 3 in closet bend is no reduction",
)
def drain_shrinks(house: House) -> Iterator[Outcome]:
    """No drain is smaller than what runs into it."""
    yield from told(drains(house).stretches, facts.STRETCHES)
    yield from told(house.record.fixtures, facts.FIXTURES)
    by_id = stretches(house)
    for fixture in each(house.record.fixtures):
        drain = given(fixture.drain)
        if drain and fixture.kind != "water closet" and drain.to in by_id:
            yield _narrows(house, fixture.id, drain, by_id[drain.to])
    for stretch in by_id.values():
        if stretch.to in by_id:
            yield _narrows(house, stretch.id, stretch, by_id[stretch.to])


def _narrows(house: House, thing: str, drain: Stretch | DrainConnection, into: Stretch) -> Outcome:
    size, next_size = size_of(drain), size_of(into)
    if next_size is None:
        return CannotTell(facts.STRETCH_SIZE, into.id)
    if size is None:
        return CannotTell(facts.STRETCH_SIZE, thing)
    if not smaller(next_size, size.inches):
        return Clear(thing)
    said = f"{house.called(into.id)} is {next_size}, but {house.called(thing)} "
    said += f"runs into it at {size}"
    return Broken(into.id, said, into.mark_of("by", "size"))


@rule(
    "DR-04",
    "drain-too-flat",
    "fault",
    why="Water that runs too slowly leaves the solids behind.",
    remedy="Have it hung again with the fall that its size needs, while it can be reached.",
    stages=("rough-in", "top-out"),
    table="drain_slopes",
)
def drain_too_flat(house: House) -> Iterator[Outcome]:
    """Each horizontal stretch of drain falls as much as its size needs."""
    yield from told(drains(house).stretches, facts.STRETCHES)
    for stretch in stretches(house).values():
        if stretch.kind == "stack":
            continue
        if stretch.slope is None:
            yield CannotTell(facts.STRETCH_SLOPE, stretch.id)
        else:
            yield from _falls(house, stretch, stretch.slope)


def _falls(house: House, stretch: Stretch, slope: Slope) -> Iterator[Outcome]:
    needs = _least_falls(size_of(stretch))
    if not needs:
        return  # the table ends below this size
    fall = slope.inches_per_foot
    if not too_little(fall, max(needs), SLOPE_ROUNDED):
        yield Clear(stretch.id)
    elif not too_little(fall, min(needs), SLOPE_ROUNDED):
        yield CannotTell(facts.STRETCH_SIZE, stretch.id)
    else:
        units = house.record.house.units
        said = f"{house.called(stretch.id)} falls {say_slope(slope, units)}; "
        said += f"{say_slope(Slope(min(needs)), units)} is the least"
        yield Broken(stretch.id, said, stretch.mark_of("slope"))


def _least_falls(size: PipeSize | None) -> list[float]:
    """Return the least fall for a size, in inches per foot; all of them for a size not recorded."""
    rows = table("drain_slopes").values
    if size is None:
        return [row["least_in_per_ft"] for row in rows]
    return [row["least_in_per_ft"] for row in rows if row["up_to_in"] >= size.inches][:1]


@rule(
    "DR-05",
    "closet-on-small-drain",
    "fault",
    why="A drain smaller than a water closet's own way out is where it will stop.",
    remedy="Have that stretch replaced with pipe of at least the size in the table.",
    stages=("rough-in", "top-out"),
    table="closet_drains",
)
def closet_on_small_drain(house: House) -> Iterator[Outcome]:
    """No drain that takes a water closet is smaller than 3 in."""
    yield from told(house.record.fixtures, facts.FIXTURES)
    yield from told(drains(house).stretches, facts.STRETCHES)
    seen: set[str] = set()
    for closet in each(house.record.fixtures):
        if closet.kind != "water closet":
            continue
        drain = given(closet.drain)
        if drain is None or drain.to is None:
            yield CannotTell(facts.FIXTURE_DRAIN, closet.id)
            continue
        yield _wide_enough(house, closet.id, drain)
        for stretch in downhill(house, drain.to):
            if stretch.id not in seen:
                seen.add(stretch.id)
                yield _wide_enough(house, stretch.id, stretch)


def _wide_enough(house: House, thing: str, drain: Stretch | DrainConnection) -> Outcome:
    size, least = size_of(drain), table("closet_drains").values["least_in"]
    if size is None:
        fact = facts.STRETCH_SIZE if isinstance(drain, Stretch) else facts.FIXTURE_DRAIN
        return CannotTell(fact, thing)
    if not smaller(size, least):
        return Clear(thing)
    said = f"{house.called(thing)} takes a water closet's waste through {size}; "
    said += f"{least} in is the least"
    return Broken(thing, said, drain.mark_of("by", "size"))


@rule(
    "DR-06",
    "backwater-valve-without-access",
    "gap",
    why="Its flap has to be cleaned, and a flap that hangs lets the street's sewage in.",
    remedy="Record under `access` what has to be opened to get at it.",
    stages=("rough-in", "trim-out", "handover"),
    source="IRC P3008.1 and the code summaries of it that were read",
)
def backwater_valve_without_access(house: House) -> Iterator[Outcome]:
    """Each backwater valve and ejector says how its working parts are reached."""
    yield from told(drains(house).equipment, facts.DRAIN_EQUIPMENT)
    for equipment in each(drains(house).equipment):
        if equipment.access:
            yield Clear(equipment.id)
        else:
            said = f"{house.called(equipment.id)} does not say how its working parts are reached"
            yield Gap(equipment.id, said, equipment.mark_of("access"))


RULES = (
    drain_leads_nowhere,
    drain_with_nothing_on_it,
    drain_shrinks,
    drain_too_flat,
    closet_on_small_drain,
    backwater_valve_without_access,
)
