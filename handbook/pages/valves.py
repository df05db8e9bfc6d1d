"""Valves as pages say them: what to turn, where it is, how, and which side it stops."""

from collections.abc import Collection
from typing import Literal

from handbook.answers.isolate import Isolation, isolate
from handbook.answers.isolating.handling import handling
from handbook.answers.isolating.rungs import Rung, Turn
from handbook.answers.isolating.targets import WHOLE
from handbook.house.house import House
from handbook.pages.content import Line, Tag, Value
from handbook.pages.words import sentences
from handbook.record.grammar.common import Handle
from handbook.record.grammar.places import OUTSIDE


def to_close(house: House, rung: Rung | None) -> tuple[Value, ...]:
    """The turns of a step, as a guide prints them; none where there is no step."""
    return () if rung is None else tuple(_turn(house, turn, rung) for turn in rung.turns)


def to_reopen(house: House, rung: Rung | None) -> tuple[Value, ...]:
    """The same step taken back: what was closed is opened, what was opened is closed."""
    if rung is None:
        return ()
    return tuple(
        _valve(turn, "Open", manner(house, turn.id, "open"))
        if turn.id in rung.close
        else _valve(turn, "Close", manner(house, turn.id, "close"))
        for turn in reversed(rung.turns)
    )


def whole_house(house: House) -> tuple[tuple[Rung, ...], tuple[Rung, ...]]:
    """The steps that stop all water: those of the house's own mains, and the utility's.

    Where no main is recorded the first step that needs nothing of the utility's stands for it.
    """
    answer = isolate(house, WHOLE)
    mains = set(house.water.mains)
    own = tuple(rung for rung in answer.ladder if not rung.utility)
    inside = tuple(rung for rung in own if mains & set(rung.close)) or own[:1]
    return inside, tuple(rung for rung in answer.ladder if rung.utility)[:1]


def outdoors(house: House, rung: Rung) -> bool:
    """Whether every valve of a step is reached without going indoors."""
    return all(house.places.level_id(house.items[turn.id].place) == OUTSIDE for turn in rung.turns)


def no_main(house: House) -> str:
    """Say why no valve can be named that stops the house's water."""
    if house.water.mains:
        main = house.called(house.water.mains[0])
        return f"By the record {main} stands closed: have that looked at."
    return "The main shutoff of this house is not recorded."


def first(answer: Isolation) -> Rung | None:
    """The nearest step, or None where no shutoff is recorded that would help."""
    return answer.shown[0] if answer.shown else None


def no_step(house: House, answer: Isolation) -> Line:
    """Why no valve is named to close: one stands closed already, or none is recorded."""
    closed = tuple(turn.id for turn in answer.kept_off)
    if closed:
        says = "is recorded as closed: see that it is"
        if len(closed) > 1:
            says = "are recorded as closed: see that they are"
        return (*tags(house, closed), f" {says}")
    if answer.already_off:
        return ("by the record no water reaches it",)
    return ("no shutoff is recorded",)


def tags(house: House, valves: Collection[str], sides: bool = False) -> Line:
    """Tags in a row: `W10, W11`; with the side that each stops: `W10 (cold), W11 (hot)`."""
    said: Line = ()
    for valve in valves:
        side = _side(house, valve) if sides and len(valves) > 1 else None
        said += (", ",) if said else ()
        said += (Tag(valve),) + ((f" ({side})",) if side else ())
    return said


def dry_heaters(house: House, rung: Rung) -> tuple[str, ...]:
    """Ids of the heaters whose supply a step stops."""
    said = [words.partition(": ")[0] for words in rung.heater]
    return tuple(name for name in house.items if house.called(name) in said)


def stops_all_hot(house: House, rung: Rung | None) -> bool:
    """Whether a step leaves no hot tap running, and there are hot taps."""
    hot = {s.id for s in house.water.network.supplies if s.id.endswith(".hot")}
    return rung is not None and bool(hot) and hot <= set(rung.also_off)


def _side(house: House, valve: str) -> str | None:
    """`hot` or `cold` where closing this valve alone stops only such supplies."""
    network = house.water.network
    before = network.downstream(network.sources, network.standing(frozenset()).barred())
    after = network.downstream(network.sources, network.standing(frozenset()).barred((valve,)))
    lost = {s.id.rpartition(".")[2] for s in network.supplies if s.node in before - after}
    return lost.pop() if len(lost) == 1 and lost <= {"hot", "cold"} else None


def _turn(house: House, turn: Turn, rung: Rung) -> Value:
    return _valve(turn, "Close" if turn.id in rung.close else "Open", turn.do)


def _valve(turn: Turn, act: str, do: str) -> dict[str, Value]:
    known = "not recorded" not in do
    return {
        "act": act,
        "valve": (Tag(turn.id, turn.name if turn.name != turn.id else ""),),
        "tag": (Tag(turn.id),),
        "where": turn.where or "not recorded",
        "how": sentences(do) if known else "",
        "limit": sentences(turn.limit),
        "tool": turn.tool or "",
    }


def manner(house: House, valve: str, way: Literal["close", "open"]) -> str:
    """How a valve is turned one way; or that it is not recorded."""
    handle = house.items[valve].entry
    assert isinstance(handle, Handle)
    return handling(handle, way) or f"{way} it (how it turns is not recorded)"
