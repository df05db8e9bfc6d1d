"""What the next fact unlocks: the parts of a record worth recording next, most valuable first.

Two kinds of want: rules that cannot tell without a part of the record, and answers that would say
more with it. The order is that of `facts.BY_WORTH`.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from handbook.house.house import House
from handbook.record.grammar.common import each, given
from handbook.record.grammar.record import Record
from handbook.record.grammar.water import Water
from handbook.record.starting import as_begun, made_up
from handbook.rules import facts
from handbook.rules.rule import Fact
from handbook.rules.samples import Sample, sample


@dataclass(frozen=True)
class Unlock:
    """`record`: what to write down next. `gives`: what can be said then.

    `written` shows how, as lines to add to the record; empty where it is no part of its own, or
    the record has too little for it yet.
    """

    record: str
    gives: str
    written: Sample = ()

    def __str__(self) -> str:
        return f"Record {self.record}: {self.gives}."


def unlocks(house: House, waiting: Collection[Fact]) -> tuple[Unlock, ...]:
    """Return what to record next, given the facts that rules wait for."""
    wanted = {*waiting, *_wanted_by_answers(house)}
    asked = (fact for fact in facts.BY_WORTH if fact in wanted)
    return (
        *_numbers(house.record),
        *(Unlock(fact.says, fact.gives, sample(fact, house.record)) for fact in asked),
    )


def _numbers(record: Record) -> Iterator[Unlock]:
    """Ask for the numbers that stand as a starting record has them, whose they are."""
    begun = {
        person.role: phone.text
        for person in each(record.people)
        for phone in (given(person.after_hours), given(person.phone))
        if phone and made_up(phone)
    }
    if begun:
        ones = ", ".join(dict.fromkeys(begun.values()))
        said = f"the real telephone numbers of: {', '.join(begun)} (`people`)"
        yield Unlock(said, f"the telephone numbers are still the starting ones ({ones})")


def _wanted_by_answers(house: House) -> Iterator[Fact]:
    record = house.record
    water = record.water or Water()
    if as_begun(record):
        yield facts.STARTING
    if not house.water.mains:
        yield facts.MAIN
    if not any(valve.utility for valve in each(water.valves)):
        yield facts.UTILITY_VALVE
    if record.levels is None:
        yield facts.ROOMS
    if record.stairs is None and len(each(record.levels)) != 1:
        yield facts.STAIRS
    if record.house.pages_at is None:
        yield facts.PAGES_AT
