"""Drain-down: what has to leave the pipes before work on a thing can start, from where, how long.

The water that stands above the thing, in everything that stays joined to it once its ladder's
step is closed, leaves by the lowest tap that is joined to it; air comes in at the highest. The
time is that of a flow under the head that is there, shrinking as it falls.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

from handbook.answers.flowing.outlets import giving, opened_by_hand
from handbook.answers.flowing.standing_water import standing
from handbook.answers.isolate import isolate
from handbook.house.house import House
from handbook.house.hydraulics import Tap
from handbook.record.grammar.common import each
from handbook.tables import table


@dataclass(frozen=True)
class DrainDown:
    """`low` is the tap to drain at (None: nothing lower is joined, so a bucket), `high` the tap
    that lets air in. Gallons and minutes are None where sizes, lengths or heights are missing.

    `at_most` counts the runs too whose heights are not recorded.
    """

    thing: str
    name: str
    close: tuple[str, ...]
    open: tuple[str, ...]
    gallons: float
    at_most: float
    low: str | None
    high: str | None
    minutes: float | None
    heater: tuple[str, ...]
    assumed: tuple[str, ...]
    missing: tuple[str, ...]


def drain_down(house: House, thing: str) -> DrainDown:
    """Return what has to be drained before work on `thing`. Raises NoSuchThingError.

    At a fixture the step is the first of the ladder that leaves its own stops open, because work
    at a fixture is work at its stops too. A heater's own water is counted with what stands above.
    """
    answer = isolate(house, thing)
    own = _own_stops(house, thing)
    rung = next((rung for rung in answer.ladder if not own & set(rung.close)), None)
    if rung is None:
        missing = (*answer.missing, f"a shutoff ahead of {thing}")
        return DrainDown(
            thing, answer.name, (), (), 0.0, 0.0, None, None, None, (), answer.assumed, missing
        )
    pipes = house.hydraulics
    joined = _joined(house, thing, rung.close, rung.open)
    taps = sorted(
        (tap for tap in pipes.taps.values() if tap.id in joined), key=lambda tap: tap.height
    )
    level = min(
        (tap.height for tap in taps if tap.owner == thing), default=pipes.heights.get(thing)
    )
    stands = standing(pipes, joined, level)
    gallons = stands.gallons + _tank(house, thing)
    opened = [tap for tap in taps if opened_by_hand(house, tap.owner)]
    low = opened[0] if opened and level is not None and opened[0].height < level else None
    high = opened[-1] if len(opened) > 1 else None
    return DrainDown(
        thing,
        answer.name,
        rung.close,
        rung.open,
        gallons,
        gallons + stands.unsure,
        low.owner if low else None,
        high.owner if high else None,
        _minutes(house, stands.gallons, low, high),
        rung.heater,
        answer.assumed,
        tuple(_missing(thing, level, stands.unsure)),
    )


def _own_stops(house: House, thing: str) -> set[str]:
    if thing not in house.items or house.items[thing].system != "fixture":
        return set()
    return {name for name, item in house.items.items() if item.owner == thing}


def _tank(house: House, thing: str) -> float:
    heaters = {heater.id: heater.capacity for heater in each(house.record.heaters)}
    capacity = heaters.get(thing)
    return capacity.gallons if capacity else 0.0


def _joined(house: House, thing: str, close: tuple[str, ...], opened: tuple[str, ...]) -> set[str]:
    """Return the nodes whose water can come to the thing, or go on from there, once closed."""
    network = house.water.network
    body = house.water.bodies.get(thing, frozenset())
    barred = network.standing(body).barred(close, opened)
    return network.upstream(body, barred)


def _minutes(house: House, gallons: float, low: Tap | None, high: Tap | None) -> float | None:
    """Return how long the tap takes under half of the head that stands over it."""
    if low is None or high is None or gallons <= 0 or high.height <= low.height:
        return None
    outlet = giving(house, low.owner)
    if outlet is None:
        return None
    psi = table("water_head").values["psi_per_ft"] * (high.height - low.height) / 2
    return gallons / float(outlet.k * sqrt(psi))


def _missing(thing: str, level: float | None, unsure: float) -> Iterator[str]:
    if level is None:
        yield f"how high {thing} stands"
    if unsure:
        yield "the heights of some runs that are joined to it"
