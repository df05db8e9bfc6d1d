"""A part of a plan: everything outside a rectangle is cut off, as for an enlarged plan."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from handbook.pages.plan.geometry import tidy
from handbook.pages.plan.shapes import Door, Flight, Outline, Pipe, Plan, Point, Room

Box = tuple[float, float, float, float]
"""(left, bottom, right, top) in inches."""


def crop(plan: Plan, to: Box) -> Plan:
    """Return what of a plan lies inside a rectangle."""
    return replace(
        plan,
        rooms=tuple(
            Room(room.name, cut) for room in plan.rooms if (cut := shape(room.outline, to))
        ),
        walls=tuple(kept for wall in plan.walls if (kept := shape(wall, to))),
        doors=tuple(door for door in plan.doors if _has(to, _corners(door))),
        flights=tuple(part for flight in plan.flights if (part := _flight(flight, to))),
        marks=tuple(mark for mark in plan.marks if _has(to, (mark.at,))),
        pipes=tuple(cut for pipe in plan.pipes for cut in _pipes(pipe, to)),
        ways=tuple(way for way in plan.ways if _has(to, way)),
        ties=tuple(tie for tie in plan.ties if _has(to, (tie.corner, tie.to))),
    )


def shape(outline: Sequence[Point], to: Box) -> Outline:
    """Return the part of a shape inside a rectangle; nothing where it lies outside.

    Sutherland and Hodgman's way: the shape is cut along each side of the rectangle in turn.
    """
    left, bottom, right, top = to
    kept: list[Point] = list(outline)
    kept = _cut(kept, lambda p: p[0] - left)
    kept = _cut(kept, lambda p: right - p[0])
    kept = _cut(kept, lambda p: p[1] - bottom)
    kept = _cut(kept, lambda p: top - p[1])
    return tidy(kept) if len(kept) > 2 else ()


def segment(a: Point, b: Point, to: Box) -> tuple[Point, Point] | None:
    """Return the part of a straight line inside a rectangle, None where there is none."""
    start, end = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for step, room in (
        (-dx, a[0] - to[0]),
        (dx, to[2] - a[0]),
        (-dy, a[1] - to[1]),
        (dy, to[3] - a[1]),
    ):
        if step == 0 and room < 0:
            return None
        if step < 0:
            start = max(start, room / step)
        elif step > 0:
            end = min(end, room / step)
    if start >= end:
        return None
    low, high = tidy((a[0] + dx * t, a[1] + dy * t) for t in (start, end))
    return low, high


def _cut(points: list[Point], inward: Callable[[Point], float]) -> list[Point]:
    kept: list[Point] = []
    for here, after in zip(points, points[1:] + points[:1], strict=True):
        a, b = inward(here), inward(after)
        if a >= 0:
            kept.append(here)
        if (a > 0 > b) or (a < 0 < b):
            t = a / (a - b)
            kept.append((here[0] + (after[0] - here[0]) * t, here[1] + (after[1] - here[1]) * t))
    return kept


def _has(to: Box, points: Iterable[Point]) -> bool:
    return all(to[0] <= x <= to[2] and to[1] <= y <= to[3] for x, y in points)


def _corners(door: Door) -> list[Point]:
    return [p for p in (*door.jambs, door.hinge, door.tip, door.shut) if p]


def _flight(flight: Flight, to: Box) -> Flight | None:
    line = segment(flight.foot, flight.end, to)
    outline = shape(flight.outline, to)
    if line is None or not outline:
        return None
    treads = tuple(cut for tread in flight.treads if (cut := segment(*tread, to)))
    return Flight(treads, outline, line[0], line[1], flight.word)


def _pipes(pipe: Pipe, to: Box) -> Iterable[Pipe]:
    for a, b in pairwise(pipe.points):
        if cut := segment(a, b, to):
            yield replace(pipe, points=cut)
