"""The emergency sheet for the inside of a cupboard door: one side of paper, read by a stranger.

It says the first right actions alone; the book and the phone pages say the rest.
"""

from handbook.answers.has import gas
from handbook.answers.isolate import Rung
from handbook.answers.whom import contact, contacts
from handbook.house.house import House
from handbook.pages.calls import call, label, numbers
from handbook.pages.content import Band, Line, Sheet, Step, Tag
from handbook.pages.cover import address
from handbook.pages.valves import whole_house
from handbook.pages.words import bare, sentences
from handbook.record.grammar.common import given
from handbook.record.grammar.people import Role

NUMBERS: tuple[Role, ...] = (
    "emergency",
    "licensed plumber",
    "water utility",
    "gas utility",
    "electric utility",
    "electrician",
)
"""Whose numbers stand at the foot; those of the gas company only in a house that may have gas."""

STILL: Line = ("If it still runs:",)


def emergency_sheet(house: House) -> Sheet:
    """Return the sheet; what it needs and the record does not hold is said on it."""
    facts = house.record.house
    recorded = facts.recorded.on if facts.recorded else None
    bands = (_water(house), *_gas(house), _carbon_monoxide(house), _backup(house), _whom(house))
    return Sheet(
        "In an emergency",
        facts.name,
        address(house),
        bands,
        foot=("More in the handbook. The local code and licensed people decide.",),
        payload=given(facts.pages_at) or "",
        date=recorded or facts.handover,
    )


def _water(house: House) -> Band:
    inside, utility = whole_house(house)
    steps = [Step(("Keep out of water near outlets, cords or the panel.",))]
    for place, rung in enumerate(inside[:2]):
        steps += _turns(rung, STILL if place else None)
    if not inside:
        steps.append(_call(house, "licensed plumber", "The main shutoff is not recorded."))
    where = [f"Their valve: {bare(t.where)}." for rung in utility for t in rung.turns if t.where]
    street = " ".join(["Ask them to shut it off at the street.", *where])
    steps.append(_call(house, "water utility", street, STILL))
    return Band("Water is coming out", "warning", tuple(steps))


def _turns(rung: Rung, condition: Line | None) -> list[Step]:
    return [
        Step(
            ("Close " if turn.id in rung.close else "Open ", Tag(turn.id, turn.name), "."),
            (f"{bare(turn.where or 'Its place is not recorded')}. {sentences(turn.do)}",),
            condition,
        )
        for turn in rung.turns
    ]


def _gas(house: House) -> tuple[Band, ...]:
    if gas(house) == "no":
        return ()
    steps = (
        Step(("Get everyone out, well away.",), ("No switch, no flame, no phone, no car.",)),
        _call(house, "emergency", "Call from well away."),
        _call(house, "gas utility"),
        Step(("Wait until they say that it is safe.",), ("Never relight anything.",)),
    )
    return (Band("I smell gas", "danger", steps),)


def _carbon_monoxide(house: House) -> Band:
    steps = (
        Step(("Wake everyone and get them outside.",), ("Do not look for the cause.",)),
        _call(house, "emergency", "Call from outside."),
        Step(("Stay outside until they say that it is safe.",)),
    )
    return Band("The carbon monoxide alarm sounds", "danger", steps)


def _backup(house: House) -> Band:
    steps = (
        Step(("Stop all water.",), ("No tap, no flushing, no machine.",)),
        Step(("Keep everyone out of it.",), ("Do not open a cleanout.",)),
        _call(house, "licensed plumber"),
    )
    return Band("A drain backs up", "warning", steps)


def _call(house: House, role: Role, more: str = "", condition: Line | None = None) -> Step:
    who = contact(house, role)
    note = " ".join(text for text in (who.missing, more) if text)
    return Step((*call(who), "."), (note,) if note else None, condition)


def _whom(house: House) -> Band:
    known = contacts(house)
    roles = [role for role in NUMBERS if role != "gas utility" or gas(house) != "no"]
    calls = tuple((label(known[role]), numbers(known[role])) for role in roles)
    return Band("Whom to call", "notice", (), calls)
