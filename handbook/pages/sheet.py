"""The emergency sheet for the inside of a cupboard door: one side of paper, read by a stranger.

It says the first right actions alone; the book and the phone pages say the rest.
"""

from collections.abc import Callable
from dataclasses import replace

from handbook.answers.draining.in_use import machines
from handbook.answers.has import gas, has
from handbook.answers.heating.at_rest import at_breaker
from handbook.answers.heating.relief import keep_away
from handbook.answers.isolate import isolate
from handbook.answers.isolating.rungs import Rung, Turn
from handbook.answers.whom import contact, contacts
from handbook.house.house import House
from handbook.pages.calls import call, label, numbers
from handbook.pages.content import Band, Line, Sheet, Step, Tag, plain
from handbook.pages.cover import address
from handbook.pages.first_aid import how_toilet_stops_turn, toilet_stops, toilet_valve
from handbook.pages.heater_first import leave_it
from handbook.pages.heater_values import heater_holds, relief_told
from handbook.pages.how_turned import fallback, in_a_row
from handbook.pages.levels import lowest_drains
from handbook.pages.through_pages import any_case_in_doubt
from handbook.pages.valves import no_main, outdoors, whole_house
from handbook.pages.words import bare, listed, lower, sentences
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.people import Role

OTHERS: tuple[Role, ...] = ("electrician", "neighbor", "owner")
"""Whose numbers stand above the bands, as no band has them; a guest calls the last two."""

STILL: Line = ("If it is stuck, or does not slacken:",)
ELSE: Line = ("If not, or it is stuck:",)
FAILS: Line = ("If that fails:",)
OTHERWISE: Line = ("Otherwise:",)
CLEAR_OF_SPRAY: Line = ("If elsewhere, and no spray:",)


def emergency_sheet(house: House) -> Sheet:
    """Return the sheet; what it needs and the record does not hold is said on it."""
    facts = house.record.house
    recorded = facts.recorded.on if facts.recorded else None
    water = (_water(house), *_heaters(house), _power(house))
    bands = (*water, *_gas(house), _carbon_monoxide(house), _backup(house), *_alarm(house))
    hosted = given(facts.pages_at) or ""
    return Sheet(
        "In an emergency",
        facts.name,
        tuple(line for line in map(_without(facts.name), address(house)) if line),
        bands,
        others=(*_numbers(house), "The code opens the pages for a phone." if hosted else ""),
        payload=hosted,
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
        steps += _turns(house, rung, STILL if place else ELSE)
        if place == 0:
            steps[-1] = _in_doubt(house, steps[-1])
    if not inside:
        steps.append(_call(house, "licensed plumber", no_main(house)))
    fails = FAILS if inside else STILL
    steps.append(_call(house, "water utility", "They close it at the street.", fails))
    if inside:
        dry = "Then switch off the heater (below)." if inside[0].heater else ""
        steps.append(_call(house, "licensed plumber", dry))
    return Band("Water is coming out", "warning", tuple(steps))


def _toilet(house: House) -> Step:
    """A toilet's own flap and valve, nearer than any other."""
    stops = toilet_stops(house)
    own: Line = (": ", *stops, ".") if stops else (".",)
    act: Line = (f"Push down the flap in its tank; close {toilet_valve(house)}", *own)
    return Step(act, how_toilet_stops_turn(house) or None, ("If a toilet runs over:",))


def _in_doubt(house: House, step: Step) -> Step:
    """Why the main comes first, where the book closes less for a ceiling or a wall."""
    doubt = any_case_in_doubt(house)
    return replace(step, note=(*(step.note or ()), " ", *doubt)) if doubt else step


def _heaters(house: House) -> tuple[Band, ...]:
    """Return a band for each water heater: what stops its water, how it is made safe."""
    return tuple(_heater(house, heater) for heater in each(house.record.heaters))


def _heater(house: House, heater: Heater) -> Band:
    """When to leave it, what stops its water, how it is made safe, and what if that fails."""
    answer = isolate(house, heater.id)
    then = fallback(house, answer)[:1]
    steps = [leave_it(house), _relief(heater)]
    for rung in answer.shown[:1]:
        steps += _turns(house, rung, CLEAR_OF_SPRAY if then else OTHERWISE)
        steps += [_safe(said) for said in rung.heater]
    for rung in then:
        steps.append(Step((*_still(rung), "."), None, _more_than_its_tank(house, heater)))
    if steps[2:]:
        steps[-1] = replace(steps[-1], note=_and_plumber(steps[-1].note))
    name = house.items[heater.id].name
    return Band(f"The {lower(name)} leaks", "warning", tuple(steps), spare=True)


def _relief(heater: Heater) -> Step:
    """Water from the relief pipe alone: its cold stays on, whether it drips or runs."""
    told = relief_told(heater)
    pipe = f"its relief pipe ({told})" if told else "its relief pipe"
    off = " Switch it off at the breaker, as below." if at_breaker(heater) else ""
    when: Line = (f"If only the end of {pipe} drips or runs:",)
    return Step((f"{keep_away()}.{off} Call the plumber.",), None, when)


def _and_plumber(note: Line | None) -> Line:
    return (*note, " Call the plumber.") if note else ("Call the plumber.",)


def _more_than_its_tank(house: House, heater: Heater) -> Line:
    """When its own shutoff is not enough: what stands in the tank runs out all the same."""
    holds = heater_holds(house, heater)
    more = f"more than its {holds} runs out" if holds else "it still runs"
    return (f"If spray is in the way, or {more}:",)


def _safe(said: str) -> Step:
    """What a heater without water needs: the act, then what to leave alone, and with what hands."""
    act, _, rest = said.partition(": ")[2].partition("; ")
    hands = "Use dry hands, on a dry floor." if "breaker" in act else ""
    note = " ".join(filter(None, (sentences(rest) if rest else "", hands)))
    return Step((sentences(act),), (note,) if note else None)


def _still(rung: Rung) -> Line:
    """Close the next one; where it is stands above, or on its tag."""
    return ("Close ", *in_a_row(rung.close))


def _power(house: House) -> Band:
    steps = (
        Step(
            ("Keep out of the water, and keep everyone out.",),
            ("It may be live. Hurt, or sparks: ", *call(contact(house, "emergency")), "."),
        ),
        _call(house, "electric utility", "Ask them to cut the power from outside."),
        *_from_outdoors(house),
    )
    return Band("Water near outlets, lamps or the breaker panel", "danger", steps)


def _from_outdoors(house: House) -> tuple[Step, ...]:
    """Close what stops the water where the way to it is dry, else what needs no step indoors."""
    mains = whole_house(house)[0][:2]
    out = [rung for rung in mains if outdoors(house, rung)][:1]
    if mains and out and mains[0] is not out[0]:
        act = (*_still(mains[0]), "; if that way is wet, ", *in_a_row(out[0].close), " outdoors.")
        when: Line = ("If the whole way to ", *in_a_row(mains[0].close), " is dry:")
        return (Step(act, None, when),)
    return tuple(Step((*_still(rung), "."), None, ("From dry ground:",)) for rung in out)


def _turns(house: House, rung: Rung, condition: Line | None) -> list[Step]:
    return [
        Step(
            (
                "Close " if turn.id in rung.close else "Open ",
                Tag(turn.id, turn.name),
                f". {bare(turn.where or 'Its place is not recorded')}.",
            ),
            (*_how(house, turn), f" Needs a {_tool(turn.tool)}." if turn.tool else ""),
            condition,
        )
        for turn in rung.turns
    ]


def _how(house: House, turn: Turn) -> Line:
    """How it turns; one that turns as the main does, which stands first, needs no more words."""
    for main in whole_house(house)[0][:1]:
        if turn.do == main.turns[0].do and turn.id not in main.close:
            return ("Turns like ", Tag(main.close[0]), ".")
    return (sentences(turn.do),)


def _tool(tool: str) -> str:
    """The tool alone, without what is said of its use."""
    return bare(tool).partition(";")[0].removeprefix("a ")


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
        _call(house, "emergency", "Call from outside, and stay there until they say it is safe."),
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
        _call(house, "licensed plumber"),
    ]
    if has(house)["public sewer"] == "yes":
        low = " or ".join(lower(item.name) for item in lowest_drains(house))
        lowest = f"the lowest does ({low})" if low else "the lowest does"
        steps.append(_call(house, "sewer utility", condition=(f"If all back up, or {lowest}:",)))
    return Band("A drain backs up", "warning", tuple(steps))


def _machines(house: House) -> str:
    """The machines of this house that drain by themselves; the usual ones if none is recorded."""
    return listed(lower(item.name) for item in machines(house)) or "washer, dishwasher"


def _alarm(house: House) -> tuple[Band, ...]:
    """Return the band for a leak alarm, where the house has one."""
    if has(house)["leak alarm"] != "yes":
        return ()
    steps = (
        Step(("Look now, from the door.",), ("Its own tag says what to close.",)),
        Step(
            ("See A drain backs up.",),
            ("Anything else: see Water is coming out.",),
            ("If it comes up from a floor drain:",),
        ),
    )
    return (Band("A leak alarm sounds", "notice", steps, spare=True),)


def _call(house: House, role: Role, more: str = "", condition: Line | None = None) -> Step:
    who = contact(house, role)
    note = " ".join(text for text in (who.missing, more) if text)
    return Step((*call(who), "."), (note,) if note else None, condition)


def _numbers(house: House) -> Line:
    """The numbers that no band has told, in a row."""
    known = contacts(house)
    said: Line = ()
    for role in OTHERS:
        if known[role].phone or role == "electrician":
            said += (f"{label(known[role])}: ", *numbers(known[role]), ". ")
    return said
