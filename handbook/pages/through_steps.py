"""The step to take for water by one sign in one room, in words: theirs, and the utility's."""

from handbook.answers.isolating.rungs import Rung
from handbook.answers.through import left_running
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.pages.calls import call
from handbook.pages.content import Line
from handbook.pages.through_cases import Case, main_here
from handbook.pages.valves import tags
from handbook.pages.words import listed


def to_close(house: House, case: Case) -> Line:
    """What to close; by the record some of it may be closed already, and is only to be seen to."""
    closed = tuple(turn.id for turn in case.answer.kept_off)
    if not closed:
        return _open_yet(house, case)
    said: Line = ("By the record, ", *tags(house, closed), " is closed already: see that it is")
    return (*said, "; if it still runs, ", *_open_yet(house, case)) if case.rung else said


def _open_yet(house: House, case: Case) -> Line:
    if case.rung is None:
        off = listed(case.answer.turn_off)
        if any(suspect.nodes for suspect in case.answer.suspects):
            return ("No valve that stops it is recorded",)
        return (
            f"Nothing; turn off the {off}, at its thermostat"
            if off
            else "Nothing: only drains run there",
        )
    main = tags(house, main_here(house, case))
    if case.rung.utility:
        return main or _utility(house, case.rung)
    said = tags(house, case.rung.close, sides=True)
    if main:
        said = (*main, "; if it still runs, ", *said)
    if case.rung.open:
        said += (", open ", *tags(house, case.rung.open))
    return said


def theirs(house: House, case: Case) -> Line:
    """What the utility has to close: after the main that stands first in the row, or where none
    of the house's own valves stops all that may leak."""
    water = contact(house, "water utility")
    if case.rung is None:
        wet = any(suspect.nodes for suspect in case.answer.suspects)
        cooling = contact(house, "heating contractor") if case.answer.turn_off else None
        whom = water if wet else cooling
        return (" ", *call(whom), ".") if whom else ()
    if not case.rung.utility and left_running(house, case.answer, case.rung):
        return (" If it still runs: ", *call(water), "; no valve recorded here stops it.")
    if not case.rung.utility or not main_here(house, case):
        return ()
    return (" If it still runs: ", *_utility(house, case.rung), ".")


def _utility(house: House, rung: Rung) -> Line:
    return (*call(contact(house, "water utility")), "; they close ", *tags(house, rung.close))
