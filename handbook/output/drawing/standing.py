"""Where symbols stand when things are too close together for the map's scale.

Things of one kind and one room whose symbols would cover each other share one symbol, with all
their tags beside it. Different symbols that would touch are moved apart by as little as does it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import hypot

from handbook.output.drawing.sheet import Box, Frame, Standing, gap
from handbook.output.drawing.symbols import extent
from handbook.pages.plan.shapes import Mark, Plan, Point
from handbook.tables import table

SHARED = 0.75
"""Share of a symbol's side within which two things of one kind share a symbol."""

APART = 1.2
"""Units that two symbols stay apart."""

UNSEEN = "(?)"
"""Behind the tag of a thing whose place was only told or drawn."""

RING = 1.7
"""How far the ring round the thing that a map is about reaches, in half sides of its symbol."""

ASTRAY = 1.5
"""Half sides of its symbol that a thing may be moved off a tie."""

ROUNDS = 400

Leg = tuple[Point, Point]


def standing(plan: Plan, frame: Frame, size: float) -> list[Standing]:
    """Return a plan's marks as they stand on the sheet, none touching another, nor a tie but its
    own."""
    groups = _groups(plan.marks, frame, size)
    spots = [_middle([frame.at(mark.at) for mark in group]) for group in groups]
    reaches = [size / 2 * (RING if any(m.ringed for m in group) else 1.0) for group in groups]
    spots = _apart(spots, reaches, _foreign(groups, plan, frame))
    found = zip(groups, spots, reaches, strict=True)
    return [_standing(group, at, reach, size) for group, at, reach in found]


def by_number(tag: str) -> tuple[str, int, str]:
    """Return what sorts tags as people count them: W2 before W10."""
    letters, digits, rest = re.fullmatch(r"(\D*)(\d*)(.*)", tag, re.DOTALL).groups()  # type: ignore[union-attr]
    return letters, int(digits or 0), rest


def _groups(marks: Sequence[Mark], frame: Frame, size: float) -> list[list[Mark]]:
    """Gather marks of one kind that stand near one another, directly or through a third."""
    groups: list[list[Mark]] = []
    for mark in marks:
        near = [group for group in groups if any(_near(mark, o, frame, size) for o in group)]
        groups = [group for group in groups if group not in near]
        groups.append([*(other for group in near for other in group), mark])
    return groups


def _near(a: Mark, b: Mark, frame: Frame, size: float) -> bool:
    same = (a.kind, a.room) == (b.kind, b.room)
    return same and gap(frame.at(a.at), frame.at(b.at)) <= SHARED * size


def _middle(spots: list[Point]) -> Point:
    xs, ys = zip(*spots, strict=True)
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _foreign(groups: list[list[Mark]], plan: Plan, frame: Frame) -> list[list[Leg]]:
    """Return for each symbol the ties that neither start nor end at it."""
    return [
        [
            (frame.at(tie.corner), frame.at(tie.to))
            for tie in plan.ties
            if not {tie.corner, tie.to} & {mark.at for mark in group}
        ]
        for group in groups
    ]


def _apart(spots: list[Point], reaches: list[float], ties: Sequence[Sequence[Leg]]) -> list[Point]:
    """Push apart what stands too close, pair by pair, until nothing does; then off the ties, as
    far as that leaves each near where it stood."""
    moved = _settled(spots, reaches)
    before = list(moved)
    for i, reach in enumerate(reaches):
        for tie in ties[i]:
            _push_off(moved, i, tie, reach + APART / 2)
    settled = _settled(moved, reaches)
    astray = any(
        gap(a, b) > ASTRAY * reach for a, b, reach in zip(before, settled, reaches, strict=True)
    )
    return before if astray else settled


def _settled(spots: list[Point], reaches: list[float]) -> list[Point]:
    moved = list(spots)
    for _ in range(ROUNDS):
        quiet = True
        for i in range(len(moved)):
            for j in range(i):
                quiet &= not _push(moved, i, j, reaches[i] + reaches[j] + APART)
        if quiet:
            break
    return moved


def _push(spots: list[Point], i: int, j: int, clear: float) -> bool:
    """Move two symbols apart along the axis on which they overlap less; whether it was needed."""
    (ax, ay), (bx, by) = spots[i], spots[j]
    over_x, over_y = clear - abs(ax - bx), clear - abs(ay - by)
    if over_x <= 0.01 or over_y <= 0.01:
        return False
    if over_x < over_y - 0.05:  # a tie goes one way, whichever way round the house is built
        step = over_x / 2 * (1 if ax > bx else -1)
        spots[i], spots[j] = (ax + step, ay), (bx - step, by)
    else:
        step = over_y / 2 * (1 if ay > by else -1)
        spots[i], spots[j] = (ax, ay + step), (bx, by - step)
    return True


def _push_off(spots: list[Point], i: int, tie: Leg, clear: float) -> bool:
    """Move a symbol sideways off a line that runs through it; whether it was needed."""
    (x, y), ((ax, ay), (bx, by)) = spots[i], tie
    dx, dy = bx - ax, by - ay
    long = hypot(dx, dy)
    along = ((x - ax) * dx + (y - ay) * dy) / long if long else -clear
    if not -clear < along < long + clear:
        return False
    nx, ny = -dy / long, dx / long
    off = (x - ax) * nx + (y - ay) * ny
    wanted = clear * (abs(nx) + abs(ny)) - abs(off)  # a square's reach across the line
    if wanted <= 0.01:
        return False
    side = 1 if off >= 0 else -1
    spots[i] = (x + nx * wanted * side, y + ny * wanted * side)
    return True


def _standing(group: list[Mark], at: Point, reach: float, size: float) -> Standing:
    ordered = sorted(group, key=lambda mark: (-mark.rank, by_number(mark.tag), mark.words))
    entries = tuple(dict.fromkeys(_said(m) for m in ordered if m.tag or m.words))
    ids = tuple(one for mark in ordered for one in mark.ids)
    first, at = ordered[0], (round(at[0], 2), round(at[1], 2))
    return Standing(first, at, reach, _body(first, at, reach, size), entries, ids)


def _said(mark: Mark) -> tuple[str, str]:
    """Return a mark's tag and words, with the sign of what nobody saw behind the first."""
    if not mark.unseen:
        return mark.tag, mark.words
    return (f"{mark.tag} {UNSEEN}", mark.words) if mark.tag else ("", f"{mark.words} {UNSEEN}")


def _body(mark: Mark, at: Point, reach: float, size: float) -> Box:
    """Return what a symbol covers; with a ring round it, the ring's square."""
    (x, y), half = at, size / 2
    if mark.ringed:
        return (x - reach, y - reach, x + reach, y + reach)
    left, top, right, bottom = extent(table("map_marks").values[mark.kind]["shape"], mark.turn)
    return (x + left * half, y + top * half, x + right * half, y + bottom * half)
