"""Isolate: this thing leaks; which valves stop it, and what to do if they fail.

`isolate(house, thing)` gives the whole ladder. A thing is anything with an id that holds water (a
fixture, a valve, equipment), a stretch of pipe ("pipe to W4"), or "house" for all of it. The
search itself is in `ladder`; here the record's things become its nodes, and its steps get their
words. Which supplies are lost counts a sink's cold and its hot as two.

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
from dataclasses import dataclass, replace
from typing import Literal

from handbook.answers.isolating import ladder
from handbook.answers.isolating.handling import handling
from handbook.answers.isolating.nearness import nearness
from handbook.answers.isolating.one_ways import counted_on
from handbook.answers.isolating.words import said_lost
from handbook.answers.not_asked import no_thing, no_water
from handbook.answers.serves import heaters_without_water
from handbook.house.drains import FLOOR_DRAIN
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.once import once
from handbook.house.water import LEVER, fed_through, pipe_ends
from handbook.record.grammar.common import Handle, given
from handbook.tables import table

WHOLE = "house"
PIPE_TO = "pipe to "


@dataclass(frozen=True)
class Turn:
    """One valve to work in a step."""

    id: str
    name: str
    do: str
    """How it is turned, in words; from its kind, or as the record says."""
    limit: str | None
    tool: str | None
    where: str | None
    utility: bool


@dataclass(frozen=True)
class Rung:
    """One step of the ladder. `also_off` are supply ids (`hall-lav.hot`)."""

    close: tuple[str, ...]
    open: tuple[str, ...]
    also_off: tuple[str, ...]
    also_off_said: tuple[str, ...]
    turns: tuple[Turn, ...]
    heater: tuple[str, ...]
    """What to do with each heater whose supply this step stops."""
    utility: bool
    """Whether a valve of the utility's is among them."""
    handy: bool
    """Whether nothing runs dry but what stands in the room of the thing itself."""

    @property
    def tools(self) -> tuple[str, ...]:
        """What is needed beside a hand."""
        return tuple(dict.fromkeys(turn.tool for turn in self.turns if turn.tool))


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


@dataclass(frozen=True)
class Leak:
    """What has to be dry: `targets`, nodes of the water network.

    `thing` is what was asked about, `stands` the thing or room before which one stands; `own` are
    supplies not counted as lost, `failed` valves that may not serve.
    """

    thing: str
    stands: str | None
    targets: frozenset[str]
    own: frozenset[str] = frozenset()
    failed: frozenset[str] = frozenset()


@once
def isolate(house: House, thing: str) -> Isolation:
    """Return the ladder that stops `thing`. Raises NoSuchThingError."""
    name, targets, failed, guess = _targets(house, thing)
    own = frozenset(house.water.own.get(thing, ()))
    leak = Leak(thing, _stands(house, thing), targets, own, failed)
    rungs = climb(house, leak)
    off = not rungs and ladder.cuts(house.water.network, targets, failed=failed)
    off = off and bool(targets)
    kept = _kept_off(house, targets, failed) if off else ()
    again = climb(house, replace(leak, failed=failed | set(kept))) if kept else ()
    short = _short(house, rungs, most=1 if failed else 2)
    return Isolation(
        thing,
        name,
        rungs,
        short,
        tuple(dict.fromkeys((*guess, *_placed(house, thing), *assumed(house, targets, rungs)))),
        _missing(house, thing, rungs, off) if targets else (),
        off,
        _counts_on(house, targets, failed, [rungs[i] for i in short]),
        tuple(_turn(house, valve, "close") for valve in kept),
        tuple(again[i] for i in _short(house, again, most=1)),
        not targets,
    )


def climb(house: House, leak: Leak) -> tuple[Rung, ...]:
    """Return every rung for a leak; none where no water reaches it, or nothing helps."""
    near = nearness(house, leak.stands)
    failed, rungs = leak.failed, []
    for step in ladder.steps(house.water.network, leak.targets, leak.own, failed, near):
        heaters = _dry_heaters(house, leak.targets, step, failed)
        rungs.append(_rung(house, step, leak.own, heaters, _handy(house, leak.thing, step)))
        failed = failed.union(step.close, step.open)
    return tuple(rungs)


def things_with_water(house: House) -> tuple[str, ...]:
    """Return the id of every thing that can be asked about, in walking order."""
    return tuple(name for name in house.items if name in house.water.bodies)


def _targets(
    house: House, thing: str
) -> tuple[str, frozenset[str], frozenset[str], tuple[str, ...]]:
    """Return the thing's name, wet nodes, unusable valves, and what had to be assumed."""
    water = house.water
    if thing == WHOLE:
        node, said = _after_mains(house)
        return "the whole house", node, frozenset(), said
    if thing.startswith(PIPE_TO):
        end = thing.removeprefix(PIPE_TO)
        stretch = next((s for s in pipe_ends(water) if s in (f"{end}.in", end)), None)
        if stretch is not None:
            return f"pipe to {house.called(end)}", frozenset({stretch}), frozenset(), ()
    item = house.items.get(thing)
    if item is None:
        raise no_thing(house, thing, things_with_water(house))
    if thing not in water.bodies:
        raise no_water(item)
    if _is_drain(house, item):
        return item.name, frozenset(), frozenset(), ()
    if item.kind in {"shutoff", "stop"}:
        return item.name, water.bodies[thing], frozenset({thing, thing + LEVER}), ()
    if item.system == "fixture" and thing not in water.own:
        node, said = _after_mains(house)
        guess = f"What feeds {item.name} is not recorded: the whole house is stopped."
        return item.name, node, frozenset(), (guess, *said)
    return item.name, water.bodies[thing], frozenset(), ()


def _is_drain(house: House, item: Item) -> bool:
    """Whether a fixture takes water and is led none."""
    return item.kind == FLOOR_DRAIN and item.id not in house.water.own


def _kept_off(house: House, targets: frozenset[str], failed: frozenset[str]) -> tuple[str, ...]:
    """Return the closed valves on a shortest way of the water to what is dry as they stand."""
    network = house.water.network
    shut = {valve.id for valve in network.valves if valve.closed and valve.id not in failed}
    return tuple(valve for valve in network.way(targets, ()) if valve in shut)


def _stands(house: House, thing: str) -> str | None:
    """Return the thing that one stands before; None for the whole house."""
    name = thing.removeprefix(PIPE_TO)
    if name in house.items:
        return name
    owner = name.rpartition(".")[0]
    return owner if owner in house.items else None


def _after_mains(house: House) -> tuple[frozenset[str], tuple[str, ...]]:
    """Return the nodes to keep dry so that nothing in the house runs."""
    water = house.water
    if water.mains:
        return frozenset({water.mains[0]}), ()
    taps = frozenset(supply.node for supply in water.network.supplies)
    return taps or water.network.sources, ()


def _handy(house: House, thing: str, step: ladder.Step) -> bool:
    """Whether all that a step shuts off stands where the thing does; a thing's own supplies count
    as there."""
    item = house.items.get(thing)
    if item is None:
        return False
    lost = {owner for owner, own in house.water.own.items() if set(own) & set(step.lost)}
    return all(_room(house, owner) == _room(house, thing) for owner in lost - {item.owner})


def _room(house: House, thing: str) -> str | None:
    """The room of a thing, or its level where it stands in none."""
    place = house.items[thing].place
    return (place.room if place else None) or house.places.level_id(place)


def _rung(
    house: House, step: ladder.Step, own: frozenset[str], heaters: tuple[str, ...], handy: bool
) -> Rung:
    opened = tuple(valve for valve in step.open if not valve.endswith(LEVER))
    turns = tuple(_turn(house, valve, "close") for valve in step.close)
    turns += tuple(_turn(house, valve, "open") for valve in opened)
    return Rung(
        step.close,
        opened,
        step.lost,
        said_lost(house, frozenset(step.lost) | own, own),
        turns,
        heaters,
        any(turn.utility for turn in turns),
        handy,
    )


def _turn(house: House, valve: str, way: Literal["close", "open"]) -> Turn:
    item = house.items[valve]
    handle = item.entry
    assert isinstance(handle, Handle)
    manner = table("valves").values.get(handle.kind or "", {})
    return Turn(
        valve,
        item.name,
        handling(handle, way) or f"{way} it (how it turns is not recorded)",
        manner.get("limit"),
        given(handle.tool),
        house.places.say(item.place),
        bool(getattr(handle, "utility", False)),
    )


def _dry_heaters(
    house: House, targets: frozenset[str], step: ladder.Step, failed: frozenset[str]
) -> tuple[str, ...]:
    """Say what each heater needs that gets no water once this step is done."""
    network = house.water.network
    barred = network.standing(targets, failed).barred(step.close, step.open)
    return heaters_without_water(house, network.nodes - network.downstream(network.sources, barred))


def _short(house: House, rungs: Sequence[Rung], most: int) -> tuple[int, ...]:
    """Choose the rungs for people, as the module says; `most` of them before the mains."""
    mains = set(house.water.mains)
    main = [i for i, rung in enumerate(rungs) if mains & set(rung.close)]
    near = [i for i, rung in enumerate(rungs) if not rung.utility and i not in main]
    worth = [i for i in near if rungs[i].handy or _leaves_half(house, rungs[i])]
    if not main:
        worth = worth or near[:1]
    start = _first(rungs, worth)
    wanted = [i for i in worth if i >= start][:most] + main
    wanted += [i for i, rung in enumerate(rungs) if rung.utility][:1]
    return tuple(sorted(set(wanted)))


def _leaves_half(house: House, rung: Rung) -> bool:
    """Whether at least as many supplies keep their water as lose it."""
    return 2 * len(rung.also_off) <= len(house.water.network.supplies)


def _first(rungs: Sequence[Rung], worth: Sequence[int]) -> int:
    """The rung to go to first: the nearest, or a later handy one where that spares a tool."""
    bare = [i for i in worth if rungs[i].handy and not rungs[i].tools]
    if worth and rungs[worth[0]].tools and bare:
        return bare[0]
    return 0


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


def assumed(house: House, targets: frozenset[str], rungs: Sequence[Rung]) -> tuple[str, ...]:
    """Return the assumed feeds that an answer leans on: the thing's own, and those of a loss."""
    network = house.water.network
    lost = {supply for rung in rungs for supply in rung.also_off}
    losers = {supply.node for supply in network.supplies if supply.id in lost}
    leaning = fed_through(house.water, targets | losers)
    return tuple(said for node, said in house.water.assumed.items() if node in leaning)


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
