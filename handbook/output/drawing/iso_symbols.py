"""The symbols of an isometric drawing, drawn by us from plain shapes: one function a shape.

Each is drawn at a spot along a unit vector, in absolute numbers without transforms, so that what
is printed can be measured. Shapes tell them apart, never colour.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from handbook.output.drawing.iso_grid import Spot
from handbook.output.drawing.iso_pen import LONG, WIDE, Pen
from handbook.output.drawing.svg import INK

Draw = Callable[[Pen], list[str]]


def _bow(pen: Pen, fill: str = "#fff") -> list[str]:
    return [
        pen.shape((-LONG, WIDE), (-LONG, -WIDE), (0, 0), fill=fill),
        pen.shape((LONG, WIDE), (LONG, -WIDE), (0, 0), fill=fill),
    ]


def _gate(pen: Pen) -> list[str]:
    return _bow(pen)


def _closed(pen: Pen) -> list[str]:
    return _bow(pen, INK)


def _ball(pen: Pen) -> list[str]:
    return [*_bow(pen), pen.round(0, 0, 1.7)]


def _globe(pen: Pen) -> list[str]:
    return [*_bow(pen), pen.round(0, 0, 1.5, INK)]


def _plain(pen: Pen) -> list[str]:
    return [
        pen.shape((-LONG, WIDE), (LONG, WIDE), (LONG, -WIDE), (-LONG, -WIDE)),
        pen.line((-LONG, -WIDE), (LONG, WIDE)),
        pen.line((-LONG, WIDE), (LONG, -WIDE)),
    ]


def _butterfly(pen: Pen) -> list[str]:
    return [
        pen.shape((-2.4, WIDE), (2.4, WIDE), (2.4, -WIDE), (-2.4, -WIDE)),
        pen.line((-2.0, -WIDE), (2.0, WIDE)),
        pen.round(0, 0, 1.0, INK),
    ]


def _curb(pen: Pen) -> list[str]:
    return [
        pen.round(0, 0, 3.9),
        pen.shape((-3.4, 1.9), (-3.4, -1.9), (0, 0)),
        pen.shape((3.4, 1.9), (3.4, -1.9), (0, 0)),
    ]


def _angle(pen: Pen) -> list[str]:
    return [
        pen.shape((-LONG, WIDE), (-LONG, -WIDE), (0, 0)),
        pen.shape((-WIDE, 3.6), (WIDE, 3.6), (0, 0)),
        pen.line((0, 0), (LONG, 0)),
    ]


def _straight(pen: Pen) -> list[str]:
    return [*_bow(pen), pen.line((0, 0), (0, 3.4)), pen.line((-1.8, 3.4), (1.8, 3.4))]


def _push(pen: Pen) -> list[str]:
    return [*_bow(pen), pen.line((0, 0), (0, 2.6)), pen.round(0, 2.9, 0.9, INK)]


def _slot(pen: Pen) -> list[str]:
    return [pen.round(0, 0, 3.4), pen.line((-2.2, -2.2), (2.2, 2.2), width=1.2)]


def _waste(pen: Pen) -> list[str]:
    return [*_bow(pen), pen.line((0, 0), (0, -3.6)), pen.round(0, -3.0, 0.8, INK)]


def _motor(pen: Pen) -> list[str]:
    return [*_bow(pen), pen.shape((-1.6, 1.2), (1.6, 1.2), (1.6, 3.6), (-1.6, 3.6), fill=INK)]


def _lever(pen: Pen) -> list[str]:
    return [
        pen.round(0, 0, 3.9),
        pen.line((-3.9, 0), (3.9, 0)),
        pen.line((0, -3.9), (0, 3.9)),
    ]


def _meter(pen: Pen) -> list[str]:
    return [
        pen.round(0, 0, 4.0),
        pen.line((-2.2, -1.8), (-2.2, 1.8), (0, -0.6), (2.2, 1.8), (2.2, -1.8)),
    ]


def _reducing(pen: Pen) -> list[str]:
    dome = [
        (2.6 * math.cos(a * math.pi / 6), 1.6 + 2.2 * math.sin(a * math.pi / 6)) for a in range(7)
    ]
    return [*_bow(pen), pen.line((0, 0), (0, 1.6)), pen.shape(*dome)]


def _check(pen: Pen) -> list[str]:
    return [
        pen.shape((-LONG, WIDE), (-LONG, -WIDE), (LONG - 1, 0)),
        pen.line((LONG - 0.6, WIDE), (LONG - 0.6, -WIDE), width=1.2),
    ]


def _backflow(pen: Pen) -> list[str]:
    def one(u: float) -> list[str]:
        return [
            pen.shape((u, 1.9), (u, -1.9), (u + 2.9, 0), fill=INK),
            pen.line((u + 3.2, 1.9), (u + 3.2, -1.9)),
        ]

    frame = pen.shape((-LONG, 3.2), (LONG, 3.2), (LONG, -3.2), (-LONG, -3.2))
    return [frame, *one(-3.8), *one(0.4)]


def _filter(pen: Pen) -> list[str]:
    return [
        pen.shape((-LONG, WIDE), (LONG, WIDE), (LONG, -WIDE), (-LONG, -WIDE)),
        pen.line((-1.5, WIDE), (-1.5, -WIDE)),
        pen.line((1.5, WIDE), (1.5, -WIDE)),
    ]


def _pump(pen: Pen) -> list[str]:
    return [pen.round(0, 0, 4.0), pen.shape((-2.0, 3.2), (-2.0, -3.2), (3.9, 0), fill=INK)]


def _mixing(pen: Pen) -> list[str]:
    return [*_bow(pen), pen.shape((-2.4, -3.6), (2.4, -3.6), (0, 0))]


def _arrester(pen: Pen) -> list[str]:
    return [
        pen.line((-LONG, 0), (LONG, 0)),
        pen.shape((-1.4, 0), (1.4, 0), (1.4, 3.6), (-1.4, 3.6), fill=INK),
    ]


def _bulb(pen: Pen) -> list[str]:
    return [pen.round(0, 0, 4.2), pen.line((-2.9, 0), (2.9, 0))]


def _dot(pen: Pen) -> list[str]:
    return [pen.round(0, 0, 1.3, INK, 0.4)]


def _cap(pen: Pen) -> list[str]:
    return [pen.line((0, -WIDE), (0, WIDE), width=1.4)]


def _trap(pen: Pen) -> list[str]:
    bend = [(2.2 * math.cos(a * math.pi / 6), -2.2 * math.sin(a * math.pi / 6)) for a in range(7)]
    return [
        pen.round(0, 0, 3.6, "#fff", 0.6),
        pen.line((-2.2, 1.8), *bend[::-1], (2.2, 1.0), width=1.1),
    ]


def _plug(pen: Pen) -> list[str]:
    return [
        pen.round(0, 0, 3.8),
        pen.shape((-1.5, 1.5), (1.5, 1.5), (1.5, -1.5), (-1.5, -1.5), fill=INK),
    ]


def _half(pen: Pen) -> list[str]:
    arc = [(3.8 * math.cos(a * math.pi / 8), 3.8 * math.sin(a * math.pi / 8)) for a in range(9)]
    return [pen.round(0, 0, 3.8), pen.shape(*arc, fill=INK)]


def _rings(pen: Pen) -> list[str]:
    return [pen.round(0, 0, 3.8), pen.round(0, 0, 1.7)]


def _rings_bar(pen: Pen) -> list[str]:
    return [*_rings(pen), pen.line((-3.8, 0), (3.8, 0), width=1.1)]


def _vent(pen: Pen) -> list[str]:
    return [pen.line((-3.6, 0), (3.6, 0), width=1.2), pen.line((-2.2, 1.8), (2.2, 1.8), width=1.2)]


def _admit(pen: Pen) -> list[str]:
    return [pen.shape((-3.2, 0), (3.2, 0), (0, 4.0))]


def _open(pen: Pen) -> list[str]:
    return [pen.round(0, 0, 2.4)]


def _header(pen: Pen) -> list[str]:
    return [pen.line((-6, 0), (6, 0), width=3.0)]


def _beyond(pen: Pen) -> list[str]:
    return [pen.shape((-3.6, 2.4), (1.2, 2.4), (3.8, 0), (1.2, -2.4), (-3.6, -2.4))]


SHAPES: dict[str, Draw] = {
    "gate": _gate,
    "closed": _closed,
    "ball": _ball,
    "globe": _globe,
    "plain": _plain,
    "butterfly": _butterfly,
    "curb": _curb,
    "angle": _angle,
    "straight": _straight,
    "push": _push,
    "slot": _slot,
    "waste": _waste,
    "motor": _motor,
    "lever": _lever,
    "meter": _meter,
    "reducing": _reducing,
    "check": _check,
    "backflow": _backflow,
    "filter": _filter,
    "pump": _pump,
    "mixing": _mixing,
    "arrester": _arrester,
    "bulb": _bulb,
    "dot": _dot,
    "cap": _cap,
    "trap": _trap,
    "plug": _plug,
    "half": _half,
    "rings": _rings,
    "rings-bar": _rings_bar,
    "vent": _vent,
    "admit": _admit,
    "open": _open,
    "header": _header,
    "beyond": _beyond,
}


def draw(shape: str, spot: Spot, unit: Spot) -> list[str]:
    """Return the SVG of a shape at a spot, along a unit vector."""
    return SHAPES[shape](Pen(spot, unit))
