"""Rules for the days in a record, and for what the inspector found."""

from collections.abc import Iterator
from datetime import date, timedelta

from handbook.house.house import House
from handbook.record.entry import Entry
from handbook.record.grammar.common import each
from handbook.record.grammar.people import HouseFacts
from handbook.record.problems import Mark
from handbook.rules import facts
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Outcome, rule, told

EARLIEST = date(1900, 1, 1)
"""Nothing in the water, drains or gas of a house of today was looked at before; a slip, then."""

AHEAD = timedelta(days=730)
"""How far ahead of this computer's day a handover may be planned. Common sense, no source."""

ELSEWHERE = timedelta(days=1)
"""Where the house is it may be tomorrow already."""

Day = tuple[str | None, Entry, str, date]
"""The thing it belongs to, the entry and its field, and the day."""


@rule(
    "RC-09",
    "day-that-cannot-be",
    "fault",
    why="When to test, drain or change a thing next is reckoned from such days.",
    remedy="Put the day right; if the house was looked at again since, move `house: recorded` too.",
    stages=("rough-in", "trim-out", "handover", "lived-in"),
    source=PRACTICE,
)
def day_that_cannot_be(house: House) -> Iterator[Outcome]:
    """No day is later than the record itself (`recorded`, `handover`), or before 1900.

    Nor is any but a planned handover still to come, and that one not by years; a house is not
    handed over before it was inspected and its walls were open.
    """
    own = house.record.house
    written = list(_own_days(own))
    last = max((day for _, _, day in written), default=None)
    if last is None:
        yield CannotTell(facts.DAY_OF_RECORD)
    today = date.today()
    yield from _handed_over_too_soon(house)
    for field, mark, day in written:
        if field == "handover" and day > today + AHEAD:
            yield Broken(None, f"The day {day} of `{field}` is years ahead of today", mark)
        elif field != "handover" and day > today + ELSEWHERE:
            yield Broken(None, _still_to_come(f"`{field}` ", day, today), mark)
        elif day < EARLIEST:
            yield Broken(None, f"The day {day} of `{field}` is before {EARLIEST.year}", mark)
        else:
            yield Clear()
    once = {(entry.mark_of(field), day): name for name, entry, field, day in _days(house)}
    for _, mark, day in written:
        once.pop((mark, day), None)
    for (mark, day), name in once.items():  # a day written once may be repeated by its anchor
        of = f"of {house.called(name)} " if name else ""
        if day < EARLIEST:
            yield Broken(name, f"The day {day} {of}is before {EARLIEST.year}", mark)
        elif day > today + ELSEWHERE:
            yield Broken(name, _still_to_come(of.removeprefix("of "), day, today), mark)
        elif last is not None and day > last:
            said = f"The day {day} {of}is later than the record, which was made by {last}"
            yield Broken(name, said, mark)
        else:
            yield Clear(name)


_REMEDY = "Put the day right; of later work done in an older house, `handover` is that work's."


def _handed_over_too_soon(house: House) -> Iterator[Outcome]:
    """The finding stands on the handover's line, whatever is said of the other days: either may
    be the slip. An inspection belongs to the work that is handed over, so none comes after."""
    own = house.record.house
    inspections = [(it.on, it.what) for it in each(own.inspections) if it.on]
    if own.handover is None:
        return
    said = f"The day {own.handover} of `handover` is before "
    if inspections and own.handover < max(inspections)[0]:
        day, what = max(inspections)
        said += f"the inspection `{what}`, {day}"
    elif (first := _first_photo(house)) and own.handover < first:
        said += f"the first photo of the open walls, {first}"
    else:
        return
    yield Broken(None, said, own.mark_of("handover"), _REMEDY)


def _first_photo(house: House) -> date | None:
    """The first day on which the walls were open: later ones may be of a repair."""
    walls = house.record.walls
    return min((it.on for it in each(walls.photos if walls else None) if it.on), default=None)


def _still_to_come(whose: str, day: date, today: date) -> str:
    of = f"of {whose}" if whose else ""
    return f"The day {day} {of}is still to come; by this computer's clock it is {today}"


def _own_days(own: HouseFacts) -> Iterator[tuple[str, Mark, date]]:
    """Yield the days on which the record itself was made: by which key, and where it stands."""
    if own.handover:
        yield "handover", own.mark_of("handover"), own.handover
    if own.recorded and own.recorded.on:
        yield "recorded", own.recorded.mark_of("on"), own.recorded.on


def _days(house: House) -> Iterator[Day]:
    for name, entry, field, day in _inside(house.record, None):
        yield (name if name in house.items else None), entry, field, day


def _inside(entry: Entry, owner: str | None) -> Iterator[Day]:
    owner = getattr(entry, "id", None) or owner
    for field in type(entry).model_fields:
        value = getattr(entry, field)
        for part in value if isinstance(value, tuple) else (value,):
            if isinstance(part, Entry):
                yield from _inside(part, owner)
            elif isinstance(part, date) and not isinstance(entry, HouseFacts):
                yield owner, entry, field, part


@rule(
    "RC-10",
    "inspection-failed",
    "fault",
    why="What the inspector did not pass may be unsafe, and is not finished.",
    remedy="Have it put right and inspected again, and record that inspection too.",
    stages=("rough-in", "top-out", "trim-out", "handover"),
    source=PRACTICE,
)
def inspection_failed(house: House) -> Iterator[Outcome]:
    """Each inspection was passed, or one of the same later."""
    found = house.record.house.inspections
    yield from told(found, facts.INSPECTIONS)
    for number, inspection in enumerate(each(found)):
        again = [i for i in each(found)[number + 1 :] if i.what == inspection.what]
        if inspection.result is None:
            yield CannotTell(facts.INSPECTION_RESULT)
        elif inspection.result != "failed" or any(i.result not in (None, "failed") for i in again):
            yield Clear()
        else:
            said = f"The inspection `{inspection.what}` is recorded as failed"
            yield Broken(None, said, inspection.mark_of("result"))


RULES = (day_that_cannot_be, inspection_failed)
