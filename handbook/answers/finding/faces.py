"""Where the finished walls of a room meet: the corners that a tape can be held to.

A room's outline runs through the middle of a wall that two rooms share and along the outer face of
an outside wall; how thick these are the record may say (`levels: wall_thickness`). What it does not
say is not taken off. Of an outline that neither touches another room's nor lies on the building's
it is taken that it is the finished face.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import dist

from handbook.answers.finding.sight import XY, Outline, is_inside, off
from handbook.house.house import House
from handbook.record.grammar.common import each
from handbook.record.grammar.places import WallThickness

BEYOND = 1.0
"""Inches past a line at which another room is looked for, and from the building's line to it."""
BESIDE = 6.0
"""Inches from a corner at which it is looked what its wall is: a wall may go on along two rooms."""


@dataclass(frozen=True)
class Faces:
    """A room's finished outline, in inches; which of its walls, `inside` or `outside`, have been
    taken off, and of which the thickness is not recorded."""

    outline: tuple[XY, ...]
    known: tuple[str, ...]
    unknown: tuple[str, ...]


def faces(house: House, room: str) -> Faces:
    """Return the finished outline of a room that has an outline."""
    entry, level = house.places.rooms[room]
    around = _ring([(point.x, point.y) for point in entry.outline or ()])
    others = [
        [(point.x, point.y) for point in other.outline]
        for other in each(level.rooms)
        if other.id != room and other.outline
    ]
    site = house.record.site
    building = [(point.x, point.y) for point in (site.building or ())] if site else []
    thick = level.wall_thickness or WallThickness()
    inches = {
        "inside": thick.inside.inches / 2 if thick.inside else None,
        "outside": thick.outside.inches if thick.outside else None,
    }
    corners, met = [], set[str]()
    for place, corner in enumerate(around):
        before, after = around[place - 1], around[(place + 1) % len(around)]
        walls = [_kind(around, corner, end, others, building) for end in (before, after)]
        met |= set(walls)
        back, on = (inches.get(wall) or 0.0 for wall in walls)
        corners.append(_moved(before, corner, after, back, on))
    kinds = tuple(kind for kind in inches if kind in met)
    known = tuple(kind for kind in kinds if inches[kind] is not None)
    return Faces(tuple(corners), known, tuple(kind for kind in kinds if kind not in known))


def _ring(outline: Outline) -> list[XY]:
    """The corners, counterclockwise: what lies inside is to the left."""
    ring = list(outline)
    twice = sum(
        ax * by - bx * ay for (ax, ay), (bx, by) in zip(ring, [*ring[1:], *ring[:1]], strict=True)
    )
    return ring if twice > 0 else ring[::-1]


def _kind(around: list[XY], corner: XY, end: XY, others: list[list[XY]], building: list[XY]) -> str:
    """Which wall runs from a corner toward another: `inside`, `outside` or neither."""
    far = dist(corner, end)
    step = min(BESIDE, far / 2) / far
    probe = (corner[0] + (end[0] - corner[0]) * step, corner[1] + (end[1] - corner[1]) * step)
    dx, dy = (end[1] - corner[1]) / far * BEYOND, (corner[0] - end[0]) / far * BEYOND
    beside = [(probe[0] + sign * dx, probe[1] + sign * dy) for sign in (1, -1)]
    (outward, *_) = [point for point in beside if not is_inside(around, point)] or beside
    if any(is_inside(other, outward) for other in others):
        return "inside"
    return "outside" if building and off(building, probe) < BEYOND else ""


def _moved(before: XY, corner: XY, after: XY, back: float, on: float) -> XY:
    """Where a corner lies once the wall before it and the wall after it are moved inward."""
    (ax, ay), (bx, by) = _along(before, corner), _along(corner, after)
    turn = ax * by - ay * bx
    if abs(turn) < 1e-6:  # no corner: both walls run on in one line
        return corner[0] - ay * on, corner[1] + ax * on
    # The corner plus a step along each wall, so that it is `back` and `on` inside of them.
    share_a, share_b = -on / turn, back / turn
    return corner[0] + share_a * ax + share_b * bx, corner[1] + share_a * ay + share_b * by


def _along(a: XY, b: XY) -> XY:
    far = dist(a, b)
    return (b[0] - a[0]) / far, (b[1] - a[1]) / far
