"""What a map is drawn on, and where a point of the plan comes to lie on it.

Paper is measured in points (72 to the inch), a phone in its own pixels; both are the unit of the
SVG, so that on paper a type size in it is that type size.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import hypot

from handbook.pages.plan.shapes import Mark, Plan, Point

Box = tuple[float, float, float, float]
"""(left, top, right, bottom) on the sheet, y downward."""


@dataclass(frozen=True)
class Sheet:
    """A size of map: how wide, how high the plan may become, the sizes of type and symbols.

    `tag` is the size of tags, `word` that of all other words, `mark` the side of a symbol.
    `margin` is left free round the plan for labels. A `terse` sheet names pipes without their
    sizes.
    """

    wide: float
    high: float
    tag: float
    word: float
    mark: float
    margin: float
    unit: str
    terse: bool = False
    tall: float = 612.0
    """How high a drawing may be with all that stands under its plan: 8.5 in of a page's 9.2 in,
    the rest being its title's."""


PAPER = Sheet(496.8, 460.0, 8.5, 7.5, 10.0, 22.0, "pt")
"""6.9 in of a letter page, the width of its tables with their tags in the margin."""

PAPER_HALF = Sheet(496.8, 250.0, 8.5, 7.5, 10.0, 22.0, "pt", tall=282.0)
"""Half a page high with its title and a note: two stand on a page of maps, which is 9.9 in high."""

PAPER_SMALL = Sheet(258.0, 170.0, 8.5, 7.5, 9.0, 12.0, "pt", terse=True, tall=195.0)
"""3.6 in: two side by side, three rows on a page of maps."""

PHONE = Sheet(324.0, 470.0, 11.0, 10.0, 11.5, 18.0, "px", terse=True, tall=10_000.0)
"""A screen 360 px wide, less the page's margins of 18 px."""

SHEETS = {
    ("print", "small"): PAPER_SMALL,
    ("web", "small"): PHONE,
    ("print", "full"): PAPER,
    ("print", "half"): PAPER_HALF,
    ("web", "full"): PHONE,
    ("web", "half"): PHONE,
}
"""The sheet of each medium and size of map."""

LARGEST = 3.0
"""Units of the sheet an inch of the plan may take at most (1/2 in to the foot on paper)."""


@dataclass(frozen=True)
class Frame:
    """Where the plan lies on its sheet: `scale` units an inch; the plan's `left` and `top` edges
    come to lie at `x` and `y`. `height` is how high the drawing is, margins included."""

    scale: float
    left: float
    top: float
    x: float
    y: float
    height: float

    def at(self, point: Point) -> Point:
        """Return where a point of the plan lies on the sheet, y downward."""
        across, down = point[0] - self.left, self.top - point[1]
        return (round(self.x + across * self.scale, 2), round(self.y + down * self.scale, 2))

    def line(self, points: Iterable[Point]) -> list[Point]:
        """Return where a line of points lies."""
        return [self.at(point) for point in points]

    def long(self, inches: float) -> float:
        """Return how long a length of the plan is on the sheet."""
        return inches * self.scale


def fit(plan: Plan, sheet: Sheet, more: float = 0.0) -> Frame:
    """Lay a plan on the middle of a sheet as large as it goes, with `more` margin than usual above
    and below it, and a fifth of that beside it."""
    xs, ys = zip(*_points(plan), strict=True)
    wide, high = max(max(xs) - min(xs), 12.0), max(max(ys) - min(ys), 12.0)
    beside = sheet.margin + min(more, 60.0) / 5
    scale = min((sheet.wide - 2 * beside) / wide, sheet.high / high, LARGEST)
    x, y = (sheet.wide - wide * scale) / 2, sheet.margin + more
    return Frame(scale, min(xs), max(ys), round(x, 2), y, round(high * scale + 2 * y, 2))


def _points(plan: Plan) -> Iterator[Point]:
    """Every point that must be on the sheet."""
    for outline in (*(room.outline for room in plan.rooms), *plan.walls, *plan.ways):
        yield from outline
    yield from (mark.at for mark in plan.marks)
    yield from (point for flight in plan.flights for point in flight.outline)
    yield from (point for pipe in plan.pipes for point in pipe.points)
    yield from (point for tie in plan.ties for point in (tie.corner, tie.to))
    for door in plan.doors:
        yield from (point for point in (*door.jambs, door.tip) if point)


@dataclass(frozen=True)
class Standing:
    """A mark as it stands on the sheet: where, half its side, what its symbol covers, every tag
    and word beside it; `home` is where its thing really is."""

    mark: Mark
    at: Point
    reach: float
    body: Box
    entries: tuple[tuple[str, str], ...]
    ids: tuple[str, ...]
    home: Point

    @property
    def moved(self) -> bool:
        """Whether it stands so far from its thing's place that it no longer covers it."""
        return max(abs(self.at[i] - self.home[i]) for i in (0, 1)) > self.reach


def gap(a: Point, b: Point) -> float:
    """Return how far two points of the sheet are apart."""
    return hypot(a[0] - b[0], a[1] - b[1])
