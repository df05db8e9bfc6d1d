"""How the valves of a page are turned, each way once, and where those are that come second.

Most ways name the handle that they are for; where one does not, the tags stand before it.
"""

from collections.abc import Iterable

from handbook.answers.isolate import Isolation
from handbook.answers.isolating.rungs import Rung
from handbook.house.house import House
from handbook.pages.content import Line, Tag
from handbook.pages.words import sentences
from handbook.tables import table


def how_they_turn(rungs: Iterable[Rung]) -> Line:
    """Each way of turning once, a sentence each; what a utility turns is left out."""
    said: dict[str, list[str]] = {}
    for rung in rungs:
        for turn in () if rung.utility else rung.turns:
            said.setdefault(turn.do, []).append(turn.id)
    line: Line = ()
    for how in sorted(said, key=lambda how: how not in _USUAL):
        line += (" ",) if line else ()
        line += _way(how, dict.fromkeys(said[how]))
    return line


_USUAL = {manner["close"] for manner in table("valves").values.values() if "close" in manner}
"""Ways of closing that name the handle they are for, so that no tag is needed."""


def _way(how: str, valves: Iterable[str]) -> Line:
    if how in _USUAL:
        return (sentences(how),)
    return (*in_a_row(valves), f": {sentences(how)}")


def in_a_row(valves: Iterable[str]) -> Line:
    """Tags in a row: `W10, W11`."""
    said: Line = ()
    for valve in valves:
        said += (", ", Tag(valve)) if said else (Tag(valve),)
    return said


def fallback(house: House, answer: Isolation) -> tuple[Rung, ...]:
    """What is to be closed if the first step does not hold, up to a main and no further."""
    mains = set(house.water.mains)
    then: list[Rung] = []
    for rung in answer.shown[1:]:
        if rung.utility or (then and mains & set(then[-1].close)):
            break
        then.append(rung)
    return tuple(then)


def then(rungs: Iterable[Rung]) -> Line:
    """Steps in their order: `W30, then W5`."""
    said: Line = ()
    for rung in rungs:
        said += (", then ",) if said else ()
        said += in_a_row((*rung.close, *rung.open))
    return said
