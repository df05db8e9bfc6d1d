"""Drain-down: what has to leave the pipes before work on a thing can start, from where, how long.

Work past a fixture's own stops (its faucet, its fill valve) needs those stops alone. Work at the
stops, or ahead of them, needs the next step of the ladder: the water that stands above the work,
in everything that stays joined to it once the step is closed, leaves by the lowest tap that is
joined to it, or by the work itself; air comes in at the highest. Cold and hot leave apart where
nothing joins them. The time is that of a flow under half of the head that is there.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, sqrt

from handbook.answers.flowing.failed_ends import failed_ends
from handbook.answers.flowing.outlets import giving, opened_by_hand
from handbook.answers.flowing.standing_water import Standing, standing
from handbook.answers.flowing.still_running import least_seconds
from handbook.answers.isolate import Isolation, isolate
from handbook.answers.isolating.rungs import Rung
from handbook.answers.route import said_seconds
from handbook.house.house import House
from handbook.house.hydraulics import Tap
from handbook.measures import Units, Volume, say_volume
from handbook.record.grammar.common import each
from handbook.tables import table

LEAST_SAID = 0.1
"""Gallons: volumes are said to a tenth."""


@dataclass(frozen=True)
class Leaving:
    """What leaves by one way: from the fixture's `sides` (cold, hot; none for any other thing).

    `low` is the tap to drain at (None: nothing lower is joined, so it leaves by the work itself,
    into a bucket), `high` the tap that lets air in. `at_most` counts the runs too whose heights
    are not recorded. `seconds` is the least time; None where nothing is known to stand above.
    """

    sides: tuple[str, ...]
    gallons: float
    at_most: float
    low: str | None
    high: str | None
    seconds: float | None


@dataclass(frozen=True)
class DrainDown:
    """`stops` are the fixture's own, enough for work past them; none where it has none that do.

    `close` and `open` are for work at the stops or ahead of them, `leaving` what then has to
    leave. `tank` is what a heater holds, in gallons; it leaves by the heater's own drain valve.
    """

    thing: str
    name: str
    stops: tuple[str, ...]
    close: tuple[str, ...]
    open: tuple[str, ...]
    leaving: tuple[Leaving, ...]
    tank: float
    heater: tuple[str, ...]
    assumed: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def gallons(self) -> float:
        """What surely has to leave, the heater's own water with it."""
        return self.tank + sum(way.gallons for way in self.leaving)

    @property
    def at_most(self) -> float:
        """What may have to leave, the heater's own water with it."""
        return self.tank + sum(way.at_most for way in self.leaving)


def drain_down(house: House, thing: str) -> DrainDown:
    """Return what has to be drained before work on `thing`. Raises NoSuchThingError."""
    answer = isolate(house, thing)
    own = _own_stops(house, thing)
    shut = own | _automatic(house)
    rung = next((rung for rung in answer.ladder if not shut & set(rung.close)), None)
    if rung is None:
        missing = (*answer.missing, f"a shutoff ahead of {thing}")
        stops = _enough(answer, own)
        return DrainDown(thing, answer.name, stops, (), (), (), 0.0, (), answer.assumed, missing)
    found = [_leaving(house, thing, *way) for way in _ways(house, thing, rung)]
    return DrainDown(
        thing,
        answer.name,
        _enough(answer, own),
        rung.close,
        rung.open,
        tuple(way for way, _ in found),
        _tank(house, thing),
        rung.heater,
        answer.assumed,
        tuple(dict.fromkeys(said for _, missing in found for said in missing)),
    )


def _own_stops(house: House, thing: str) -> set[str]:
    if thing not in house.items or house.items[thing].system != "fixture":
        return set()
    return {name for name, item in house.items.items() if item.owner == thing}


def _automatic(house: House) -> set[str]:
    """Return the valves that a motor turns: nobody works behind one that may open by itself."""
    kinds = {name: getattr(item.entry, "kind", None) for name, item in house.items.items()}
    return {name for name, kind in kinds.items() if kind == "automatic shutoff"}


def _enough(answer: Isolation, own: set[str]) -> tuple[str, ...]:
    """Return the fixture's own stops where closing them is the first step of its ladder."""
    first = answer.ladder[0].close if answer.ladder else ()
    return first if first and own.issuperset(first) else ()


def _tank(house: House, thing: str) -> float:
    heaters = {heater.id: heater.capacity for heater in each(house.record.heaters)}
    capacity = heaters.get(thing)
    return capacity.gallons if capacity else 0.0


def _ways(house: House, thing: str, rung: Rung) -> list[tuple[tuple[str, ...], set[str]]]:
    """Return the ends of the work and what stays joined to each, ends joined to one another as one.

    Joined is what can send water to the end once the step is closed.
    """
    network = house.water.network
    body = house.water.bodies.get(thing, frozenset())
    barred = network.standing(body).barred(rung.close, rung.open)
    ends = [tap.id for tap in house.hydraulics.taps.values() if tap.owner == thing]
    ways: list[tuple[tuple[str, ...], set[str]]] = []
    apart: list[tuple[str, ...]] = [(end,) for end in ends]
    for names in apart or [tuple(sorted(body))]:
        joined = network.upstream(frozenset(names), barred)
        met = [way for way in ways if way[1] & joined]
        ways = [way for way in ways if way not in met]
        merged = tuple(end for way in met for end in way[0])
        ways.append(((*merged, *names), joined.union(*(way[1] for way in met))))
    return ways


def _leaving(
    house: House, thing: str, ends: tuple[str, ...], joined: set[str]
) -> tuple[Leaving, tuple[str, ...]]:
    """Return what leaves by one way, and what is not known of it."""
    pipes = house.hydraulics
    taps = sorted(
        (tap for tap in pipes.taps.values() if tap.id in joined), key=lambda tap: tap.height
    )
    own = [tap for tap in taps if tap.id in ends]
    level = _level(house, thing, own)
    stands = standing(pipes, joined, level)
    opened = [tap for tap in taps if opened_by_hand(house, tap.owner)]
    low = opened[0] if opened and level is not None and opened[0].height < level else None
    high = opened[-1] if len(opened) > 1 else None
    way = Leaving(
        tuple(tap.id.removeprefix(f"{thing}.") for tap in own),
        stands.gallons,
        stands.gallons + stands.unsure,
        low.owner if low else None,
        high.owner if high else None,
        _by_tap(house, stands, low, high) if low else _by_work(house, thing, stands),
    )
    return way, tuple(_missing(thing, level, stands))


def _level(house: House, thing: str, own: list[Tap]) -> float | None:
    """Return how high the work is, in feet: the lowest of outlets and own stops."""
    heights = house.hydraulics.heights
    known = [heights[stop] for stop in _own_stops(house, thing) if stop in heights]
    if own:
        return min((*known, *(tap.height for tap in own)))
    return heights.get(thing)


def _by_tap(house: House, stands: Standing, low: Tap, high: Tap | None) -> float | None:
    """Return how long the tap takes under half of the head that stands over it."""
    outlet = giving(house, low.owner)
    if high is None or stands.gallons <= 0 or high.height <= low.height or outlet is None:
        return None
    psi = table("water_head").values["psi_per_ft"] * (high.height - low.height) / 2
    return stands.gallons / float(outlet.k * sqrt(psi)) * 60


def _by_work(house: House, thing: str, stands: Standing) -> float | None:
    """Return how long the opened end of pipe takes, the widest of the thing's."""
    bore = max((bore for _, bore in failed_ends(house, thing)), default=None)
    return least_seconds(stands.gallons, bore, stands.top_ft) if bore else None


def _missing(thing: str, level: float | None, stands: Standing) -> Iterator[str]:
    if level is None:
        yield f"how high {thing} stands"
    if stands.unsure:
        yield "the heights of some runs that are joined to it"


def said_time(seconds: float) -> str:
    """Say how long a way takes: in fives of seconds up to a minute and a half, then in minutes."""
    return said_seconds(seconds) if seconds <= 90 else f"about {ceil(seconds / 60)} minutes"


def said_much(gallons: float, units: Units) -> str:
    """Say how much leaves; a little is not said as nothing."""
    if gallons < LEAST_SAID / 2:
        return f"under {say_volume(Volume(LEAST_SAID), units)}"
    return say_volume(Volume(gallons), units)
