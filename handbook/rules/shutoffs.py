"""Rules for everything that can be turned, water or gas, in the line or at a fixture."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.record.grammar.common import Seen, Thing
from handbook.rules import facts
from handbook.rules.looks import can_be_found, shutoffs, water
from handbook.rules.rule import (
    PRACTICE,
    Broken,
    CannotTell,
    Clear,
    Gap,
    Outcome,
    rule,
    told,
)

OUT_OF_ORDER = {
    "stuck": "is stuck: it cannot be turned",
    "does not hold": "does not hold: water or gas passes it when it is closed",
    "leaks": "leaks",
}


def _sections(house: House) -> Iterator[Outcome]:
    """Yield what is left out of the record and would hold shutoffs."""
    yield from told(water(house).valves, facts.VALVES)
    yield from told(house.record.fixtures, facts.FIXTURES)
    yield from told(house.record.heaters, facts.HEATERS)
    yield from told(house.record.gas, facts.GAS)


@rule(
    "SH-01",
    "shutoff-without-location",
    "gap",
    why="A shutoff that nobody can find at two in the morning might as well not be there.",
    remedy="Record its room, or `where:` in words that a stranger can follow.",
    stages=("rough-in", "trim-out", "handover"),
    source="IPC 606.3: valves must be reachable (stated from memory); else " + PRACTICE,
)
def shutoff_without_location(house: House) -> Iterator[Outcome]:
    """Each shutoff says where it is; one recorded inside a fixture, where beside it."""
    yield from _sections(house)
    for item, valve in shutoffs(house):
        if can_be_found(item.place) and item.says_where:
            yield Clear(item.id)
        else:
            mark = valve.mark_of("place")
            yield Gap(item.id, f"{house.called(item.id)} does not say where it is", mark)


@rule(
    "SH-02",
    "shutoff-without-a-way-to-turn",
    "gap",
    why="A wheel and a lever are turned differently, and forcing the wrong way breaks the valve.",
    remedy="Record its `kind`, or say under `turn` how it is turned.",
    stages=("rough-in", "trim-out", "handover"),
    source=PRACTICE,
)
def shutoff_without_a_way_to_turn(house: House) -> Iterator[Outcome]:
    """Each shutoff says how it is turned."""
    yield from _sections(house)
    for item, valve in shutoffs(house):
        if valve.kind or valve.turn:
            yield Clear(item.id)
        else:
            said = f"{house.called(item.id)} does not say how it is turned"
            yield Gap(item.id, said, valve.mark_of("id"))


@rule(
    "SH-03",
    "shutoff-not-verified",
    "gap",
    why="A shutoff that was only drawn may be elsewhere, or behind the wallboard.",
    remedy="Go to it, and record under `seen` when, by whom and how it was looked at.",
    stages=("trim-out", "handover"),
    source=PRACTICE,
)
def shutoff_not_verified(house: House) -> Iterator[Outcome]:
    """Each shutoff says how it was verified, itself or with the thing that it serves; a main says
    when, by whom and how."""
    yield from _sections(house)
    for item, valve in shutoffs(house):
        owner = house.items[item.owner].entry if item.owner else None
        seen = [getattr(valve, "seen", None)]
        if isinstance(owner, Thing):
            seen.append(owner.seen)
        looks = [look for look in seen if look and (look.on or look.by or look.how)]
        # the whole house leans on a main
        missing = _missing(looks) if getattr(valve, "main", False) else ()
        if not looks:
            said = f"{house.called(item.id)} does not say who has seen it, or when"
            yield Gap(item.id, said, valve.mark_of("seen"))
        elif missing:
            said = f"{house.called(item.id)} is a main, and does not say {_asked(missing)} "
            keys = " and ".join(f"`{key}`" for key in missing)
            remedy = f"Go to it and turn it, and record {keys} under its `seen`."
            yield Gap(item.id, f"{said}it was looked at", valve.mark_of("seen"), remedy)
        else:
            yield Clear(item.id)


_ASKED = {"on": "when", "by": "by whom", "how": "how"}


def _missing(looks: list[Seen]) -> tuple[str, ...]:
    """Return the keys of a look that are not recorded."""
    return tuple(key for key in _ASKED if not any(getattr(look, key) for look in looks))


def _asked(missing: tuple[str, ...]) -> str:
    return " or ".join(_ASKED[key] for key in missing)


@rule(
    "SH-04",
    "shutoff-out-of-order",
    "fault",
    why="It will be needed on the day when something else has failed already.",
    remedy="Have a licensed plumber repair or replace it, then record its `condition` again.",
    stages=("trim-out", "handover", "lived-in"),
    source=PRACTICE,
)
def shutoff_out_of_order(house: House) -> Iterator[Outcome]:
    """Each shutoff can be turned, holds, and does not leak."""
    yield from _sections(house)
    for item, valve in shutoffs(house):
        if valve.condition is None:
            yield CannotTell(facts.WORKS, item.id)
        elif valve.condition in OUT_OF_ORDER:
            said = f"{house.called(item.id)} {OUT_OF_ORDER[valve.condition]}"
            yield Broken(item.id, said, valve.mark_of("condition"))
        else:
            yield Clear(item.id)


RULES = (
    shutoff_without_location,
    shutoff_without_a_way_to_turn,
    shutoff_not_verified,
    shutoff_out_of_order,
)
