"""Rules for where cleanouts must be: at the sewer, along the drains, at the foot of a stack."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Cleanout, Stretch
from handbook.rules import facts
from handbook.rules.drains import downhill, stretches
from handbook.rules.looks import drains, too_much
from handbook.rules.rule import (
    Broken,
    CannotTell,
    Clear,
    Outcome,
    rule,
    told,
)
from handbook.tables import table

STEP = Fraction(1)
"""Lengths along a drain are said to the inch."""


def _cleanouts(house: House) -> tuple[Cleanout, ...]:
    return each(drains(house).cleanouts)


@rule(
    "CO-05",
    "no-cleanout-at-sewer",
    "fault",
    why="Without one here, a blocked sewer is worked on from inside the house.",
    remedy="Have a two-way cleanout brought to grade where the building drain ends.",
    stages=("rough-in", "handover"),
    table="cleanout_spacing",
)
def no_cleanout_at_sewer(house: House) -> Iterator[Outcome]:
    """There is a cleanout where the building drain becomes the building sewer."""
    section = drains(house)
    yield from told(section.stretches, facts.STRETCHES)
    yield from told(section.cleanouts, facts.CLEANOUTS)
    if section.stretches is None or section.cleanouts is None:
        return
    by_id = stretches(house)
    into = {s.to for s in by_id.values() if s.kind != "building sewer"}
    sewers = [s for s in by_id.values() if s.kind == "building sewer" and s.id in into]
    if not sewers:
        yield CannotTell(facts.BUILDING_SEWER)
    for sewer in sewers:
        yield _at_junction(house, sewer)


def _at_junction(house: House, sewer: Stretch) -> Outcome:
    most = Length(12 * table("cleanout_spacing").values["most_before_sewer_ft"])
    feeding = [c for c in _cleanouts(house) if sewer in downhill(house, c.on)]
    away = [_from_junction(house, cleanout, sewer) for cleanout in feeding]
    if any(far is not None and not too_much(far.inches, most.inches) for far in away):
        return Clear(sewer.id)
    if None in away:
        return CannotTell(facts.CLEANOUT_ALONG, feeding[away.index(None)].id)
    if any(cleanout.on is None for cleanout in _cleanouts(house)):
        return CannotTell(facts.CLEANOUT_ON, sewer.id)
    said = f"No cleanout stands within {say_length(most, house.record.house.units)} of where "
    said += f"{house.called(sewer.id)} begins"
    return Broken(sewer.id, said, sewer.mark_of("id"))


def _from_junction(house: House, cleanout: Cleanout, sewer: Stretch) -> Length | None:
    """How far from the head of the sewer a cleanout stands; None where that is not recorded."""
    if cleanout.kind == "two-way" and cleanout.along is None:
        return Length(0)  # a two-way cleanout is allowed nowhere else
    way = downhill(house, cleanout.on)
    before = way[: way.index(sewer)]
    if not before:
        return cleanout.along
    lengths = [stretch.by.length if stretch.by else None for stretch in before]
    if cleanout.along is None or None in lengths:
        return None
    total = sum(length.inches for length in lengths if length)
    return Length(total - cleanout.along.inches)


@rule(
    "CO-06",
    "cleanouts-too-far-apart",
    "fault",
    why="A cable does not reach a stoppage that is farther off than its own length.",
    remedy="Have a cleanout set in between.",
    stages=("rough-in",),
    table="cleanout_spacing",
)
def cleanouts_too_far_apart(house: House) -> Iterator[Outcome]:
    """Along horizontal drains the next cleanout is never farther than 100 ft."""
    section = drains(house)
    yield from told(section.stretches, facts.STRETCHES)
    yield from told(section.cleanouts, facts.CLEANOUTS)
    if section.stretches is None or section.cleanouts is None:
        return
    by_id = stretches(house)
    level = [stretch for stretch in by_id.values() if stretch.kind != "stack"]
    run_into = {stretch.to for stretch in level}
    for stretch in level:
        placed = sorted(
            c.along.inches for c in _cleanouts(house) if c.on == stretch.id and c.along is not None
        )
        top = [] if stretch.id in run_into else [0.0]
        for start in (*top, *placed):
            yield _reaches_next(house, stretch, start)


@dataclass(frozen=True)
class _Way:
    """From one opening to the next: the inches that are known, and what is not."""

    inches: float
    unmeasured: bool
    """A stretch on the way has no recorded length."""
    floating: bool
    """A cleanout on the way does not say where along its stretch it stands."""


def _reaches_next(house: House, stretch: Stretch, start: float) -> Outcome:
    most = 12 * table("cleanout_spacing").values["most_apart_ft"]
    way = _to_next(house, stretch, start)
    if too_much(way.inches, most) and not way.floating:
        units = house.record.house.units
        said = f"From {say_length(Length(start), units, STEP)} along {house.called(stretch.id)} "
        said += f"the drain runs {say_length(Length(way.inches), units, STEP)} without a cleanout"
        return Broken(stretch.id, said, stretch.mark_of("id"))
    if too_much(way.inches, most):
        return CannotTell(facts.CLEANOUT_ALONG, stretch.id)
    return CannotTell(facts.STRETCH_LENGTH, stretch.id) if way.unmeasured else Clear(stretch.id)


def _to_next(house: House, stretch: Stretch, start: float) -> _Way:
    """Measure down to the next placed cleanout, a stack, or the end of the drain."""
    total, unmeasured, floating = 0.0, False, False
    for at in downhill(house, stretch.id):
        if at.kind == "stack":
            break
        here = [c for c in _cleanouts(house) if c.on == at.id]
        floating = floating or any(c.along is None for c in here)
        ahead = [c.along.inches - start for c in here if c.along is not None]
        ahead = [far for far in ahead if far > 0 or (far == 0 and at is not stretch)]
        if ahead:
            return _Way(total + min(ahead), unmeasured, floating)
        length = at.by.length if at.by else None
        total += length.inches - start if length else 0
        unmeasured = unmeasured or length is None
        start = 0.0
    return _Way(total, unmeasured, floating)


@rule(
    "CO-07",
    "stack-without-cleanout",
    "advice",
    why="Where the fall turns level is where things stop; an opening there saves the ceiling.",
    remedy="Have a cleanout set at or near the base of the stack.",
    stages=("rough-in", "top-out"),
    source="IPC 708.3.4, IRC P3005.2.6 (up to 2012; not in the model text of 2015 and later)",
)
def stack_without_cleanout(house: House) -> Iterator[Outcome]:
    """Each stack has a cleanout at or near its base."""
    section = drains(house)
    yield from told(section.stretches, facts.STRETCHES)
    yield from told(section.cleanouts, facts.CLEANOUTS)
    by_id = stretches(house)
    opened = {cleanout.on for cleanout in _cleanouts(house)}
    for stretch in by_id.values():
        into = by_id.get(stretch.to or "")
        if stretch.kind is None:
            yield CannotTell(facts.STRETCH_KIND, stretch.id)
        elif stretch.kind != "stack" or (into and into.kind == "stack"):
            continue
        elif {stretch.id, stretch.to} & opened:
            yield Clear(stretch.id)
        elif section.cleanouts is ABSENT or (section.cleanouts and None not in opened):
            said = f"{house.called(stretch.id)} has no cleanout at or near its base"
            yield Broken(stretch.id, said, stretch.mark_of("id"))
        elif section.cleanouts:
            yield CannotTell(facts.CLEANOUT_ON, stretch.id)


RULES = (
    no_cleanout_at_sewer,
    cleanouts_too_far_apart,
    stack_without_cleanout,
)
