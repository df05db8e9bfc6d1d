"""Rule for the lengths of pipes: none is shorter than the straight line between its ends."""

from collections.abc import Iterator
from fractions import Fraction
from math import dist

from handbook.house import heights
from handbook.house.house import House
from handbook.house.items import Item
from handbook.measures import Length, say_length
from handbook.record import ids
from handbook.record.grammar.common import Fed, Handle, Run
from handbook.record.grammar.gas import GasFed, GasTee
from handbook.record.grammar.water import Manifold, Tee
from handbook.rules import facts
from handbook.rules.rule import PRACTICE, Broken, Clear, Outcome, rule, told

SLACK_IN = 12.0
"""Inches that two points, each measured to the middle of a thing, may be out together."""


@rule(
    "RC-11",
    "pipe-shorter-than-its-way",
    "fault",
    why="Pressure, waiting for hot water and what a gas pipe carries are reckoned from lengths.",
    remedy="Measure the pipe again, or the points (`at`, `height`) of the things at its two ends.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def pipe_shorter_than_its_way(house: House) -> Iterator[Outcome]:
    """No water or gas pipe is shorter than the straight line between the points of its ends."""
    yield from told(house.record.water, facts.VALVES)
    for entry in ids.entries(house.record):
        if isinstance(entry, Fed | GasFed) and entry.from_ in house.items:
            inches = _straight(house, house.items[entry.from_], house.items[entry.id])
            yield from _long_enough(house, entry, entry.by, inches)


def _straight(house: House, start: Item, end: Item) -> float | None:
    """Return the inches between two points; on the plan alone where a height does not count."""
    one, other = start.place, end.place
    if one is None or other is None or one.at is None or other.at is None:
        return None
    flat = dist((one.at.x, one.at.y), (other.at.x, other.at.y))
    low, high = _height(house, start), _height(house, end)
    rise = 0.0 if low is None or high is None else (high - low) * 12
    return dist((0.0, 0.0), (flat, rise))


def _height(house: House, item: Item) -> float | None:
    """Return how high a pipe is there; None for what is tall, whose pipes join where they will."""
    small = isinstance(item.entry, Handle | Tee | Manifold | GasTee)
    return heights.of_place(house.record, house.places, item.place) if small else None


def _long_enough(
    house: House, entry: Fed | GasFed, run: Run | None, inches: float | None
) -> Iterator[Outcome]:
    if run is None or run.length is None or inches is None:
        return  # other rules ask for lengths; a point for every thing is asked by none
    if run.length.inches + SLACK_IN >= inches:
        yield Clear(entry.id)
        return
    units = house.record.house.units
    has = say_length(run.length, units)
    far = say_length(Length(inches), units, Fraction(1))
    said = f"The pipe to {house.called(entry.id)} is recorded {has} long, but it begins {far} "
    said += f"away, at {house.called(entry.from_ or '')}"
    yield Broken(entry.id, said, entry.mark_of("by", "length"))


RULES = (pipe_shorter_than_its_way,)
