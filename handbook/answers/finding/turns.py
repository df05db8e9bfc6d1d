"""Left and right on a way through a house: which way one faces, and where one turns.

Angles are degrees, above zero to the left. To find the turns that a person feels, a room is
crossed a step away from its walls, straight in at one door and straight out at the other; the
taut string of the shortest way would hug corners and make three lazy turns of two plain ones.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, degrees, dist

from handbook.house.floor_plan import FloorPlan, Passage
from handbook.house.spaces import XY, Space, unit

CLEARANCES = (18.0, 12.0, 8.0, 4.0)
"""Inches kept from the walls, where the room is wide enough for it."""

ONE_TURN = 18.0
"""Inches between two turns below which they are felt as one."""


@dataclass(frozen=True)
class Crossing:
    """The turns made in one zone: entering, at each corner, and to face the way out.

    `enters` and `leaves` are None where one does not know which way a person faces.
    """

    enters: float | None
    corners: tuple[float, ...]
    leaves: float | None


def angle(before: XY, after: XY) -> float:
    """The turn from one direction to another, from -180 to 180, left above zero."""
    turn = degrees(atan2(after[1], after[0]) - atan2(before[1], before[0]))
    return (turn + 180) % 360 - 180


def facing(plan: FloorPlan, passage: Passage, into: str) -> tuple[XY | None, XY | None]:
    """Which way one faces as one starts through a passage, and as one comes out of it."""
    line = passage.toward(into)
    if not line:
        return None, None
    if passage.kind in ("stairs", "steps"):
        return _along(passage, line)
    here, there = plan.zones[passage.other(into)].space, plan.zones[into].space
    outward = [(-x, -y) for x, y in here.facing(line[0])] if here else []
    inward = list(there.facing(line[-1])) if there else []
    pairs = [(a, b) for a in outward or inward for b in inward or outward]
    if not pairs:
        return None, None
    a, b = max(pairs, key=lambda pair: pair[0][0] * pair[1][0] + pair[0][1] * pair[1][1])
    through = unit((a[0] + b[0], a[1] + b[1]))
    return (through, through) if through != (0.0, 0.0) else (None, None)


def _along(passage: Passage, line: Sequence[XY]) -> tuple[XY | None, XY | None]:
    """Along the flight; unknown where it must turn on the way and its turns are not recorded.

    A straight flight is longer on the plan than it is high: codes allow no steeper.
    """
    flat = dist(line[0], line[-1])
    if len(line) == 2 and (flat < abs(passage.rise or 0.0) or flat < ONE_TURN):
        return None, None
    first, last = line[:2], line[-2:]
    start = unit((first[1][0] - first[0][0], first[1][1] - first[0][1]))
    end = unit((last[1][0] - last[0][0], last[1][1] - last[0][1]))
    return start, end


def crossing(space: Space, a: XY, enters: XY | None, b: XY, leaves: XY | None) -> Crossing:
    """The turns on the way from `a`, entered facing `enters`, to `b`, left facing `leaves`."""
    headings = _headings(space, a, enters, b, leaves)
    turns = _merged([*headings, (leaves, 0.0)] if leaves else headings)
    first = turns.pop(0) if enters and turns else None
    last = turns.pop() if leaves and turns else None
    if enters and leaves and last is None and first is not None:
        first, last = 0.0, first  # one turn only: it is made at the way out
    return Crossing(first, tuple(turns), last)


def _headings(
    space: Space, a: XY, enters: XY | None, b: XY, leaves: XY | None
) -> list[tuple[XY, float]]:
    """The directions walked, each with how far; first of all the one faced on entering."""
    for step in CLEARANCES:
        clear = space.clear_of_walls(step)
        if clear is None:
            continue
        stands = (_off(a, enters, step), _off(b, leaves, -step))
        start, end = (clear.nearest(point) for point in stands)
        if _near(start, stands[0], step, enters) and _near(end, stands[1], step, leaves):
            way = clear.way(start, end)
            break
    else:
        way = space.way(a, b)
    walked = [
        (unit((q[0] - p[0], q[1] - p[1])), dist(p, q)) for p, q in pairwise(way) if dist(p, q) > 3
    ]
    return [(enters, 2 * ONE_TURN), *walked] if enters else walked


def _near(found: XY, wanted: XY, step: float, faced: XY | None) -> bool:
    """Whether a point off the walls still stands for the door, or for the thing at the wall."""
    return dist(found, wanted) <= (step / 2 if faced else 2 * step)


def _off(point: XY, toward: XY | None, step: float) -> XY:
    if toward is None:
        return point
    return (point[0] + step * toward[0], point[1] + step * toward[1])


def _merged(headings: Sequence[tuple[XY, float]]) -> list[float]:
    """The turns from heading to heading; those that follow within a step are one."""
    turns: list[float] = []
    for number, ((before, length), (after, _)) in enumerate(pairwise(headings)):
        turn = angle(before, after)
        if turns and number and length < ONE_TURN:
            turns[-1] += turn
        else:
            turns.append(turn)
    return turns
