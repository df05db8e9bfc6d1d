"""What the next fact unlocks: the parts of a record worth recording next, most valuable first.

Two kinds of want: rules that cannot tell without a part of the record, and answers that would say
more with it. The order is that of `facts.BY_WORTH`.
"""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from handbook.house.house import House
from handbook.record.fitting import Known, fitted, known
from handbook.record.grammar.common import each, given
from handbook.record.grammar.record import Record
from handbook.record.grammar.water import Water
from handbook.record.shapes import written
from handbook.record.starting import as_begun, made_up
from handbook.rules import facts
from handbook.rules.rule import Fact


@dataclass(frozen=True)
class Unlock:
    """`record`: what to write down next. `gives`: what can be said then.

    `written` shows how, as the lines of a record; empty where it is no part of its own.
    """

    record: str
    gives: str
    written: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"Record {self.record}: {self.gives}."


def unlocks(house: House, waiting: Collection[Fact]) -> tuple[Unlock, ...]:
    """Return what to record next, given the facts that rules wait for."""
    wanted = {*waiting, *_wanted_by_answers(house)}
    there = known(house.record)
    return (
        *_numbers(house.record),
        *(
            Unlock(fact.says, fact.gives, _written(fact, there))
            for fact in facts.BY_WORTH
            if fact in wanted
        ),
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


def _written(fact: Fact, there: Known) -> tuple[str, ...]:
    """Show what the fact's first key is written like: "the cleanouts (`drains: cleanouts`)".

    Its ids are made to fit what is `there` in the record.
    """
    path = re.search("`([a-z_: ]+)`", fact.says)
    lines = written(Record, path[1].split(": ")) if path else []
    return tuple(fitted("\n".join(lines), Record, there).split("\n")) if lines else ()


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
