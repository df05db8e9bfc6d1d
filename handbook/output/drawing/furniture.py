"""What stands under every plan: the scale bar, in the house's units, and the north arrow."""

from __future__ import annotations

from math import cos, radians, sin

from handbook.measures import MM_PER_INCH
from handbook.output.drawing import svg
from handbook.output.drawing.metrics import width
from handbook.output.drawing.sheet import Frame, Sheet

STEPS = (1, 2, 5, 10, 20, 50, 100, 200)
SHARE = 0.3
"""A scale bar takes at most this share of the sheet's width."""

NORTH = 13.0
"""Half the height of the north arrow, in units."""


def _bar_length(frame: Frame, sheet: Sheet, *, metric: bool) -> tuple[int, float]:
    """Return how much the scale bar shows, in feet or metres, and how long it is drawn."""
    one = frame.long(1000 / MM_PER_INCH if metric else 12.0)
    shown = max((s for s in STEPS if s * one <= sheet.wide * SHARE), default=STEPS[0])
    return shown, shown * one


def scale_bar(frame: Frame, sheet: Sheet, top: float, *, metric: bool) -> str:
    """Return the scale bar: a black and a white half, with words for none, half and all of it."""
    shown, long = _bar_length(frame, sheet, metric=metric)
    left, high, half = sheet.margin, 4.0, long / 2
    unit = "m" if metric else "ft"
    marks = ((0.0, "0"), (half, f"{shown / 2:g}"), (long, f"{shown} {unit}"))
    base = top + high + sheet.word * 1.05
    words = [
        svg.text(said, left + at - width(said.split()[0], sheet.word) / 2, base, sheet.word)
        for at, said in marks
    ]
    box = _rectangle(left, top, long, high)
    return svg.group(
        "m-scale",
        (
            svg.fill(box, "m-bar", "#fff"),
            svg.stroke(box, "m-bar-edge", 0.8),
            svg.fill(_rectangle(left, top, half, high), "m-bar-half"),
            *words,
        ),
    )


def north_arrow(north: float, sheet: Sheet, right: float, middle: float) -> str:
    """Return an arrow to the north, `north` degrees clockwise from the top, with its letter."""
    turn = radians(north)
    ux, uy = sin(turn), -cos(turn)
    x, y = right - NORTH - sheet.word, middle
    tip, foot = (x + ux * NORTH * 0.55, y + uy * NORTH * 0.55), (x - ux * NORTH, y - uy * NORTH)
    wide = width("N", sheet.word, "Bold")
    far = NORTH * 0.55 + sheet.word * 0.8
    letter = (x + ux * far - wide / 2, y + uy * far + sheet.word * 0.33)
    return svg.group(
        "m-north",
        (
            svg.stroke(svg.path((foot, tip)), "m-shaft", 1.1),
            svg.fill(svg.arrow(tip, (ux, uy), 9), "m-head"),
            svg.text("N", *letter, sheet.word, "Bold"),
        ),
    )


def _rectangle(left: float, top: float, wide: float, high: float) -> str:
    right, bottom = left + wide, top + high
    return svg.path(((left, top), (right, top), (right, bottom), (left, bottom)), closed=True)
