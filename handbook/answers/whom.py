"""Whom to call: situation by situation, what an occupant may do and what belongs to others.

The situations and duties are data (`tables/whom.yaml`); here they are kept or left out by what
the house has, and each gets the number that the record gives for its role. A number that is not
recorded is said to be so; none is ever made up.
"""

from dataclasses import dataclass
from typing import Any, get_args

from handbook.answers.has import Has, has
from handbook.answers.heating.at_rest import at_breaker
from handbook.answers.heating.relief import keep_away
from handbook.house.house import House
from handbook.record.grammar.common import each
from handbook.record.grammar.people import Role
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.water import Valve
from handbook.record.knowing import Absent
from handbook.record.notation import PhoneNumber
from handbook.record.starting import made_up
from handbook.tables import table


@dataclass(frozen=True)
class Contact:
    """Somebody to call. `called` is the role in plain words, `the gas company`."""

    role: Role
    called: str
    name: str | None = None
    phone: PhoneNumber | None = None
    after_hours: PhoneNumber | None = None
    hours: str | None = None
    none: bool = False
    """Somebody looked: there is no number to call."""
    missing: str = ""
    """What to say where there is no number, recorded as such or not recorded."""


@dataclass(frozen=True)
class Duty:
    """What one of those who may be called does, and why it is theirs, in five words or fewer."""

    contact: Contact
    does: str
    why: str
    unsure: str | None = None
    """Said where the record does not show that the house has what this duty is about."""


@dataclass(frozen=True)
class Situation:
    """One situation: what an occupant may do, must never do, and what is whose.

    `page` is the id of the guide for it, if there is one; `source` the document that it follows.
    """

    id: str
    name: str
    you: str
    never: str
    duties: tuple[Duty, ...]
    page: str | None
    source: str
    unsure: str | None = None


def whom(house: House) -> tuple[Situation, ...]:
    """Return the situations that can arise in this house."""
    features = has(house)
    listed = table("whom").values["situations"]
    return tuple(_situation(house, said, features) for said in listed if _fits(said, features))


def contact(house: House, role: Role) -> Contact:
    """Return whom to call for a role: the first one recorded who has a number."""
    called = table("whom").values["called"][role]
    people = [person for person in house.record.people or () if person.role == role]
    for person in people:
        phone, after_hours = _number(person.phone), _number(person.after_hours)
        if phone or after_hours:
            number = phone or after_hours
            night = after_hours if phone else None
            return Contact(role, called, person.name, number, night, person.hours)
    none = any(isinstance(person.phone, Absent) for person in people)
    name = people[0].name if people else None
    begun = any(isinstance(p.phone, PhoneNumber) for p in people)
    return Contact(role, called, name, none=none, missing=_missing(called, none, begun))


def contacts(house: House) -> dict[Role, Contact]:
    """Return whom to call for every role there is."""
    return {role: contact(house, role) for role in get_args(Role)}


def to_call(house: House) -> tuple[Contact, ...]:
    """Return everybody whose number this house may need: not those for what it is known to lack."""
    features, needed = has(house), table("whom").values["needed"]
    everybody = contacts(house).items()
    return tuple(
        who for role, who in everybody if who.phone or features.get(needed.get(role, "")) != "no"
    )


def _situation(house: House, said: dict[str, Any], features: dict[str, Has]) -> Situation:
    return Situation(
        said["id"],
        said["name"],
        _filled(house, said["you"]),
        _filled(house, said["never"]),
        tuple(_duty(house, duty, features) for duty in said["duties"] if _fits(duty, features)),
        said.get("page"),
        said.get("source", "common practice, no source"),
        _unsure(said, features),
    )


def _filled(house: House, text: str) -> str:
    """Fill in how this house's heater is put to rest, and whose the valves at the street are."""
    return text.format(
        at_rest=_at_rest(house),
        keep_away=keep_away(),
        street=_street(house),
        own_main=_own_main(house),
    )


def _street(house: House) -> str:
    """The utility's valve by its tag, so that nobody takes the owner's for it."""
    theirs = [v.id for v in _valves(house) if v.utility]
    return f"{' or '.join(theirs)}, the utility's valve" if theirs else "the utility's valve"


def _own_main(house: House) -> str:
    """The house's own main outdoors, which stands near the utility's valve and is not theirs."""
    mains = [v for v in _valves(house) if v.main and not v.utility]
    near = [v.id for v in mains if house.places.level_id(v.place) == OUTSIDE]
    return "".join(f" {house.called(main)} is not theirs: you may close it." for main in near)


def _valves(house: House) -> tuple[Valve, ...]:
    return each(house.record.water.valves) if house.record.water else ()


def _at_rest(house: House) -> str:
    """Say how an occupant puts the heater to rest: at its breaker alone, where that does it."""
    heaters = each(house.record.heaters)
    alone = bool(heaters) and all(at_breaker(heater) for heater in heaters)
    said: str = table("whom").values["at_rest"]["breaker" if alone else "either"]
    return said


def _duty(house: House, said: dict[str, Any], features: dict[str, Has]) -> Duty:
    does = _filled(house, said["does"])
    return Duty(contact(house, said["role"]), does, said["why"], _unsure(said, features))


def _fits(said: dict[str, Any], features: dict[str, Has]) -> bool:
    return all(features[need] != "no" for need in said.get("needs", ()))


def _unsure(said: dict[str, Any], features: dict[str, Has]) -> str | None:
    unknown = [need for need in said.get("needs", ()) if features[need] == "unknown"]
    if not unknown:
        return None
    return f"Whether the house has {table('whom').values['needs'][unknown[0]]} is not recorded."


def _number(phone: PhoneNumber | Absent | None) -> PhoneNumber | None:
    return phone if isinstance(phone, PhoneNumber) and not made_up(phone) else None


def _missing(called: str, none: bool, begun: bool) -> str:
    """Say that there is no number to call, or that none is recorded; `begun`: a place is held."""
    whose = f"the number of {called}" if called.startswith("a ") else f"{called}'s number"
    if called.endswith("number"):
        whose = called
    said = f"{called} has no number" if none else f"{whose} is not recorded"
    if begun and not none:
        said = f"{whose} is still the noughts of the starting record"
    return said[:1].upper() + said[1:] + "."
