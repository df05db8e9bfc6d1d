"""What the pipes of a riser diagram ask of the bodies at their ends: how far apart, which way."""

from __future__ import annotations

import math
from collections.abc import Sequence

from handbook.output.drawing.iso_bodies import own_mark
from handbook.output.drawing.iso_body import Body
from handbook.output.drawing.iso_grid import DOWN, UNIT, UP, Spot
from handbook.output.drawing.iso_span import Join
from handbook.output.drawing.iso_zones import Zone, Zones
from handbook.pages.riser.content import Riser, RiserMark, RiserPipe, RiserRun


def joins_of(
    riser: Riser, made: Sequence[Body], shared: Zones, spare: float, room: dict[int, float]
) -> list[Join]:
    """Return each pipe as the search for places sees it; `room` is asked for by pipes that found
    no way before."""
    number = {body.point.id: n for n, body in enumerate(made)}
    joins = []
    for n, pipe in enumerate(riser.pipes):
        a, b = number[pipe.a], number[pipe.b]
        items = inline(pipe, made[a], made[b])
        marks = sum(isinstance(item, RiserMark) for item in items)
        runs = len(items) - marks
        more = spare + room.get(n, 0.0)
        need = 2.0 + 2.1 * marks + 1.2 * runs + _frames(made[a], made[b]) + more
        zoned = [shared.zones[shared.of[e]] for e in (a, b)]
        depths = _depths((a, b), zoned, items, more)
        joins.append(
            Join(n, a, b, need, _way(pipe, made[a], made[b], *zoned), depths, falls(riser, pipe))
        )
    return joins


def _depths(
    ends: tuple[int, int],
    zoned: Sequence[Zone],
    items: Sequence[RiserMark | RiserRun],
    room: float,
) -> tuple[tuple[int, float, bool, float], ...]:
    """Return how far from the border between two zones the ends of a pipe must stay, so that each
    of its marks finds room on its own side."""
    first, second = zoned
    if first.box == second.box:
        return ()
    is_upright = first.box.top != second.box.top
    found = []
    for n, zone, other in ((ends[0], first, second), (ends[1], second, first)):
        marks = sum(isinstance(i, RiserMark) and i.level == zone.level for i in items)
        if is_upright:
            border = zone.box.top if other.box.top < zone.box.top else zone.box.bottom
        else:
            border = zone.box.left if other.box.left < zone.box.left else zone.box.right
        found.append((n, border, is_upright, (3.3 * marks + room) if marks else 0.0))
    return tuple(found)


NEVER = {0: frozenset[int](), 1: frozenset({UP}), -1: frozenset({DOWN})}
"""The directions that a pipe may not take: waste never rises, a vent never falls."""


def falls(riser: Riser, pipe: RiserPipe) -> int:
    """Return 1 where a pipe may only fall (waste), -1 where it may only rise (a vent), else 0.

    A record may have it the other way, and is drawn as it stands.
    """
    way = {"waste": 1, "cleanout": 1, "vent": -1}.get(pipe.line, 0)
    bands = [level.id for level in riser.levels]
    level = {point.id: bands.index(point.level) for point in riser.points}
    return way if way * (level[pipe.b] - level[pipe.a]) >= 0 else 0


def _frames(a: Body, b: Body) -> float:
    """Return the steps that lie inside the frames at both ends of a pipe."""
    return sum((x.frame.right / UNIT if x.frame and not x.stubs else 0.0) for x in (a, b))


def inline(pipe: RiserPipe, a: Body, b: Body) -> tuple[RiserMark | RiserRun, ...]:
    """Return what stands in the pipe itself, without what stands on a fixture's stub."""
    items = pipe.items
    if b.stubs and own_mark(b.point, pipe) is not None:
        items = items[:-1]
    elif a.stubs and own_mark(a.point, pipe) is not None:
        items = items[1:]
    return items


def _way(pipe: RiserPipe, a: Body, b: Body, first: Zone, second: Zone) -> Spot | None:
    """Return which way a pipe runs on the sheet by its two ends' places on the plan."""
    if pipe.line == "cleanout":
        return (0.0, 1.0)
    if first.box.top != second.box.top:
        return (0.0, 1.0) if second.box.top > first.box.top else (0.0, -1.0)
    p, q = a.point.at, b.point.at
    if p is None or q is None:
        return None
    across, up = q[0] - p[0], q[1] - p[1]
    if max(abs(across), abs(up)) < 0.3:
        return None
    cos, sin = math.cos(math.pi / 6), 0.5
    if abs(across) >= abs(up):
        return (cos, sin) if across > 0 else (-cos, -sin)
    return (cos, -sin) if up > 0 else (-cos, sin)
