"""Isolate: this thing leaks; which valves stop it, and what to do if they fail.

`isolate(house, thing)` gives the whole ladder. A thing is anything with an id that holds water (a
fixture, a valve, equipment), a stretch of pipe ("pipe to W4"), or "house" for all of it. The
search itself is in `ladder`; in `targets` the record's things become its nodes, and in `rungs` its
steps get their words. Which supplies are lost counts a sink's cold and its hot as two.

People are shown a few rungs of it (`Isolation.shown`): the one to go to first, the next that
spares as much, those with a main, and the utility's. A rung is worth its walk if all that it also
shuts off stands in the room of the thing that leaks (it is `handy`), or if it leaves half of the
house its water; otherwise the main is as good. A valve's own ladder begins where its closing has
failed, so it has one such rung less: what its page says is what follows it on any other page. The
first to go to is the nearest, unless its valves need a tool and a later handy one of the
occupant's own needs none: nobody looks for a screwdriver while water runs, to spare a room its
water. What was passed over for that is `with_tool`, all else that is not shown `between`.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from handbook.answers.isolating import ladder
from handbook.answers.isolating.assumed import assumed
from handbook.answers.isolating.one_ways import counted_on
from handbook.answers.isolating.rungs import Leak, Rung, Turn, climb
from handbook.answers.isolating.shown import shown_of
from handbook.answers.isolating.shut_already import shut_already
from handbook.answers.isolating.targets import stands, targets_of
from handbook.house.house import House
from handbook.house.once import once


@dataclass(frozen=True)
class Isolation:
    """The whole ladder for one thing; `short` are the indices of the rungs shown to people."""

    thing: str
    name: str
    ladder: tuple[Rung, ...]
    short: tuple[int, ...]
    assumed: tuple[str, ...]
    missing: tuple[str, ...]
    already_off: bool = False
    counts_on: tuple[str, ...] = ()
    """Check valves that must hold, or the steps shown do not stop the water."""
    kept_off: tuple[Turn, ...] = ()
    """Where it is off already: the valves that are recorded as closed and keep the water away."""
    nevertheless: tuple[Rung, ...] = ()
    """What to close if water comes although those are closed: they do not hold."""
    is_drain: bool = False
    """Whether no water is led to it: it is a drain, and no valve stops what comes up in it."""

    @property
    def shown(self) -> tuple[Rung, ...]:
        """The rungs that people are shown: the first, a second, mains, the utility's."""
        return tuple(self.ladder[index] for index in self.short)

    @property
    def with_tool(self) -> Rung | None:
        """The nearer step that was passed over, because it needs a tool."""
        passed = self.ladder[: self.short[0]] if self.short else ()
        return next((rung for rung in passed if rung.handy and rung.tools), None)

    @property
    def between(self) -> tuple[Rung, ...]:
        """The steps before the last shown that people are not shown, without `with_tool`."""
        inner = (i for i in range(max(self.short, default=0)) if i not in self.short)
        return tuple(rung for rung in map(self.ladder.__getitem__, inner) if rung != self.with_tool)


@once
def isolate(house: House, thing: str) -> Isolation:
    """Return the ladder that stops `thing`. Raises NoSuchThingError."""
    name, targets, failed, guess = targets_of(house, thing)
    own = frozenset(house.water.own.get(thing, ()))
    leak = Leak(thing, stands(house, thing), targets, own, failed)
    rungs = climb(house, leak)
    off = not rungs and ladder.cuts(house.water.network, targets, failed=failed)
    off = off and bool(targets)
    kept, again = shut_already(house, leak) if off else ((), ())
    short = shown_of(house, rungs, most=1 if failed else 2)
    return Isolation(
        thing,
        name,
        rungs,
        short,
        tuple(dict.fromkeys((*guess, *_placed(house, thing), *assumed(house, targets, rungs)))),
        _missing(house, thing, rungs, off) if targets else (),
        off,
        _counts_on(house, targets, failed, [rungs[i] for i in short]),
        kept,
        tuple(again[i] for i in shown_of(house, again, most=1)),
        not targets,
    )


def _counts_on(
    house: House, targets: frozenset[str], failed: frozenset[str], shown: Sequence[Rung]
) -> tuple[str, ...]:
    """The check valves that any of the steps shown counts on."""
    found: dict[str, None] = {}
    for rung in shown:
        found |= dict.fromkeys(counted_on(house, targets, rung.close, rung.open, failed))
        failed = failed.union(rung.close, rung.open)
    return tuple(found)


def _placed(house: House, thing: str) -> tuple[str, ...]:
    said = house.water.placed.get(thing)
    return (said,) if said else ()


def _missing(house: House, thing: str, rungs: Sequence[Rung], off: bool) -> tuple[str, ...]:
    """Return the facts that would make this answer better."""
    missing = []
    handle = house.items[thing].entry if thing in house.items else None
    if not rungs and getattr(handle, "utility", False):
        missing.append(f"{thing} is the utility's own valve: what is before it, they alone stop.")
    elif not rungs and not off:
        missing.append(f"No shutoff that stops {thing} is recorded.")
    for rung in rungs:
        for turn in rung.turns:
            if turn.where is None:
                missing.append(f"Where {turn.id} is has not been recorded.")
    if not house.water.mains:
        missing.append("No main shutoff inside the house is recorded.")
    if not any(valve.utility for valve in house.water.network.valves):
        missing.append("The utility's own valve is not recorded.")
    return tuple(dict.fromkeys(missing))
