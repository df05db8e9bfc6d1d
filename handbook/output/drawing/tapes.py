"""How two tapes find a thing, as a small sketch: each swung from its corner at its length, they
meet where the two arcs cross. Not to scale; the words on it are a real tie's.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, hypot, sin

from handbook.output.drawing import svg
from handbook.output.drawing.metrics import width
from handbook.output.fonts import FAMILY
from handbook.pages.content import Tapes
from handbook.pages.plan.shapes import Point

WIDE, HIGH = 460.0, 118.0
FIRST, SECOND, MEET = (120.0, 16.0), (330.0, 16.0), (196.0, 92.0)
"""Where the corners and the thing lie on the sketch."""

WALL = 5.0
SWING = 0.2
"""How far each tape's arc runs to either side of the place, in radians."""

TYPE = 9.0


def drawn(tapes: Tapes) -> str:
    """Return the SVG of the sketch."""
    pieces = "".join((*_wall(), *_lines(), *_words(tapes)))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {svg.num(WIDE)} {svg.num(HIGH)}" '
        f'font-family="{FAMILY}" font-size="{svg.num(TYPE)}" fill="{svg.INK}">{pieces}</svg>'
    )


def _wall() -> Iterator[str]:
    left, right, top = FIRST[0], SECOND[0], FIRST[1] - WALL
    box = ((left, top), (right, top), (right, FIRST[1]), (left, FIRST[1]))
    yield svg.fill(svg.path(box, closed=True), "t-wall", svg.WALL)
    for x, y in (FIRST, SECOND):
        corner = ((x - 2.5, y - 2.5), (x + 2.5, y - 2.5), (x + 2.5, y + 2.5), (x - 2.5, y + 2.5))
        yield svg.fill(svg.path(corner, closed=True), "t-corner")


def _lines() -> Iterator[str]:
    for corner in (FIRST, SECOND):
        yield svg.stroke(svg.path((corner, MEET)), "t-tape", 0.9)
        yield svg.stroke(svg.path(_arc(corner)), "t-arc", 0.7, dash=(3.0, 2.2))
    yield f'<circle cx="{svg.num(MEET[0])}" cy="{svg.num(MEET[1])}" r="3.6"/>'


def _arc(corner: Point) -> list[Point]:
    """Return points along the arc on which a tape's end swings, to both sides of the place."""
    dx, dy = MEET[0] - corner[0], MEET[1] - corner[1]
    reach, toward = hypot(dx, dy), atan2(dy, dx)
    turns = [toward + SWING * i / 8 for i in range(-8, 9)]
    return [(corner[0] + reach * cos(t), corner[1] + reach * sin(t)) for t in turns]


def _words(tapes: Tapes) -> Iterator[str]:
    """Yield the corners' names above the wall's ends, the lengths beside the tapes, the thing."""
    for words, (x, y), before in (
        (tapes.corners[0], FIRST, True),
        (tapes.corners[1], SECOND, False),
    ):
        left = x - 7 - width(words, TYPE) if before else x + 7
        yield svg.text(words, left, y + 3, TYPE)
    for words, (x, y), before in (
        (tapes.lengths[0], FIRST, True),
        (tapes.lengths[1], SECOND, False),
    ):
        half = ((x + MEET[0]) / 2, (y + MEET[1]) / 2)
        left = half[0] - 8 - width(words, TYPE, "Bold") if before else half[0] + 8
        yield svg.text(words, left, half[1] + 9, TYPE, "Bold")
    yield svg.text(tapes.thing, MEET[0] + 16, MEET[1] + 14, TYPE, "Bold")
