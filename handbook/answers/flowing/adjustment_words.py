"""How a reducing valve set higher, or a softener on its bypass, is said, and with what care."""

from collections.abc import Iterator, Sequence

from handbook.answers.expansion import Expansion
from handbook.answers.flowing.adjustments import Adjustment, behind
from handbook.house.house import House
from handbook.house.naming import in_a_row
from handbook.measures import Pressure, say_pressure
from handbook.tables import table


def change_said(house: House, each: Adjustment) -> str:
    """Say what is done to a thing, to follow its id: `set to 70 psi, all that stands ahead`."""
    if each.set_psi is None:
        return "on its bypass"
    why = {
        "limit": "the limit",
        "ahead": "all that stands ahead of it",
        "range": "as high as it can be set",
        "tank": f"as far as {_tank(_tightest(house, each.thing))} has room",
    }
    return f"set to {_psi(house, each.set_psi)}, {why[each.bound or 'limit']}"


def cautions(house: House, found: Sequence[Adjustment]) -> Iterator[str]:
    """Say what has to be kept to with these changes, a sentence or two each."""
    set_higher = [each for each in found if each.set_psi is not None]
    if set_higher:
        valve = set_higher[0].thing
        limit = _psi(house, table("static_pressure").values["most_psi"])
        yield (
            f"With no water running nothing in the house may stand above {limit}: read a gauge at "
            "the lowest tap, and go by the local code where it asks for less."
        )
        yield from _tanks(house, valve, set_higher)
        if house.hydraulics.regulators[valve].most_psi is None:
            yield f"How high {valve} can be set is not recorded: its plate or data sheet says."
    if bypassed := [each.thing for each in found if each.set_psi is None]:
        yield (
            f"With {in_a_row(bypassed)} on its bypass nothing is softened: hard water at the taps "
            "and in the heater. It shows what the softener costs; it is no lasting cure."
        )


def _tanks(house: House, valve: str, set_higher: Sequence[Adjustment]) -> Iterator[str]:
    """Say that the air in an expansion tank follows the setting, and where its room ends."""
    heaters = behind(house, valve)
    if not heaters:
        return
    tanks = in_a_row(_tank(each) for each in heaters)
    yield (
        f"The air in {tanks} has to be charged to the new setting, with the water off and let out "
        "of the line."
    )
    if any(each.bound == "limit" for each in set_higher):
        limit = _psi(house, table("static_pressure").values["most_psi"])
        between = any(each.bound == "tank" for each in set_higher)
        yield (
            f"At {limit} itself no expansion tank has room: the water's swelling would pass the "
            "limit." + (" A setting between needs a larger tank." if between else "")
        )


def _tightest(house: House, valve: str) -> Expansion:
    """Return the heater behind a valve whose tank's room ends first."""
    told = [each for each in behind(house, valve) if each.room_up_to is not None]
    return min(told, key=lambda each: each.room_up_to or 0.0)


def _tank(heater: Expansion) -> str:
    return heater.tank or f"the expansion tank of {heater.heater}"


def _psi(house: House, psi: float) -> str:
    return say_pressure(Pressure(psi), house.record.house.units)
