"""Which rungs of the ladder people are shown, as `isolate` says it."""

from collections.abc import Sequence

from handbook.answers.isolating.rungs import Rung
from handbook.house.house import House


def shown_of(house: House, rungs: Sequence[Rung], most: int) -> tuple[int, ...]:
    """Choose the rungs for people, as the module says; `most` of them before the mains."""
    mains = set(house.water.mains)
    main = [i for i, rung in enumerate(rungs) if mains & set(rung.close)]
    near = [i for i, rung in enumerate(rungs) if not rung.utility and i not in main]
    worth = [i for i in near if rungs[i].handy or _leaves_half(house, rungs[i])]
    if not main:
        worth = worth or near[:1]
    start = _first(rungs, worth)
    wanted = [i for i in worth if i >= start][:most] + main
    wanted += [i for i, rung in enumerate(rungs) if rung.utility][:1]
    return tuple(sorted(set(wanted)))


def _leaves_half(house: House, rung: Rung) -> bool:
    """Whether at least as many supplies keep their water as lose it."""
    return 2 * len(rung.also_off) <= len(house.water.network.supplies)


def _first(rungs: Sequence[Rung], worth: Sequence[int]) -> int:
    """The rung to go to first: the nearest, or a later handy one where that spares a tool."""
    bare = [i for i in worth if rungs[i].handy and not rungs[i].tools]
    if worth and rungs[worth[0]].tools and bare:
        return bare[0]
    return 0
