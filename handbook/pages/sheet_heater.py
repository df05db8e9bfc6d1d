"""The emergency sheet's band for each water heater: what stops its water, how it is made safe."""

from dataclasses import replace

from handbook.answers.heating.at_rest import at_breaker
from handbook.answers.heating.relief import keep_away
from handbook.answers.isolate import isolate
from handbook.house.house import House
from handbook.pages.content import Band, Line, Step
from handbook.pages.heater_first import instead, leave_it
from handbook.pages.heater_values import heater_holds, relief_told
from handbook.pages.how_turned import fallback, in_a_row
from handbook.pages.sheet_steps import turns
from handbook.pages.words import lower, sentences
from handbook.record.grammar.common import each
from handbook.record.grammar.heaters import Heater

OTHERWISE: Line = ("Otherwise:",)
CLEAR_OF_SPRAY: Line = ("If elsewhere, and no spray:",)


def heater_bands(house: House) -> tuple[Band, ...]:
    """Return a band for each water heater: what stops its water, how it is made safe."""
    return tuple(_heater(house, heater) for heater in each(house.record.heaters))


def _heater(house: House, heater: Heater) -> Band:
    """When to leave it, what stops its water, how it is made safe, and what if that fails."""
    answer = isolate(house, heater.id)
    then = fallback(house, answer)[:1]
    steps = [leave_it(house), _relief(heater)]
    for rung in answer.shown[:1]:
        steps += turns(house, rung, CLEAR_OF_SPRAY if then else OTHERWISE)
        steps[-1] = replace(steps[-1], note=(*(steps[-1].note or ()), " Then call the plumber."))
        steps += [_safe(said) for said in rung.heater]
    for rung in then:
        main = instead(house, heater.id, answer.shown[0]) or in_a_row(rung.close)
        steps.append(Step(("Close ", *main, "."), None, _more_than_its_tank(house, heater)))
    name = house.items[heater.id].name
    return Band(f"The {lower(name)} leaks", "warning", tuple(steps), spare=True)


def _relief(heater: Heater) -> Step:
    """Water from the relief pipe alone: its cold stays on, whether it drips or runs."""
    told = relief_told(heater)
    pipe = f"its relief pipe ({told})" if told else "its relief pipe"
    off = " Switch it off at the breaker, as below." if at_breaker(heater) else ""
    when: Line = (f"If only the end of {pipe} drips or runs:",)
    return Step((f"{keep_away()}.{off} Call the plumber.",), None, when)


def _more_than_its_tank(house: House, heater: Heater) -> Line:
    """When its own shutoff is not enough: what stands in the tank runs out all the same."""
    holds = heater_holds(house, heater)
    more = f"more than its {holds} runs out" if holds else "it still runs"
    return (f"If elsewhere spray is in the way, or {more}:",)


def _safe(said: str) -> Step:
    """What a heater without water needs: the act, then what to leave alone, and with what hands."""
    act, _, rest = said.partition(": ")[2].partition("; ")
    hands = "Use dry hands, on a dry floor." if "breaker" in act else ""
    note = " ".join(filter(None, (sentences(rest) if rest else "", hands)))
    return Step((sentences(act),), (note,) if note else None)
