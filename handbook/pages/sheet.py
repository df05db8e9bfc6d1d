"""The emergency sheet for the inside of a cupboard door: one side of paper, read by a stranger.

It says the first right actions alone; the book and the phone pages say the rest.
"""

from collections.abc import Callable
from dataclasses import replace

from handbook.answers.draining.in_use import machines
from handbook.answers.from_stairs import from_stairs
from handbook.answers.has import gas, has
from handbook.answers.isolating.rungs import Rung
from handbook.answers.whom import contact, contacts
from handbook.house.house import House
from handbook.pages.calls import call, label, numbers
from handbook.pages.content import Band, Line, Sheet, Step, plain
from handbook.pages.cover import address
from handbook.pages.first_aid import how_toilet_stops_turn, toilet_stops, toilet_valve
from handbook.pages.how_turned import in_a_row
from handbook.pages.levels import lowest_drains
from handbook.pages.sheet_heater import heater_bands
from handbook.pages.sheet_steps import call_step, close_next, turns
from handbook.pages.through_pages import any_case_in_doubt
from handbook.pages.valves import no_main, outdoors, whole_house
from handbook.pages.words import listed, lower
from handbook.record.grammar.common import given
from handbook.record.grammar.people import Role

OTHERS: tuple[Role, ...] = ("electrician", "neighbor", "owner")
"""Whose numbers stand above the bands, as no band has them; a guest calls the last two."""

STILL: Line = ("If it is stuck, or does not slacken:",)
ELSE: Line = ("If not, or it is stuck:",)
FAILS: Line = ("If that fails:",)


def emergency_sheet(house: House) -> Sheet:
    """Return the sheet; what it needs and the record does not hold is said on it."""
    facts = house.record.house
    recorded = facts.recorded.on if facts.recorded else None
    water = (_water(house), *heater_bands(house), _power(house))
    bands = (*water, *_gas(house), _carbon_monoxide(house), _backup(house), *_alarm(house))
    hosted = given(facts.pages_at) or ""
    return Sheet(
        "In an emergency",
        facts.name,
        tuple(filter(None, map(_without(facts.name), address(house)))),
        bands,
        others=_numbers(house),
        payload=hosted,
        code_says="The code opens the pages for a phone." if hosted else "",
        date=recorded or facts.handover,
    )


def _without(name: str) -> Callable[[str], str]:
    """Leave out of a line of the address what the house's name says already."""
    return lambda line: line.removeprefix(name).lstrip(", ")


def _water(house: House) -> Band:
    inside, _ = whole_house(house)
    out = "Stay out of water near outlets, lamps or the breaker panel"
    steps = [Step((f"{out}, and out from under a wet ceiling.",)), _toilet(house)]
    for place, rung in enumerate(inside[:2]):
        steps += turns(house, rung, STILL if place else ELSE)
        if place == 0:
            steps[-1] = _in_doubt(house, _which_door(house, rung, steps[-1]))
    if not inside:
        steps.append(call_step(house, "licensed plumber", no_main(house)))
    fails = FAILS if inside else STILL
    steps.append(call_step(house, "water utility", "They close it at the street.", fails))
    if inside:
        dry = "Then switch off the heater (below)." if inside[0].heater else ""
        steps.append(call_step(house, "licensed plumber", dry))
    return Band("Water is coming out", "warning", tuple(steps))


def _toilet(house: House) -> Step:
    """A toilet's own flap and valve, nearer than any other."""
    stops = toilet_stops(house)
    own: Line = (": ", *stops, ".") if stops else (".",)
    act: Line = (f"Push down the flap in its tank; close {toilet_valve(house)}", *own)
    return Step(act, how_toilet_stops_turn(house) or None, ("If a toilet runs over:",))


def _which_door(house: House, rung: Rung, step: Step) -> Step:
    """Which door it is from the stairs, ahead of how it turns: a guest knows no room's name."""
    way = from_stairs(house, rung.close[-1])
    return replace(step, note=(f"From the stairs: {way}. ", *(step.note or ()))) if way else step


def _in_doubt(house: House, step: Step) -> Step:
    """Why the main comes first, where the book closes less for a ceiling or a wall."""
    doubt = any_case_in_doubt(house)
    return replace(step, note=(*(step.note or ()), " ", *doubt)) if doubt else step


def _power(house: House) -> Band:
    steps = (
        Step(
            ("Keep out of the water, and keep everyone out.",),
            ("It may be live. Hurt, or sparks: ", *call(contact(house, "emergency")), "."),
        ),
        call_step(house, "electric utility", "Ask them to cut the power from outside."),
        *_from_outdoors(house),
    )
    return Band("Water near outlets, lamps or the breaker panel", "danger", steps)


def _from_outdoors(house: House) -> tuple[Step, ...]:
    """Close what stops the water where the way to it is dry, else what needs no step indoors."""
    mains = whole_house(house)[0][:2]
    out = [rung for rung in mains if outdoors(house, rung)][:1]
    if mains and out and mains[0] is not out[0]:
        act = (
            *close_next(mains[0]),
            "; if that way is wet, ",
            *in_a_row(out[0].close),
            " outdoors.",
        )
        when: Line = ("If the whole way to ", *in_a_row(mains[0].close), " is dry:")
        return (Step(act, None, when),)
    return tuple(Step((*close_next(rung), "."), None, ("From dry ground:",)) for rung in out)


def _gas(house: House) -> tuple[Band, ...]:
    if gas(house) == "no":
        return ()
    steps = (
        Step(
            ("Get everyone out, well away.",), ("No switch, no flame, no car; no phone indoors.",)
        ),
        _away(house),
        Step(("Wait until they say that it is safe.",), ("Never relight anything.",)),
    )
    return (Band("I smell gas", "danger", steps),)


def _away(house: House) -> Step:
    """Both calls on one line, made where no spark can do harm."""
    first, then = contact(house, "emergency"), contact(house, "gas utility")
    verb, *rest = call(then)
    both: Line = (*call(first), f" from well away; then {lower(plain((verb,)))}", *rest, ".")
    return Step(both, (then.missing,) if then.missing else None)


def _carbon_monoxide(house: House) -> Band:
    steps = (
        Step(("Wake everyone and get them outside.",), ("Do not look for the cause.",)),
        call_step(
            house, "emergency", "Call from outside, and stay there until they say it is safe."
        ),
    )
    return Band("The carbon monoxide alarm sounds", "danger", steps)


def _backup(house: House) -> Band:
    steps = [
        Step(
            (f"Stop any machine that is draining ({_machines(house)}).",),
            None,
            ("If the way is dry:",),
        ),
        Step(
            ("Push down the flap in its tank.",),
            ("Do not flush. If it fills on, close its valve (see above).",),
            ("If a toilet runs over:",),
        ),
        Step(
            ("Use no water, and keep everyone out of it.",),
            ("No tap, no machine; open no cleanout.",),
        ),
        call_step(house, "licensed plumber"),
    ]
    if has(house)["public sewer"] == "yes":
        low = " or ".join(lower(item.name) for item in lowest_drains(house))
        lowest = f"the lowest does ({low})" if low else "the lowest does"
        steps.append(
            call_step(house, "sewer utility", condition=(f"If all back up, or {lowest}:",))
        )
    return Band("A drain backs up", "warning", tuple(steps))


def _machines(house: House) -> str:
    """The machines of this house that drain by themselves; the usual ones if none is recorded."""
    return listed(lower(item.name) for item in machines(house)) or "washer, dishwasher"


def _alarm(house: House) -> tuple[Band, ...]:
    """Return the band for a leak alarm, where the house has one."""
    if has(house)["leak alarm"] != "yes":
        return ()
    note: Line = ("All dry, in the cabinets too: close nothing.",)
    steps = (Step(("Look from dry floor. If wet, its tag says what to close.",), note),)
    return (Band("A leak alarm sounds", "notice", steps, spare=True),)


def _numbers(house: House) -> Line:
    """The numbers that no band has told, in a row."""
    known = contacts(house)
    said: Line = ()
    for role in OTHERS:
        if known[role].phone or role == "electrician":
            said += (f"{label(known[role])}: ", *numbers(known[role]), ". ")
    return said
