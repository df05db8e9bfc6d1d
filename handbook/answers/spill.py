"""Spill: what a failed supply puts on the floor by the time somebody has walked to the valve.

The flow is what the piping can deliver to an open end (`outflow`), the times are the walks to the
valves of the ladder, one rung after the other, counted from when one sets out from the room. What
stands in the pipes above the opening (and in a heater that leaks) still runs out after that, so
that nobody thinks that the valve has failed (`still_running`).
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from handbook.answers.flowing.failed_ends import failed_ends
from handbook.answers.flowing.outflow import outflow
from handbook.answers.flowing.still_running import After, Hole, after
from handbook.answers.isolate import Isolation, isolate
from handbook.answers.isolating.rungs import Rung
from handbook.answers.isolating.targets import PIPE_TO
from handbook.answers.route import counted, route
from handbook.house.house import House
from handbook.house.naming import end_name
from handbook.house.once import once
from handbook.record.grammar.common import each, given
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.safeguards import Safeguards
from handbook.tables import table


@dataclass(frozen=True)
class Step:
    """One rung of the ladder, once one stands at its valves.

    `seconds` are counted from setting out, the rungs before it walked to in vain, in fives and
    rounded up, as a time on foot is said everywhere; `gallons` are on the floor by then. None
    where the way is not known.
    """

    close: tuple[str, ...]
    seconds: int | None
    gallons: float | None
    utility: bool
    after: After


@dataclass(frozen=True)
class Spill:
    """`gpm` runs from the supply `at` (the worse of a fixture's two); None where not known.

    `automatic_gallons` are on the floor when the automatic shutoff has closed, where a sensor
    that closes it watches the thing.
    """

    thing: str
    name: str
    at: str | None
    bore_in: float | None
    gpm: float | None
    least_gpm: float | None
    steps: tuple[Step, ...]
    automatic: str | None
    automatic_gallons: float | None
    assumed: tuple[str, ...]
    missing: tuple[str, ...]


@once
def spill(house: House, thing: str) -> Spill:
    """Return what a parted supply, a burst run or a split hose spills. Raises NoSuchThingError."""
    answer = isolate(house, thing)
    worst = max(_openings(house, thing), key=lambda found: found.gpm or 0.0, default=None)
    if worst is None or worst.gpm is None:
        name = end_name(house.items, thing.removeprefix(PIPE_TO))
        missing = worst.missing if worst else (f"the size and material of the pipe to {name}",)
        return _unknown(answer, missing)
    steps = tuple(_steps(house, worst, answer.shown))
    automatic = _automatic(house, thing)
    seconds = table("spill_ways").values["closes_after_s"]
    return replace(
        worst,
        steps=steps,
        automatic=automatic,
        automatic_gallons=worst.gpm * seconds / 60 if automatic else None,
        assumed=(*worst.assumed, *_said(worst, automatic)),
        missing=tuple(dict.fromkeys((*worst.missing, *_unwalked(steps)))),
    )


def worst_flow(house: House, things: Iterable[str]) -> float | None:
    """Return the most that any of these may let out, in gpm; None where none can be told."""
    found = [spill(house, thing).gpm for thing in things if _holds(house, thing)]
    return max((gpm for gpm in found if gpm is not None), default=None)


def still_runs(house: House) -> After | None:
    """Return the most that still runs out indoors once the last of the house's own valves is shut.

    None where nothing is known to.
    """
    found = [
        own[-1].after
        for owner in house.water.own
        if house.places.level_id(house.items[owner].place) != OUTSIDE
        if (own := [step for step in spill(house, owner).steps if not step.utility])
    ]
    most = max(found, key=lambda after: after.at_most, default=None)
    return most if most and most.at_most else None


def _holds(house: House, thing: str) -> bool:
    return thing in house.water.bodies or thing.startswith(PIPE_TO)


def _unknown(answer: Isolation, missing: tuple[str, ...]) -> Spill:
    nothing = (None, None, None, None)
    return Spill(answer.thing, answer.name, *nothing, (), None, None, (), missing)


def _openings(house: House, thing: str) -> Iterator[Spill]:
    """Yield what runs from each supply of the thing; one with no known bore is left out."""
    item = house.items.get(thing)
    for at, bore in failed_ends(house, thing):
        out = outflow(house, at, bore)
        yield Spill(
            thing=thing,
            name=item.name if item else thing,
            at=at,
            bore_in=bore,
            gpm=out.gpm,
            least_gpm=out.least_gpm,
            steps=(),
            automatic=None,
            automatic_gallons=None,
            assumed=out.assumed,
            missing=out.missing,
        )


def _steps(house: House, spilled: Spill, rungs: tuple[Rung, ...]) -> Iterator[Step]:
    """Walk from the thing to the valves of each rung in turn."""
    here, spent = _start(house, spilled.thing), 0.0
    hole = Hole(spilled.thing, spilled.at or "", spilled.bore_in or 0.0)
    failed: frozenset[str] = frozenset()
    for rung in rungs:
        for valve in (*rung.close, *rung.open):
            leg = route(house, here, valve).seconds if here else None
            here, spent = (valve, spent + leg) if leg is not None else (None, spent)
        seconds = counted(spent) if here else None
        gallons = None if seconds is None else (spilled.gpm or 0.0) * seconds / 60
        still = after(house, hole, rung, failed)
        yield Step(rung.close, seconds, gallons, rung.utility, still)
        failed = failed.union(rung.close, rung.open)


def _start(house: House, thing: str) -> str | None:
    item = house.items.get(thing.removeprefix(PIPE_TO))
    return item.id if item else None


def _automatic(house: House, thing: str) -> str | None:
    """Return the shutoff that a sensor watching the thing closes, if it stops the thing."""
    guards = house.record.safeguards or Safeguards()
    for sensor in each(guards.sensors):
        closes = given(sensor.closes) if thing in (sensor.watches or ()) else None
        if closes and any(closes in rung.close for rung in isolate(house, thing).ladder):
            return closes
    return None


def _said(spilled: Spill, automatic: str | None) -> Iterator[str]:
    ways = table("spill_ways").values
    yield "Counted from setting out for the valve; looking for it takes longer."
    if spilled.bore_in == ways["hose_bore_in"]:
        yield f"The hose is taken to be {ways['hose_bore_in']} in wide inside (common practice)."
    if automatic:
        yield (
            f"{automatic} is taken to have closed {ways['closes_after_s']} seconds after its "
            "sensor is wet (from memory; its manual says)."
        )


def _unwalked(steps: tuple[Step, ...]) -> Iterator[str]:
    for step in steps:
        if step.seconds is None:
            yield f"how far it is to {', '.join(step.close)}"
