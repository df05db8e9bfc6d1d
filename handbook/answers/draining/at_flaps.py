"""What a cable does at a backwater valve's flap or an ejector's check valve, said one way wherever
a plumber reads of it: on the pages and on the command line."""

from collections.abc import Collection

from handbook.answers.draining.cable_walk import Doubtful
from handbook.answers.draining.standing_waste import standing_words
from handbook.house.house import House
from handbook.tables import table


def at_flap(house: House, valve: str, stretches: Collection[str] = ()) -> str:
    """Return what comes first at a valve on a cable's way, and how much waste its lid may hold
    back, of these stretches where any are given."""
    diagnosis = table("drain_diagnosis").values
    stands = standing_words(house, valve, stretches)
    said = f"{diagnosis['flap']}; {diagnosis['lid']}"
    return f"{said}: {stands}" if stands else said


def met_aside(house: House, met: Doubtful, stretches: Collection[str] = ()) -> dict[str, str]:
    """Return what to know of each flap that a cable meets where it may stray, by its valve."""
    short = "feed less than that until its flap is out; " if met.at else ""
    flaps = {valve: short + at_flap(house, valve, stretches) for valve in met.valves}
    check: str = table("drain_diagnosis").values["check"]
    return flaps | dict.fromkeys(met.pumps, check)
