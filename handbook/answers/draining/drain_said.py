"""What a drain carries, in words, the same in the book and on the command line."""

from math import inf

from handbook.answers.draining.drain_units import BATHS, Addend
from handbook.answers.draining.one_more_bath import OneMoreBath
from handbook.answers.draining.stretch_loads import StretchLoad
from handbook.answers.draining.trap_arms import TrapArm
from handbook.answers.draining.vent_sizes import VentSize
from handbook.house.house import House
from handbook.house.items import lower
from handbook.house.sizes import size_said
from handbook.measures import Units


def load(stretch: StretchLoad) -> str:
    """Return the fixture units: `9`, `9 to 13`, or `9 or more`."""
    least, most = stretch.load.least, stretch.load.most
    if most is None:
        return f"{least} or more"
    return str(least) if least == most else f"{least} to {most}"


def adds_up(house: House, stretch: StretchLoad) -> str:
    """Return what the units are the sum of: `8 (2 full baths: hall bath, primary bath) + 1 (...)`;
    empty where nothing is added up."""
    if not stretch.sum_of or len(stretch.fixtures) < 2:
        return ""
    return " + ".join(f"{each.units} ({_counted(house, each)})" for each in stretch.sum_of)


def _counted(house: House, addend: Addend) -> str:
    """Return what counts together: the baths by their rooms, else the fixtures by their names."""
    kinds = [kind for kind, _ in addend.groups]
    if not set(kinds) & set(BATHS):
        return " with ".join(lower(house.items[name].name) for name in addend.groups[0][1])
    rooms = [house.places.room_name(house.items[ids[0]].place) for _, ids in addend.groups]
    many = [f"{n} {what}{'s' if n > 1 else ''}" for n, what in _numbers(kinds)]
    return f"{' and '.join(many)}: {', '.join(room or 'room not recorded' for room in rooms)}"


def _numbers(kinds: list[str | None]) -> list[tuple[int, str]]:
    found = [(kinds.count(kind), kind.replace("_", " ")) for kind in BATHS]
    return [(number, what) for number, what in found if number]


def groups_said(house: House, stretches: tuple[StretchLoad, ...]) -> tuple[str, ...]:
    """Say which fixtures count as which group, where they drain together, each group once."""
    found = {
        group: None
        for stretch in stretches
        for addend in stretch.sum_of
        for group in addend.groups
        if group[0]
    }
    return tuple(_grouped(house, str(kind).replace("_", " "), ids) for kind, ids in found)


def _grouped(house: House, kind: str, ids: tuple[str, ...]) -> str:
    """`Hall bath: toilet; bathroom sink; tub and shower count as one full bath`."""
    room = house.places.room_name(house.items[ids[0]].place) or ""
    names = [lower(house.items[name].name.removesuffix(f", {lower(room)}")) for name in ids]
    what = kind if "bath" in kind else f"{kind} group"
    return f"{room[:1].upper()}{room[1:]}: {'; '.join(names)} count as one {what}"


def bath_verdict(it: OneMoreBath) -> str:
    """Return whether every drain on the way down carries one more bath, or which does not."""
    past = f"; runs through {', '.join(it.past)}" if it.past else ""
    if it.over:
        return f"too much for {', '.join(it.over)}{past}"
    if it.unknown:
        return f"not known for {', '.join(it.unknown)}{past}"
    return f"carried all the way down{past}"


def left(stretch: StretchLoad) -> str:
    """Return what could still be added, or `over`, or what is needed to say it."""
    if stretch.fits is False:
        return "overloaded"
    if stretch.left is None or stretch.fits is None:
        return "not known: " + "; ".join(stretch.missing)
    return str(stretch.left)


def arm_verdict(arm: TrapArm) -> str:
    """Return what is wrong with a trap and its arm, what lacks, or `good`."""
    wrong = [
        word
        for word, verdict in (
            ("trap too small", arm.trap_too_small),
            ("too long", arm.too_long),
            ("too short", arm.too_short),
            ("too flat", arm.too_flat),
            ("falls too far", arm.falls_too_far),
        )
        if verdict
    ]
    if wrong:
        return ", ".join(wrong)
    return "not recorded: " + ", ".join(arm.lacks) if arm.lacks else "good"


NO_VENT = "a size larger than the table has"


def vent_needs(vent: VentSize, units: Units, hole: str) -> str:
    """Return a vent's least size: `1-1/2 in`; that no size of the table would do; or `hole`."""
    if vent.needs is None:
        return hole
    return NO_VENT if vent.needs == inf else size_said(vent.needs, units)


def vent_verdict(vent: VentSize) -> str:
    """Return whether a vent is large enough, or what lacks."""
    if vent.too_small is None:
        return "not known without: " + ", ".join(vent.lacks)
    return "too small" if vent.too_small else "good"
