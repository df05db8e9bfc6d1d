"""Symbols on a pipe are turned to the way it runs, one-way symbols to the way it flows."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import atan2, degrees

from handbook.pages.plan.geometry import distance
from handbook.pages.plan.shapes import GROUND, Mark, Pipe, Plan, Point
from handbook.tables import table

ON_PIPE = 6.0
"""Inches on the plan within which a thing is taken to sit on a pipe."""

STRAIGHT = 45
"""Degrees to whose multiples a symbol that lies along a pipe is turned."""

Leg = tuple[Point, Point]


def turned(plan: Plan) -> Plan:
    """Return the plan, each symbol that sits on one of its pipes turned along it.

    The table `map_marks` says of each symbol whether it `turns`: to the flow, or along the pipe
    either way, or not at all.
    """
    return replace(plan, marks=tuple(_turned(mark, plan.pipes) for mark in plan.marks))


def _turned(mark: Mark, pipes: Sequence[Pipe]) -> Mark:
    turns = table("map_marks").values[mark.kind].get("turns")
    leg = _leg(mark.at, pipes) if turns else None
    if leg is None:
        return mark
    (ax, ay), (bx, by) = leg
    angle = degrees(atan2(by - ay, bx - ax))
    if turns == "along":  # it looks the same from behind: upright, and straight if nearly so
        angle = round(angle / STRAIGHT) * STRAIGHT % 180
        angle -= 180 if angle > 90 else 0
    return replace(mark, turn=round(angle, 1))


def _leg(at: Point, pipes: Iterable[Pipe]) -> Leg | None:
    """Return the stretch of pipe that a point lies on; of several, the one that ends there."""
    near = [
        (round(off), distance(at, leg[1]), leg)
        for pipe in pipes
        if pipe.kind not in GROUND
        for leg in _legs(pipe)
        if (off := _off(at, leg)) <= ON_PIPE
    ]
    return min(near)[2] if near else None


def _legs(pipe: Pipe) -> Iterator[Leg]:
    yield from pairwise(pipe.points)


def _off(at: Point, leg: Leg) -> float:
    """Return how far a point is from a straight stretch."""
    (ax, ay), (bx, by) = leg
    dx, dy = bx - ax, by - ay
    squared = dx * dx + dy * dy
    share = ((at[0] - ax) * dx + (at[1] - ay) * dy) / squared if squared else 0.0
    share = min(1.0, max(0.0, share))
    return distance(at, (ax + share * dx, ay + share * dy))
