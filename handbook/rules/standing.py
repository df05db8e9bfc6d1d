"""Rule for valves that are recorded as closed in ordinary use, and keep water from what needs it.

The mains have a rule of their own (WA-12). A closed bypass keeps nothing dry, and outdoors water
is shut off every winter.
"""

from collections.abc import Iterator

from handbook.answers.isolating.targets import supply_kept_off
from handbook.answers.isolating.words import said_lost
from handbook.house.house import House
from handbook.record.grammar.common import Handle
from handbook.record.grammar.fixtures import Fixture
from handbook.rules import facts
from handbook.rules.looks import water
from handbook.rules.rule import PRACTICE, Broken, Clear, Outcome, rule, told

NAMED = 3
"""How many of the things without water a finding names; how many more there are it counts."""


@rule(
    "WA-15",
    "closed-valve-keeps-water-off",
    "fault",
    why="Closed in ordinary use it leaves these without water; written so by mistake, what the "
    "handbook says of closing it, and of how soon water comes, is wrong.",
    remedy="Look at it. If it is open, take `stands: closed` out; if it is closed, find out why.",
    stages=("trim-out", "handover"),
    source=PRACTICE,
)
def closed_valve_keeps_water_off(house: House) -> Iterator[Outcome]:
    """No valve but a main stands closed in ordinary use and keeps water from a fixture indoors."""
    yield from told(water(house).valves, facts.VALVES)
    yield from told(house.record.fixtures, facts.FIXTURES)
    dry = _dry(house)
    for valve in house.water.network.handles:
        if valve not in house.items or _is_main(house, valve):
            continue
        off = frozenset(supply for supply, shut in dry.items() if valve in shut)
        if not off:
            yield Clear(valve)
            continue
        lost = said_lost(house, off)
        more = f" and {len(lost) - NAMED} more" if lost[NAMED:] else ""
        said = f"{house.called(valve)} is recorded as closed in ordinary use, "
        said += f"which leaves off: {'; '.join(lost[:NAMED])}{more}"
        yield Broken(valve, said, house.items[valve].entry.mark_of("stands"))


def _dry(house: House) -> dict[str, tuple[str, ...]]:
    """For each supply indoors, the closed valves without which it would get water."""
    return {
        supply.id: supply_kept_off(house, supply.id)
        for supply in house.water.network.supplies
        if _is_indoors(house, supply.id)
    }


def _is_indoors(house: House, supply: str) -> bool:
    item = house.items.get(supply.rpartition(".")[0])
    return item is not None and isinstance(item.entry, Fixture) and item.entry.kind != "hose bibb"


def _is_main(house: House, valve: str) -> bool:
    entry = house.items[valve].entry
    assert isinstance(entry, Handle)
    return bool(getattr(entry, "main", False) or getattr(entry, "utility", False))


RULES = (closed_valve_keeps_water_off,)
