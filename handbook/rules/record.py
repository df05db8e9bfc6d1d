"""Rules for every thing of the record: a name in plain words, a place, and words of its own."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.house.items import Item
from handbook.record.entry import Entry
from handbook.record.grammar.common import Handle, Thing
from handbook.record.grammar.people import Panel
from handbook.record.grammar.safeguards import Pan
from handbook.record.problems import Mark
from handbook.record.starting import left_to_write
from handbook.rules.looks import can_be_found
from handbook.rules.rule import PRACTICE, Clear, Gap, Outcome, rule


def _met(house: House) -> Iterator[tuple[Item, Thing]]:
    """Yield what people meet by itself: what has a tag, fixtures, appliances; in walking order."""
    for item in house.items.values():
        met = item.tagged or item.system == "fixture" or isinstance(item.entry, Panel)
        if met and item.owner is None and isinstance(item.entry, Thing):
            yield item, item.entry


@rule(
    "RC-01",
    "thing-without-name",
    "gap",
    why="A tag alone says nothing to somebody who has never seen the house.",
    remedy="Give it a `name` in plain words, the way people in the house would say it.",
    stages=("rough-in", "trim-out", "handover"),
    source=PRACTICE,
)
def thing_without_name(house: House) -> Iterator[Outcome]:
    """Each thing that has a tag, each fixture and the breaker panel has a name."""
    for item, thing in _met(house):
        if thing.name:
            yield Clear(item.id)
        else:
            said = f"{item.id} ({item.kind}) has no name in plain words"
            yield Gap(item.id, said, thing.mark_of("id"))


@rule(
    "RC-02",
    "thing-without-location",
    "gap",
    why="What cannot be found cannot be looked at, read, reset or cleaned.",
    remedy="Record its room, or `where:` in words that a stranger can follow.",
    stages=("rough-in", "trim-out", "handover"),
    source=PRACTICE,
)
def thing_without_location(house: House) -> Iterator[Outcome]:
    """Each thing that has a tag, each fixture and the breaker panel says where it is."""
    for item, thing in _met(house):
        if isinstance(thing, Handle):
            continue  # the shutoffs' own rule looks at these
        if can_be_found(item.place if isinstance(thing, Pan) else thing.place):
            yield Clear(item.id)
        else:
            said = f"{house.called(item.id)} does not say where it is"
            yield Gap(item.id, said, thing.mark_of("place"))


@rule(
    "RC-15",
    "words-as-they-were-shown",
    "gap",
    why="The handbook prints them, and whoever looks for the thing reads nothing.",
    remedy="Write there what you see, in words that a stranger can follow.",
    stages=("rough-in", "trim-out", "handover"),
    source=PRACTICE,
)
def words_as_they_were_shown(house: House) -> Iterator[Outcome]:
    """No words stand as `check` showed them, in place of those that were to be written."""
    found = list(_shown_words(house.record, None))
    for thing, mark in found:
        whose = f" of {house.called(thing)}" if thing in house.items else ""
        name = thing if thing in house.items else None
        yield Gap(name, f"The words{whose} stand as they were shown", mark)
    if not found:
        yield Clear()


def _shown_words(entry: Entry, owner: str | None) -> Iterator[tuple[str | None, Mark]]:
    owner = getattr(entry, "id", None) or owner
    for field in type(entry).model_fields:
        value = getattr(entry, field)
        for part in value if isinstance(value, tuple) else (value,):
            if isinstance(part, Entry):
                yield from _shown_words(part, owner)
            elif isinstance(part, str) and left_to_write(part):
                yield owner, entry.mark_of(field)


RULES = (thing_without_name, thing_without_location, words_as_they_were_shown)
