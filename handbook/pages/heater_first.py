"""What comes before any valve at a water heater: when to leave it alone, and what to close instead.

Steam or gas is no place to stand in, and the heater's own shutoff is within reach of a spray.
"""

from handbook.answers.has import gas, has
from handbook.answers.heating.relief import keep_away
from handbook.answers.isolating.rungs import Rung
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.pages.calls import call
from handbook.pages.content import Go, Line, Step
from handbook.pages.how_turned import in_a_row
from handbook.pages.valves import whole_house
from handbook.pages.words import situation


def relief_drips(house: House, whose: str = "its") -> tuple[Step, ...]:
    """When nothing is closed: at a relief pipe that drips. Nothing where no valve has one."""
    if has(house)["relief valve"] == "no":
        return ()
    page = Go(situation("relief-drips"), "The heater's relief pipe drips")
    when = (f"If only {whose} relief pipe drips or runs:",)
    return (Step((f"{keep_away()}. See ", page, "."), None, when),)


def after_main(house: House) -> Line:
    """What follows the main, wherever a page names it; nothing where no heater hangs on it."""
    inside = whole_house(house)[0][:1]
    if not inside or not inside[0].heater:
        return ()
    page = Go(situation("water"), "make the heater safe")
    return ("Once ", *in_a_row(inside[0].close), " is shut, ", page, ".")


def leave_it(house: House) -> Step:
    """When nobody stays near a heater, whatever else is wrong with it."""
    smell = "" if gas(house) == "no" else "you smell gas, or "
    act: Line = ("Get everyone out. ", *call(contact(house, "emergency")), ".")
    return Step(act, None, (f"If {smell}it roars or steams:",))


def if_it_sprays(house: House, rung: Rung | None) -> tuple[Step, ...]:
    """What to close where the heater's own shutoff cannot be reached; nothing where it is that."""
    if rung is None or rung.utility:
        return ()
    mains = [main.close for main in whole_house(house)[0][:1] if not {*main.close} & {*rung.close}]
    when = ("If spray is in the way:",)
    own = in_a_row(rung.close)
    return tuple(
        Step(("Close ", *in_a_row(main), ", not ", *own, "."), None, when) for main in mains
    )
