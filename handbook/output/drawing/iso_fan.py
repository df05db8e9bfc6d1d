"""More pipes at a symbol than can be drawn to it leave it in one, which branches at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from handbook.pages.riser.content import Riser, RiserPipe, RiserPoint

MOST = 5
"""Pipes that run straight to one symbol; one of the six directions stays free."""

MOST_UP = 2
"""Pipes that run to the end of a vent, all from below."""

BRANCHING = frozenset({"junction", "tee", "header", "fixture"})
"""What is drawn with as much room as its pipes need."""


def fanned(riser: Riser) -> Riser:
    """Return the diagram with a junction beside each point that too many pipes run to."""
    points, pipes = list(riser.points), list(riser.pipes)
    for point in riser.points:
        most = MOST_UP if point.symbol in ("vent end", "open vent") else MOST
        at = [n for n, pipe in enumerate(pipes) if point.id in (pipe.a, pipe.b)]
        if point.symbol in BRANCHING or len(at) <= most:
            continue
        for number, group in enumerate(_alike(point, pipes, at)):
            fork = f"{point.id}/{number}"
            points.append(RiserPoint(fork, "junction", (), point.level, point.at))
            first = pipes[group[0]]
            out = first.a == point.id
            for n in group:
                pipes[n] = replace(pipes[n], a=fork) if out else replace(pipes[n], b=fork)
            ends = (point.id, fork) if out else (fork, point.id)
            pipes.append(RiserPipe(*ends, first.line))
    return replace(riser, points=tuple(points), pipes=tuple(pipes))


def _alike(point: RiserPoint, pipes: list[RiserPipe], at: list[int]) -> Iterator[list[int]]:
    """Yield the pipes that run from or to a point in the same line, two or more."""
    groups: dict[tuple[str, bool], list[int]] = {}
    for n in at:
        groups.setdefault((pipes[n].line, pipes[n].a == point.id), []).append(n)
    yield from (group for group in groups.values() if len(group) > 1)
