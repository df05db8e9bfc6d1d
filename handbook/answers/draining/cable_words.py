"""A length of cable in words, in the house's own units; and a closet auger."""

from handbook.answers.draining.cable_fit import FOOT
from handbook.answers.draining.cable_walk import Cable, Doubtful
from handbook.answers.draining.fixture_entries import closet_auger
from handbook.measures import Length, Units


def cable_words(near: Cable, far: Cable, units: Units) -> str:
    """Return `6 to 48 ft`, `2 to 14.5 m`; `6 ft or more` where the far end is not recorded.

    Cable is counted by the foot, or half metre, as it is fed: the near end is said no longer
    than it is, the far end no shorter.
    """
    low, high = _fed(near.low, units, up=False), None
    if far.high is not None:
        high = _fed(far.high, units, up=True)
    unit = "m" if units == "metric" else "ft"
    return f"{low:g} {unit} or more" if high is None else f"{low:g} to {high:g} {unit}"


def auger_words(units: Units) -> str:
    """Return what a closet auger is, how long, and what it gets to."""
    auger = closet_auger()
    least, most = (Cable(feet * FOOT, feet * FOOT) for feet in auger.reach_ft)
    return f"{auger.said}, {auger.cable}, {cable_words(least, most, units)}: {auger.gets_to}"


def stray_words(each: Doubtful, units: Units) -> str:
    """Return where a cable may stray, after how much of it, and to whose flap it gets there."""
    flaps = f"the flap of {' and '.join(each.valves)}" if each.valves else ""
    checks = f"the check valve of {' and '.join(each.pumps)}" if each.pumps else ""
    unit = "m" if units == "metric" else "ft"
    at = f"at {_fed(each.at.low, units, up=False):g} {unit} " if each.at else ""
    to = " and ".join(filter(None, (flaps, checks)))
    return f"{at}it may get into {each.stretch}, to {to}"


def _fed(inches: float, units: Units, *, up: bool) -> float:
    length = Length(inches)
    steps = round(length.metres * 2 if units == "metric" else length.feet, 3)
    whole = -(-steps // 1) if up else steps // 1
    return whole / 2 if units == "metric" else whole
