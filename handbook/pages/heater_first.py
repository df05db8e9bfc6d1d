"""What comes before any valve at a water heater: when to leave it alone, and what to close instead.

Steam or gas is no place to stand in, and the heater's own shutoff is within reach of a spray.
"""

from collections.abc import Iterable

from handbook.answers.has import gas, has
from handbook.answers.heating.relief import keep_away
from handbook.answers.isolating.rungs import Rung
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.pages.calls import call
from handbook.pages.content import Go, Line, Step
from handbook.pages.how_turned import in_a_row
from handbook.pages.valves import outdoors, whole_house
from handbook.pages.words import situation

LEAKS = Go(situation("heater-leaks"), "The water heater leaks")
"""The page to be read before a heater's own valve is closed: it tells steam and spray apart."""


def relief_drips(house: House, whose: str = "its") -> tuple[Step, ...]:
    """When nothing is closed: at a relief pipe that drips. Nothing where no valve has one."""
    if has(house)["relief valve"] == "no":
        return ()
    page = Go(situation("relief-drips"), "The heater's relief pipe drips")
    when = (f"If only {whose} relief pipe drips or runs:",)
    return (Step((f"{keep_away()}. See ", page, "."), None, when),)


def after_main(house: House, rungs: Iterable[Rung] = ()) -> Line:
    """What follows the main, wherever a page names it, and what of these steps leaves a heater
    without water too; nothing where no heater hangs on the main."""
    inside = whole_house(house)[0][:1]
    if not inside or not inside[0].heater:
        return ()
    dry = dict.fromkeys(
        rung.close for rung in (*inside, *rungs) if rung.heater and not rung.utility
    )
    said: Line = ()
    for number, close in enumerate(dry, 1):
        between = (" or " if number == len(dry) else ", ",) if said else ()
        said += (*between, *in_a_row(close))
    page = Go(situation("water"), "make the heater safe")
    is_shut = "are" if len(dry) == 1 and len(inside[0].close) > 1 else "is"
    return ("Once ", *said, f" {is_shut} shut, ", page, ".")


def leave_it(house: House) -> Step:
    """When nobody stays near a heater, whatever else is wrong with it."""
    smell = "" if gas(house) == "no" else "you smell gas, or "
    act: Line = ("Get everyone out. ", *call(contact(house, "emergency")), ".")
    return Step(act, None, (f"If {smell}it roars or steams:",))


def instead(house: House, heater: str, rung: Rung | None) -> Line:
    """What to close where the heater's own shutoff cannot be reached: the main; and the one
    outdoors, where the main stands in the heater's room. Nothing where its own is the main."""
    if rung is None or rung.utility:
        return ()
    mains = whole_house(house)[0]
    said: Line = ()
    for main in mains[:1]:
        if set(main.close) & set(rung.close):
            return ()
        said = in_a_row(main.close)
        if _room(house, heater) in {_room(house, valve) for valve in main.close} - {None}:
            out = next((it for it in mains[1:] if outdoors(house, it)), None)
            said += (", or ", *in_a_row(out.close), " outdoors") if out else ()
    return said


def _room(house: House, thing: str) -> str | None:
    """The room that a thing is in, if it is recorded."""
    place = house.items[thing].place
    return place.room if place else None


def if_it_sprays(house: House, heater: str, rung: Rung | None) -> tuple[Step, ...]:
    """The step for who cannot reach the heater's own shutoff; nothing where it is the main."""
    main = instead(house, heater, rung)
    if rung is None or not main:
        return ()
    act: Line = ("Close ", *main, ", not ", *in_a_row(rung.close), ".")
    return (Step(act, None, ("If spray is in the way:",)),)
