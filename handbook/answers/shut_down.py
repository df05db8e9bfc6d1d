"""Shut-down: how the house's water is put to rest for a freeze and brought back, in order.

The heater is made safe before its water goes, and set to work again only once hot water runs
without air; air comes in at the highest tap and leaves there. Each action names one thing of this
house; how its valves turn is the record's or its kind's.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from handbook.answers.flowing.outlets import giving, opened_by_hand
from handbook.answers.flowing.standing_water import standing
from handbook.answers.heating.at_rest import with_water_again, without_water
from handbook.answers.isolate import isolate
from handbook.answers.isolating.handling import handling
from handbook.answers.isolating.targets import WHOLE
from handbook.house.house import House
from handbook.house.hydraulics import Tap
from handbook.record.grammar.common import Handle, Stop, each, given
from handbook.record.grammar.water import Water
from handbook.record.knowing import Absent

Way = Literal["close", "open"]


@dataclass(frozen=True)
class Do:
    """One action on one thing; `thing` is None where it is on all of a kind."""

    do: str
    thing: str | None = None


@dataclass(frozen=True)
class ShutDown:
    """`down` and `back` are in order. `gallons` leave by the lowest tap; None where not known."""

    down: tuple[Do, ...]
    back: tuple[Do, ...]
    gallons: float | None
    assumed: tuple[str, ...]
    missing: tuple[str, ...]


def shut_down(house: House) -> ShutDown:
    """Return the order for draining the pipes of the house, and for filling them again."""
    whole = isolate(house, WHOLE)
    mains = whole.ladder[0].close if whole.ladder else ()
    taps = sorted(house.hydraulics.taps.values(), key=lambda tap: tap.height)
    opened = [tap for tap in taps if opened_by_hand(house, tap.owner) and giving(house, tap.owner)]
    indoors = [tap for tap in opened if not _outdoors(house, tap)]
    low, high = (indoors[0], indoors[-1]) if indoors else (None, None)
    stands = standing(house.hydraulics, house.water.network.nodes, low.height) if low else None
    missing = list(whole.missing if not mains else ())
    if low is None:
        missing.append("the taps and how high they are")
    return ShutDown(
        tuple(_down(house, mains, low, high)),
        tuple(_back(house, mains, low, high)),
        stands.gallons if stands and stands.gallons else None,
        whole.assumed,
        tuple(missing),
    )


def _outdoors(house: House, tap: Tap) -> bool:
    return house.places.level_id(house.items[tap.owner].place) == "outside"


def _down(house: House, mains: tuple[str, ...], low: Tap | None, high: Tap | None) -> Iterator[Do]:
    for heater in each(house.record.heaters):
        yield Do(without_water(house, heater), heater.id)
    water = house.record.water or Water()
    if pump := given(water.recirculation):
        yield Do("unplug it or switch it off", pump.id)
    for main in mains:
        yield Do(_turn(house, main, "close"), main)
    if lawn := given(water.irrigation):
        # Its own stop only after it: the air that empties the lines may come in ahead of it.
        yield Do(lawn.winter or "have the lawn lines emptied as their maker says", lawn.id)
        if stop := given(lawn.stop):
            yield Do(_turn(house, stop.id, "close"), stop.id)
    for fixture, stop in _outdoor_taps(house):
        if stop is not None:
            yield Do(_turn(house, stop.id, "close"), stop.id)
        yield Do("take its hose off, open it, and leave it open", fixture)
    if low is not None:
        yield Do(f"open it{_both(house, low)}, and leave it open", low.owner)
    if high is not None:
        yield Do(f"open it{_both(house, high)}, to let the air in", high.owner)
    yield Do("open every other tap, and flush every toilet once")
    yield Do("wait until the lowest tap has stopped running")
    softener = "" if isinstance(water.softeners, Absent) else ", the softener"
    up_to = f" and the pipe from the street up to {mains[-1]}" if mains else ""
    full = f"the heater{softener}, the traps, the hoses of machines{up_to}"
    yield Do(f"have a licensed plumber empty {full}, and blow out pipes that dip")


def _back(house: House, mains: tuple[str, ...], low: Tap | None, high: Tap | None) -> Iterator[Do]:
    yield Do("shut every tap but the highest")
    if high is not None:
        yield Do(f"leave it open{_both(house, high)}, to let the air out", high.owner)
    for main in mains:
        yield Do(f"a little at first, then all the way: {_turn(house, main, 'open')}", main)
    for automatic in _automatic(house):
        yield Do(_turn(house, automatic, "open"), automatic)
    yield Do("walk through every level and look for leaks, the lowest first")
    yield Do("run each tap until it no longer spits, then shut it: cold first, then hot")
    for heater in each(house.record.heaters):
        again = with_water_again(house, heater)
        yield Do(f"once hot taps run full, with no air: {again}", heater.id)
    water = house.record.water or Water()
    if pump := given(water.recirculation):
        yield Do("switch it on again", pump.id)
    for fixture, stop in _outdoor_taps(house):
        yield Do("shut it", fixture)
        if stop is not None:
            yield Do(f"after the last frost: {_turn(house, stop.id, 'open')}", stop.id)
    for valve in _lawn_valves(house, water):
        yield Do(f"after the last frost: {_turn(house, valve, 'open')}", valve)


def _both(house: House, tap: Tap) -> str:
    """Name both sides of a fixture that has both."""
    sides = [each_.id for each_ in house.hydraulics.taps.values() if each_.owner == tap.owner]
    return ", cold and hot" if len(sides) > 1 else ""


def _turn(house: House, valve: str, way: Way) -> str:
    entry = house.items[valve].entry
    said = handling(entry, way) if isinstance(entry, Handle) else None
    return said or f"{way} it (how it turns is not recorded)"


def _outdoor_taps(house: House) -> Iterator[tuple[str, Stop | None]]:
    """Yield each outdoor tap with the stop that keeps frost from it, if it has one."""
    for fixture in each(house.record.fixtures):
        if fixture.kind == "hose bibb":
            cold = given(fixture.cold)
            yield fixture.id, given(cold.stop) if cold else None


def _lawn_valves(house: House, water: Water) -> tuple[str, ...]:
    """The house's own valves that shut the lawn alone, the farthest from it first: whoever
    emptied it for the winter may have shut any of them."""
    lawn = given(water.irrigation)
    rungs = isolate(house, lawn.id).ladder if lawn else ()
    mains = set(house.water.mains)
    own = [rung.close for rung in rungs if not rung.utility and not mains & set(rung.close)]
    return tuple(valve for close in reversed(own) for valve in close)


def _automatic(house: House) -> Iterator[str]:
    for valve in each((house.record.water or Water()).valves):
        if valve.kind == "automatic shutoff":
            yield valve.id
