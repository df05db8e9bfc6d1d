"""Which valves to close, and what to do when they fail: the ladder from the thing to the street.

A step is the best set of valves to close (and of normally closed ones to open) after which no
water reaches the thing. Each step takes all valves of the steps before for failed. "Best" is, in
this order: fewest supplies lost, fewest valves, fewest of the utility's, nearest, most of the
house still wet, then the valves' own order.

Two facts carry it. Whatever feeds the thing past no working valve ("doomed") goes dry with any
cut, so the least that can be lost is known before any cut is sought. And a single valve that
loses no more than that cannot be beaten by two; it stands on every way the water can take, so one
way shows all candidates. Only where no single valve will do is the search in `least_cut` needed.
"""

from collections import Counter
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass

from handbook.answers.isolating.least_cut import least_cut
from handbook.house.network import Network, Standing

_NONE: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Step:
    """Valve ids to close and to open, and the ids of the supplies that then run dry."""

    close: tuple[str, ...]
    open: tuple[str, ...]
    lost: tuple[str, ...]


def steps(
    network: Network,
    targets: frozenset[str],
    own: frozenset[str] = _NONE,
    failed: frozenset[str] = _NONE,
    nearness: Callable[[str], float] | None = None,
) -> tuple[Step, ...]:
    """Every step of the ladder; none if no water reaches `targets` as things stand, or none helps.

    `own`: supplies of the thing itself, not counted as lost. `failed`: valves that may not serve
    (the leaking one itself). `nearness`: how far to walk to a valve, in any unit, not negative;
    `inf` where no way is known.
    """
    ladder: list[Step] = []
    while (step := _step(network, targets, own, failed, nearness)) is not None:
        ladder.append(step)
        failed = failed.union(step.close, step.open)
    return tuple(ladder)


def cuts(
    network: Network,
    targets: frozenset[str],
    close: Collection[str] = _NONE,
    opened: Collection[str] = _NONE,
    failed: frozenset[str] = _NONE,
) -> bool:
    """Whether no water reaches `targets` once these valves are turned."""
    barred = network.standing(targets, failed).barred(close, opened)
    return targets.isdisjoint(network.downstream(network.sources, barred))


def _step(
    network: Network,
    targets: frozenset[str],
    own: frozenset[str],
    failed: frozenset[str],
    nearness: Callable[[str], float] | None,
) -> Step | None:
    standing = network.standing(targets, failed)
    wet = network.downstream(network.sources, standing.barred())
    if targets.isdisjoint(wet):
        return None
    doomed = network.upstream(targets, standing.working | standing.fixed_shut)
    if not network.sources.isdisjoint(doomed):
        return None
    missed = Counter(s.node for s in network.supplies if s.node in wet and s.id not in own)
    least = _loss(missed, network.downstream(network.sources, standing.fixed_shut, doomed))
    alone = _sole_cuts(network, standing, targets)
    turned = _single(network, alone, missed, least, nearness)
    if turned is None:
        turned = least_cut(network, standing, doomed, missed, nearness)
    dried = wet - network.downstream(network.sources, standing.barred(turned, turned))
    ordered = sorted(turned, key=lambda id_: (network.handles[id_][0].order, id_))
    return Step(
        close=tuple(id_ for id_ in ordered if id_ in standing.may_close),
        open=tuple(id_ for id_ in ordered if id_ in standing.may_open),
        lost=tuple(s.id for s in network.supplies if s.node in dried and s.id not in own),
    )


def _sole_cuts(
    network: Network, standing: Standing, targets: frozenset[str]
) -> Iterator[tuple[str, set[str]]]:
    """Each valve that stops the thing by itself, with what stays wet; the thing's end first.

    A handle with several ports comes where it stands nearest the thing.
    """
    for id_ in dict.fromkeys(network.way(targets, standing.barred())):
        if id_ in standing.may_close:
            wet = network.downstream(network.sources, standing.barred((id_,)))
            if targets.isdisjoint(wet):
                yield id_, wet


def _single(
    network: Network,
    alone: Iterator[tuple[str, set[str]]],
    missed: Counter[str],
    least: int,
    nearness: Callable[[str], float] | None,
) -> frozenset[str] | None:
    """The best single valve that loses no more than must be lost; None if there is none."""
    found = []
    for id_, wet in alone:
        handle = network.handles[id_]
        if _loss(missed, wet) == least:
            near = nearness(id_) if nearness else 0.0
            found.append((handle[0].utility, near, -len(wet), handle[0].order, id_))
        elif len(handle) == 1:
            break  # whatever lies further out shuts off all that this one does, and more
    return frozenset({min(found)[-1]}) if found else None


def _loss(missed: Counter[str], wet: set[str]) -> int:
    return sum(count for node, count in missed.items() if node not in wet)
