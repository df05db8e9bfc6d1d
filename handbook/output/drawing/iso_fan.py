"""A diagram made ready to be laid out: points added where pipes must branch or pass.

More pipes at a symbol than can be drawn to it leave it in one, which branches at once. A pipe with
a valve on a level that neither of its ends is on is led by way of a point on that level.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from handbook.pages.riser.content import Riser, RiserMark, RiserPipe, RiserPoint

MOST = 5
"""Pipes that run straight to one symbol; one of the six directions stays free."""

MOST_UP = 2
"""Pipes that run to the end of a vent, all from below."""

BRANCHING = frozenset({"junction", "tee", "header", "fixture"})
"""What is drawn with as much room as its pipes need."""


def prepared(riser: Riser) -> Riser:
    """Return the diagram with all the points that its layout needs."""
    return _by_way(_fanned(riser))


def _by_way(riser: Riser) -> Riser:
    """Return the diagram with a point on each level that a pipe has to come by."""
    points, done, waiting = list(riser.points), list[RiserPipe](), list(riser.pipes[::-1])
    level = {point.id: point.level for point in points}
    while waiting:
        pipe = waiting.pop()
        items = pipe.items
        away = next(
            (
                n
                for n, item in enumerate(items)
                if isinstance(item, RiserMark) and item.level not in (level[pipe.a], level[pipe.b])
            ),
            None,
        )
        if away is None:
            done.append(pipe)
            continue
        by = f"{pipe.b}<{len(points)}"
        mark = items[away]
        level[by] = mark.level if isinstance(mark, RiserMark) else ""
        points.append(RiserPoint(by, "junction", (), level[by]))
        cut = away - 1 if away and not isinstance(items[away - 1], RiserMark) else away
        done.append(replace(pipe, b=by, items=items[:cut]))
        waiting.append(replace(pipe, a=by, items=items[cut:]))
    return replace(riser, points=tuple(points), pipes=tuple(done))


def _fanned(riser: Riser) -> Riser:
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
