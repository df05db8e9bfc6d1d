"""Water by one sign in one room: the step to take before anybody knows what leaks, and why.

Of the ladder's steps the first is taken that needs no more than two valves and none with a motor,
because a person counts seconds, not fixtures.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from handbook.answers.isolating.rungs import Rung
from handbook.answers.through import Sign, Through, left_running, through
from handbook.house.house import House
from handbook.pages.content import Line
from handbook.pages.valves import tags, whole_house
from handbook.pages.words import listed, lower
from handbook.record.grammar.places import OUTSIDE

AT_MOST = 2
"""Valves that one person closes at once."""

NAMED = 2
"""How many things are named; of more it is their rooms."""

WORDS: dict[Sign, str] = {"ceiling": "the ceiling", "wall": "a wall"}
_OTHER: dict[Sign, Sign] = {"ceiling": "wall", "wall": "ceiling"}


@dataclass(frozen=True)
class Case:
    """Water by one sign in one room: what may leak, and the step to take."""

    room: str
    sign: Sign
    answer: Through
    rung: Rung | None


def case_of(house: House, room: str, sign: Sign) -> Case:
    """Return what may leak, and the first step that is quickly done."""
    answer = through(house, room, sign)
    handy = [rung for rung in answer.ladder if _handy(house, rung)]
    return Case(room, sign, answer, next(iter((*handy, *answer.ladder)), None))


def _handy(house: House, rung: Rung) -> bool:
    """Whether a step is quickly done: few valves, none of them turned by a motor."""
    kinds = {getattr(house.items[turn.id].entry, "kind", None) for turn in rung.turns}
    return len(rung.turns) <= AT_MOST and "automatic shutoff" not in kinds


def turned(house: House, case: Case) -> tuple[str, ...]:
    """What is to be turned, or seen to be closed, by the people there, in order."""
    closed = tuple(turn.id for turn in case.answer.kept_off if not turn.utility)
    if case.rung is None:
        return closed
    theirs = () if case.rung.utility else (*case.rung.close, *case.rung.open)
    return tuple(dict.fromkeys((*closed, *main_here(house, case), *theirs)))


def main_here(house: House, case: Case) -> tuple[str, ...]:
    """A main to close first, where the answer lies farther out: one that stands in the room
    itself, or any, where the answer is the utility's to give."""
    if case.rung is None:
        return ()
    if case.rung.utility:
        return house.water.mains[:1]
    if not set(house.water.mains) & set(case.rung.close):
        return ()
    places = [(main, house.items[main].place) for main in house.water.mains]
    here = [main for main, place in places if place and place.room == case.room]
    return tuple(here[:1]) if here and here[0] not in case.rung.close else ()


def in_doubt(house: House, cases: Iterable[Case], where: str = "") -> Line:
    """The main, to be closed first by who is in doubt, where it stops whatever may leak in those
    cases that close less; nothing where it does not, or where none closes less. `where` says how
    far that holds on a page that speaks of other places too."""
    for main in whole_house(house)[0][:1]:
        first = set(main.close)
        less = [case for case in cases if case.rung and not first <= set(turned(house, case))]
        if less and not any(left_running(house, case.answer, main) for case in less):
            return ("In doubt, ", *tags(house, main.close), f" first: it stops all of it{where}.")
    return ()


def why_more(house: House, cases: Iterable[Case]) -> str:
    """Why more is closed than for the same rooms' other sign: what else may leak here."""
    found = [(case, thing) for case in cases for thing in _more(house, case)]
    if not found:
        return ""
    than = WORDS[_OTHER[found[0][0].sign]]
    fed = _fed(house, dict.fromkeys(thing for _, thing in found))
    return f"This closes more than for {than}, as pipes to the {fed} may leak here too."


def _more(house: House, case: Case) -> tuple[str, ...]:
    """What may leak here that the smaller step for the other sign leaves running; nothing where
    both steps stand in one row."""
    other = case_of(house, case.room, _OTHER[case.sign])
    if case.rung is None or other.rung is None or other.answer.unsure or main_here(house, case):
        return ()
    if left_running(house, other.answer, case.rung):
        return ()
    return tuple(suspect.thing for suspect in left_running(house, case.answer, other.rung))


def _fed(house: House, things: Iterable[str]) -> str:
    """What these pipes feed, by name; by their rooms, where they are many."""
    items = [house.items[thing] for thing in things]
    used = [item for item in items if item.system == "fixture"] or items
    if len(used) <= NAMED:
        return listed(lower(item.name.partition(",")[0]) for item in used)
    rooms = dict.fromkeys(house.places.room_name(item.place) for item in used)
    out = ["outdoors"] if OUTSIDE in rooms else []
    return listed([*(room for room in rooms if room and room != OUTSIDE), *out])
