"""How the valves of a page are turned, each way once, and where those are that come second.

Most ways name the handle that they are for. Where a page has several ways the tags stand before
all but the commonest such one, so that nobody has to tell one handle from another.
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
    said: dict[str, dict[str, None]] = {}
    for rung in rungs:
        for turn in () if rung.utility else rung.turns:
            said.setdefault(turn.do, {})[turn.id] = None
    usual = sorted((how for how in said if how in _USUAL), key=lambda how: len(said[how]))
    ways = [*(how for how in said if how not in _USUAL), *usual]
    line: Line = ()
    for how in ways:
        tags: Line = (*in_a_row(said[how]), ": ")
        if how == ways[-1] and usual:
            tags = ("All others: ",) if len(ways) > 1 else ()
        line += (*((" ",) if line else ()), *tags, sentences(how))
    return line


_USUAL = {manner["close"] for manner in table("valves").values.values() if "close" in manner}
"""Ways of closing that name the handle they are for, so that one alone needs no tag."""


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
