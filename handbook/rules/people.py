"""Rules for whom to call: everybody that this house may need, each with a number."""

import re
from collections.abc import Iterator

from handbook.house.house import House
from handbook.record.grammar.common import each, given
from handbook.record.grammar.people import Person, Role
from handbook.record.starting import made_up
from handbook.rules import facts
from handbook.rules.looks import drains, water
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Fact, Gap, Outcome, rule, told
from handbook.tables import table

Need = bool | Fact
"""Whether a house needs somebody, or the fact without which that cannot be told."""


@rule(
    "PE-01",
    "nobody-to-call",
    "gap",
    why="Looking up a number while water runs costs the minutes that matter.",
    remedy="Record who it is under `people`, with a phone number.",
    stages=("handover", "lived-in"),
    source=PRACTICE,
)
def nobody_to_call(house: House) -> Iterator[Outcome]:
    """Somebody is recorded for each role that this house needs."""
    record = house.record
    yield from told(record.people, facts.PEOPLE)
    for role, need in _needs(house).items():
        if isinstance(need, Fact):
            yield CannotTell(need)
        elif need and house.person(role):
            yield Clear()
        elif need and record.people is not None:
            said = f"Nobody is recorded to call as {role}"
            yield Gap(None, said, record.mark_of("people"))


def _needs(house: House) -> dict[Role, Need]:
    panel = house.record.electrical.panel if house.record.electrical else None
    return {
        "emergency": True,
        "licensed plumber": True,
        "water utility": _on_water_main(house),
        "gas utility": facts.GAS if house.record.gas is None else bool(house.record.gas),
        "sewer utility": _on_sewer(house),
        "electric utility": facts.PANEL if panel is None else True,
        "electrician": _has_wiring(house, bool(panel)),
    }


def _on_water_main(house: House) -> Need:
    supply = water(house)
    kinds = [source.kind for source in each(supply.sources)]
    owned = any(valve.utility for valve in each(supply.valves))
    if owned or supply.meter or "public main" in kinds:
        return True
    return facts.SOURCES if supply.sources is None or None in kinds else False


def _on_sewer(house: House) -> Need:
    ends = drains(house).discharge
    return ends.kind == "public sewer" if ends and ends.kind else facts.DISCHARGE


def _has_wiring(house: House, panel: bool) -> Need:
    heaters = each(house.record.heaters)
    electric = any(h.fuel == "electric" or h.kind == "heat pump" for h in heaters)
    return True if panel or electric else facts.PANEL


@rule(
    "PE-02",
    "person-without-phone",
    "gap",
    why="A name without a number is no help.",
    remedy="Record the phone number as it is dialled at the house.",
    stages=("handover", "lived-in"),
    source=PRACTICE,
)
def person_without_phone(house: House) -> Iterator[Outcome]:
    """Everybody to call has a phone number."""
    yield from told(house.record.people, facts.PEOPLE)
    for person in each(house.record.people):
        if given(person.phone) or given(person.after_hours):
            yield Clear()
        else:
            said = f"No phone number is recorded for: {person.role}"
            yield Gap(None, said, person.mark_of("phone"))


@rule(
    "PE-03",
    "number-cut-short",
    "fault",
    why="In an emergency a number that reaches nobody, or the wrong people, costs minutes.",
    remedy="Write the whole number as it is dialled at the house, like `555-0142`.",
    stages=("handover", "lived-in"),
    table="short_numbers",
)
def number_cut_short(house: House) -> Iterator[Outcome]:
    """Each phone number is long enough to reach whom it is recorded for."""
    yield from told(house.record.people, facts.PEOPLE)
    for person in each(house.record.people):
        short = [field for field in ("phone", "after_hours") if _is_short(person, field)]
        if short:
            number = given(getattr(person, short[0]))
            said = f"The number {number} of the {person.role} is only the beginning of one"
            yield Broken(None, said, person.mark_of(short[0]))
        elif given(person.phone) or given(person.after_hours):
            yield Clear()
        # a number that is missing is the rule's before this one


def _is_short(person: Person, field: str) -> bool:
    """Whether a number is too short for whose it is; a starting record's noughts are not one."""
    number, limits = given(getattr(person, field)), table("short_numbers").values
    if number is None or made_up(number):
        return False
    digits = re.sub(r"\D", "", number.text.partition(" x")[0])
    if person.role not in limits["public"]:
        return len(digits) < int(limits["private_digits"])
    return len(digits) <= 3 and not re.fullmatch(limits["three_digits"], digits)


RULES = (nobody_to_call, person_without_phone, number_cut_short)
