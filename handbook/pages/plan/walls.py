"""Walls with thickness from the outlines of rooms, and the openings that doors cut into them.

A record gives rooms, not walls: outlines run to the middle of inner walls and to the outer face
of outer ones. A side with a room on both hands is an inner wall, centred on it; a side with a room
on one hand alone is an outer wall, drawn inside it. They are drawn as thick as the record has them
(`levels: wall_thickness`); where it has nothing, by the convention of the table `map_walls`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, hypot, pi

from handbook.pages.plan.geometry import edges, tidy, twice_area
from handbook.pages.plan.shapes import Outline, Point
from handbook.record.grammar.places import WallThickness
from handbook.tables import table

NEAR = 1.5
"""Inches within which two sides lie on one line, and two corners are one."""


@dataclass(frozen=True)
class Line:
    """A straight line: its direction, and how far to the left of the origin it runs."""

    direction: Point
    offset: float

    def at(self, along: float, left: float = 0.0) -> Point:
        """Return the point `along` the line, moved to its left."""
        (dx, dy), aside = self.direction, self.offset + left
        return (dx * along - dy * aside, dy * along + dx * aside)

    def along(self, point: Point) -> float:
        """Return how far along the line a point lies."""
        return self.direction[0] * point[0] + self.direction[1] * point[1]

    def left(self, point: Point) -> float:
        """Return how far to the left of the line a point lies."""
        return self.direction[0] * point[1] - self.direction[1] * point[0] - self.offset


@dataclass(frozen=True)
class Side:
    """One side of one room: where it runs on its line, and whether the room is to the left."""

    room: str
    start: float
    end: float
    left: bool


@dataclass(frozen=True)
class Thick:
    """How thick inner and outer walls are drawn, in inches; `taken` are those of the two, `inside`
    and `outside`, for which that is a convention."""

    inner: float
    outer: float
    taken: tuple[str, ...] = ()

    @classmethod
    def of(cls, recorded: WallThickness | None) -> "Thick":
        """Return what is recorded, no less than can be seen; by the convention what is not."""
        usual, known = table("map_walls").values, recorded or WallThickness()
        least = usual["least_in"]
        inner = max(known.inside.inches, least) if known.inside else usual["inner_in"]
        outer = max(known.outside.inches, least) if known.outside else usual["outer_in"]
        both = (("inside", known.inside), ("outside", known.outside))
        return cls(inner, outer, tuple(kind for kind, found in both if found is None))


@dataclass(frozen=True)
class Wall:
    """A straight wall: its line, from where to where, thick by how much, `shift` to the left."""

    line: Line
    start: float
    end: float
    thick: float
    shift: float
    sides: tuple[Side, ...]

    @property
    def outer(self) -> bool:
        """Whether it lies inside its line, as an outer wall does."""
        return self.shift != 0

    def piece(self, start: float, end: float) -> Outline:
        """Return the corners of a part of the wall."""
        half = self.thick / 2
        low, high = self.shift - half, self.shift + half
        ends = ((start, low), (end, low), (end, high), (start, high))
        return tidy(self.line.at(along, left) for along, left in ends)


def walls(rooms: Iterable[tuple[str, Outline]], thick: Thick) -> list[Wall]:
    """Return the walls round some rooms, given as (id, outline)."""
    sides = _by_line(
        (room, *edge) for room, outline in rooms for edge in _counterclockwise(outline)
    )
    found = [wall for line, here in sides.items() for wall in _joined(line, here, thick)]
    return [_with_corners(wall, found) for wall in found]


def nearest(found: Sequence[Wall], at: Point, within: float) -> Wall | None:
    """Return the wall on whose length a point lies, at most `within` inches off its line."""
    near = [w for w in found if w.start <= w.line.along(at) <= w.end]
    near = [w for w in near if abs(w.line.left(at)) <= within]
    return min(near, key=lambda wall: abs(wall.line.left(at)), default=None)


def _counterclockwise(outline: Outline) -> list[tuple[Point, Point]]:
    """Return the sides of an outline with its inside to the left."""
    return edges(outline if twice_area(outline) > 0 else tuple(reversed(outline)))


def _by_line(sides: Iterable[tuple[str, Point, Point]]) -> dict[Line, list[Side]]:
    """Gather sides that lie on one line, whichever way they run."""
    found: dict[Line, list[Side]] = {}
    for room, a, b in sides:
        length = hypot(b[0] - a[0], b[1] - a[1])
        if length < NEAR:
            continue
        dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        back = (dx, dy) < (0, 0) or atan2(dy, dx) > pi - 1e-6
        dx, dy = (-dx, -dy) if back else (dx, dy)
        line = Line((dx, dy), dx * a[1] - dy * a[0])
        line = next((known for known in found if _same(line, known)), line)
        start, end = sorted((line.along(a), line.along(b)))
        found.setdefault(line, []).append(Side(room, start, end, left=not back))
    return found


def _same(a: Line, b: Line) -> bool:
    turned = abs(a.direction[0] * b.direction[1] - a.direction[1] * b.direction[0])
    return turned < 0.01 and abs(a.offset - b.offset) < NEAR


def _joined(line: Line, sides: list[Side], drawn: Thick) -> list[Wall]:
    """Return the walls on one line, each as long as it stays of one kind."""
    found: list[Wall] = []
    stops = _stops(sides)
    for start, end in pairwise(stops):
        middle = (start + end) / 2
        here = tuple(side for side in sides if side.start < middle < side.end)
        if not here:
            continue
        thick, shift = _thickness(here, drawn)
        last = found[-1] if found else None
        if last and last.end == start and (last.thick, last.shift) == (thick, shift):
            both = tuple(dict.fromkeys((*last.sides, *here)))
            found[-1] = Wall(line, last.start, end, thick, shift, both)
        else:
            found.append(Wall(line, start, end, thick, shift, here))
    return found


def _thickness(here: tuple[Side, ...], drawn: Thick) -> tuple[float, float]:
    """Return how thick a wall is, and how far its middle lies to the left of its line."""
    if len({side.left for side in here}) == 2:
        return drawn.inner, 0.0
    half = drawn.outer / 2
    return drawn.outer, half if here[0].left else -half


def _stops(sides: list[Side]) -> list[float]:
    """Return where sides begin or end, those nearly at one place as one."""
    found: list[float] = []
    for stop in sorted(stop for side in sides for stop in (side.start, side.end)):
        if not found or stop - found[-1] > NEAR:
            found.append(stop)
    return found


def _with_corners(wall: Wall, others: list[Wall]) -> Wall:
    """Lengthen an inner wall by half its thickness, so that corners close; never outdoors."""
    if wall.outer:
        return wall
    more = wall.thick / 2
    start, end = (
        0.0 if _meets_outer(wall.line.at(along), others) else more
        for along in (wall.start, wall.end)
    )
    return Wall(wall.line, wall.start - start, wall.end + end, wall.thick, wall.shift, wall.sides)


def _meets_outer(at: Point, others: list[Wall]) -> bool:
    return any(
        wall.outer
        and abs(wall.line.left(at)) < NEAR
        and wall.start - NEAR <= wall.line.along(at) <= wall.end + NEAR
        for wall in others
    )
