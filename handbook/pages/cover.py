"""What the cover says: the house on paper, and who recorded it when."""

from handbook.house.house import House
from handbook.pages.content import Line
from handbook.pages.parts.phrases import NONE, NOT_RECORDED, day, established
from handbook.pages.words import sentences
from handbook.record.grammar.common import each, given
from handbook.record.grammar.people import HouseFacts
from handbook.record.knowing import Absent


def address(house: House) -> tuple[str, ...]:
    """Return the address, a line for each of its own lines."""
    written = house.record.house.address
    return tuple(line.strip() for line in written.splitlines() if line.strip()) if written else ()


def cover_facts(house: House) -> tuple[tuple[str, Line], ...]:
    """Return what is recorded of the house on paper; the holes have their own page."""
    facts = house.record.house
    permit = given(facts.permit)
    rows = (
        ("Lot", facts.lot),
        ("Plan", facts.plan),
        ("Builder", facts.builder),
        ("Permit", permit.number if permit else _none(facts.permit)),
        ("Inspections", _inspections(facts)),
        ("Built under", "; ".join(f"{code.name}, {code.edition}" for code in facts.codes or ())),
        ("Handed over", day(facts.handover) if facts.handover else None),
        ("Recorded", sentences(established(facts.recorded)) if facts.recorded else None),
    )
    return tuple((label, (text,)) for label, text in rows if text)


def _inspections(facts: HouseFacts) -> str | None:
    found = [f"{i.what}, no. {i.number or NOT_RECORDED}" for i in each(facts.inspections)]
    return "; ".join(found) or _none(facts.inspections)


def _none(fact: object) -> str | None:
    return NONE if isinstance(fact, Absent) else None
