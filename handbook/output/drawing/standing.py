"""Where symbols stand when things are too close together for the map's scale.

Things of one kind and one room whose symbols would cover each other share one symbol, with all
their tags beside it. Different symbols that would touch are moved apart by as little as does it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from handbook.output.drawing.sheet import Frame, Standing, gap
from handbook.pages.plan.shapes import Mark, Point

SHARED = 0.75
"""Share of a symbol's side within which two things of one kind share a symbol."""

APART = 1.2
"""Units that two symbols stay apart."""

RING = 1.7
"""How far the ring round the thing that a map is about reaches, in half sides of its symbol."""

ROUNDS = 400


def standing(marks: Sequence[Mark], frame: Frame, size: float) -> list[Standing]:
    """Return the marks as they stand on the sheet, none touching another."""
    groups = _groups(marks, frame, size)
    spots = [_middle([frame.at(mark.at) for mark in group]) for group in groups]
    reaches = [size / 2 * (RING if any(m.ringed for m in group) else 1.0) for group in groups]
    spots = _apart(spots, reaches)
    return [_standing(*found) for found in zip(groups, spots, reaches, strict=True)]


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


def _apart(spots: list[Point], reaches: list[float]) -> list[Point]:
    """Push apart what stands too close, pair by pair, until nothing does."""
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


def _standing(group: list[Mark], at: Point, reach: float) -> Standing:
    ordered = sorted(group, key=lambda mark: (-mark.rank, by_number(mark.tag), mark.words))
    entries = tuple(dict.fromkeys((m.tag, m.words) for m in ordered if m.tag or m.words))
    ids = tuple(one for mark in ordered for one in mark.ids)
    return Standing(ordered[0], (round(at[0], 2), round(at[1], 2)), reach, entries, ids)
