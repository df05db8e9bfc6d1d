"""Doors: the gaps that they leave in walls, and how a leaf swings.

The record says where an opening is, how wide and into which room its door swings, not on which
side it is hinged; it is drawn hinged where it stands open against the nearer wall.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from handbook.pages.plan.geometry import point, tidy
from handbook.pages.plan.shapes import Door, Outline, Point
from handbook.pages.plan.walls import Side, Wall, nearest
from handbook.record.fields import Absent
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.places import Door as Recorded
from handbook.tables import table

OFF = 12.0
"""Inches that a door's recorded middle may lie off the line of its wall."""


@dataclass(frozen=True)
class Fabric:
    """What stands of a level: pieces of wall, doors, and what had to be taken for granted."""

    walls: tuple[Outline, ...]
    doors: tuple[Door, ...]
    unplaced: int = 0
    width_taken: bool = False
    hinge_taken: bool = False


def fabric(found: Sequence[Wall], doors: Iterable[Recorded]) -> Fabric:
    """Cut the doors into the walls and return what is left of both."""
    gaps: dict[int, list[tuple[float, float]]] = {}
    drawn: list[Door] = []
    unplaced, width_taken = 0, False
    for door in doors:
        wall = nearest(found, point(door.at), OFF) if door.at else None
        if wall is None or door.at is None:
            unplaced += 1
            continue
        width_taken |= door.width is None
        width = door.width.inches if door.width else table("map_walls").values["opening_in"]
        middle = wall.line.along(point(door.at))
        gap = (max(middle - width / 2, wall.start), min(middle + width / 2, wall.end))
        gaps.setdefault(found.index(wall), []).append(gap)
        drawn.append(_door(wall, gap, door))
    pieces = [
        wall.piece(start, end)
        for number, wall in enumerate(found)
        for start, end in _left_over(wall, gaps.get(number, []))
    ]
    hinged = any(door.hinge for door in drawn)
    return Fabric(tuple(pieces), tuple(drawn), unplaced, width_taken, hinged)


def _left_over(wall: Wall, gaps: list[tuple[float, float]]) -> Iterable[tuple[float, float]]:
    start = wall.start
    for low, high in sorted(gaps):
        if low > start:
            yield start, low
        start = max(start, high)
    if wall.end > start:
        yield start, wall.end


def _door(wall: Wall, gap: tuple[float, float], door: Recorded) -> Door:
    line, shift = wall.line, wall.shift
    jambs = (line.at(gap[0], shift), line.at(gap[1], shift))
    left = _swings_left(wall, gap, door)
    if left is None:
        return Door(_pair(jambs))
    near = _hinged_at_start(wall, gap, door, left)
    hinge, shut = gap if near else (gap[1], gap[0])
    face = shift + (wall.thick / 2 if left else -wall.thick / 2)
    out = face + (gap[1] - gap[0]) * (1 if left else -1)
    swing = tidy((line.at(hinge, face), line.at(hinge, out), line.at(shut, face)))
    return Door(_pair(jambs), *swing)


def _pair(points: tuple[Point, Point]) -> tuple[Point, Point]:
    a, b = tidy(points)
    return a, b


def _swings_left(wall: Wall, gap: tuple[float, float], door: Recorded) -> bool | None:
    """Whether a door swings to the left of its wall's line; None where it does not, or nobody
    recorded it."""
    into = door.swings_into
    if into is None or isinstance(into, Absent):
        return None
    here = _beside(wall, gap)
    if into == OUTSIDE:
        return not here[0].left if here else None
    return next((side.left for side in here if side.room == into), None)


def _hinged_at_start(wall: Wall, gap: tuple[float, float], door: Recorded, left: bool) -> bool:
    """Whether the wall at the start of the gap is the nearer one to stand open against."""
    here = _beside(wall, gap)
    for side in sorted(here, key=lambda side: side.left != left):
        before, after = gap[0] - side.start, side.end - gap[1]
        if abs(before - after) > 0.5:
            return before < after
    return True


def _beside(wall: Wall, gap: tuple[float, float]) -> list[Side]:
    middle = (gap[0] + gap[1]) / 2
    return [side for side in wall.sides if side.start < middle < side.end]
