"""What is off by the record already: the closed valves that keep its water away, and what to close
if water comes all the same, because one does not hold or stands open after all."""

from dataclasses import replace

from handbook.answers.isolating.rungs import Leak, Rung, Turn, climb, turned
from handbook.answers.isolating.targets import kept_off
from handbook.house.house import House


def shut_already(house: House, leak: Leak) -> tuple[tuple[Turn, ...], tuple[Rung, ...]]:
    """Return the valves that are recorded as closed, and the ladder that trusts none of them."""
    kept = kept_off(house, leak.targets, leak.failed)
    again = climb(house, replace(leak, failed=leak.failed.union(kept))) if kept else ()
    return tuple(turned(house, valve, "close") for valve in kept), again
