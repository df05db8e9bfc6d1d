"""The ladder by trying everything: every set of valves, turned every way, judged one by one.

Written apart from `handbook.answers`: it shares the dataclasses and nothing else, and it takes
the definition of a step word by word, with no idea of cuts, segments or bounds.
"""

from collections.abc import Callable
from fractions import Fraction
from itertools import combinations

from handbook.house.network import Network, Valve


def is_pipe(valve: Valve, targets: frozenset[str], failed: frozenset[str]) -> bool:
    """Whether water must be reckoned to pass whatever is done to the valve."""
    if valve.id in failed or not valve.holds:
        return True
    if valve.stuck:
        return not valve.closed
    return bool(valve.only_for) and not valve.only_for & targets


def wet_nodes(
    network: Network, targets: frozenset[str], failed: frozenset[str], turned: frozenset[str]
) -> set[str]:
    """What is wet once `turned` are turned from the way they stand: arrows followed to the end."""
    arrows = [(pipe.a, pipe.b) for pipe in network.pipes]
    arrows += [(pipe.b, pipe.a) for pipe in network.pipes if not pipe.one_way]
    for valve in network.valves:
        passes = not valve.closed if valve.id not in turned else valve.closed
        if is_pipe(valve, targets, failed) or passes:
            arrows += [(valve.a, valve.b), (valve.b, valve.a)]
    wet = set(network.sources)
    size = -1
    while size != len(wet):
        size = len(wet)
        wet |= {b for a, b in arrows if a in wet}
    return wet


def turnable(network: Network, targets: frozenset[str], failed: frozenset[str]) -> dict[str, Valve]:
    """The valves that a hand can turn to some effect, by id."""
    return {
        valve.id: valve
        for valve in network.valves
        if not valve.stuck and not is_pipe(valve, targets, failed)
    }


def best_step(
    network: Network,
    targets: frozenset[str],
    own: frozenset[str],
    failed: frozenset[str],
    nearness: Callable[[str], float] | None,
) -> tuple[frozenset[str], frozenset[str]] | None:
    """The best set of valves to turn and the supplies lost; None if no set stops the water."""
    before = wet_nodes(network, targets, failed, frozenset())
    if not targets & before:
        return None
    valves = turnable(network, targets, failed)
    found = []
    for size in range(len(valves) + 1):
        for some in combinations(valves, size):
            turned = frozenset(some)
            after = wet_nodes(network, targets, failed, turned)
            if targets & after:
                continue
            lost = frozenset(
                supply.id
                for supply in network.supplies
                if supply.node in before and supply.node not in after and supply.id not in own
            )
            rank = (
                len(lost),
                size,
                sum(valves[id_].utility for id_ in turned),
                sum((Fraction(nearness(id_)) for id_ in turned), Fraction(0)) if nearness else 0,
                -len(after),
                sorted((valves[id_].order, id_) for id_ in turned),
            )
            found.append((rank, turned, lost))
    if not found:
        return None
    _, turned, lost = min(found, key=lambda entry: entry[0])
    return turned, lost


def ladder(
    network: Network,
    targets: frozenset[str],
    own: frozenset[str],
    failed: frozenset[str],
    nearness: Callable[[str], float] | None,
) -> list[tuple[frozenset[str], frozenset[str]]]:
    """(turned, lost) for each step until no set of valves stops the water."""
    found = []
    while (step := best_step(network, targets, own, failed, nearness)) is not None:
        found.append(step)
        failed |= step[0]
    return found
