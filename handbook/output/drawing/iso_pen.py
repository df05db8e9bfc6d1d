"""Draws the plain shapes that the symbols of an isometric drawing are made of, along a pipe."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.output.drawing.iso_grid import Spot
from handbook.output.drawing.svg import INK, num

LONG, WIDE = 4.6, 2.9
"""Half the length and half the breadth of a valve."""


def points(spots: Sequence[Spot]) -> str:
    """Return spots as an attribute."""
    return " ".join(f"{num(x)},{num(y)}" for x, y in spots)


class Pen:
    """Draws in the symbol's own axes: `u` along the pipe, `v` to its side (upward where it can)."""

    def __init__(self, spot: Spot, unit: Spot) -> None:
        self.spot, self.unit = spot, unit
        ux, uy = unit
        self.side = (uy, -ux) if ux >= 0 else (-uy, ux)

    def at(self, u: float, v: float = 0.0) -> Spot:
        """Return the spot on the sheet."""
        (ux, uy), (vx, vy) = self.unit, self.side
        return self.spot[0] + u * ux + v * vx, self.spot[1] + u * uy + v * vy

    def shape(self, *spots: Spot, fill: str = "#fff", width: float = 0.8) -> str:
        """Return a closed shape."""
        where = points([self.at(*spot) for spot in spots])
        return (
            f'<polygon points="{where}" fill="{fill}" stroke="{INK}" '
            f'stroke-width="{num(width)}" stroke-linejoin="round"/>'
        )

    def line(self, *spots: Spot, width: float = 0.8) -> str:
        """Return an open line."""
        where = points([self.at(*spot) for spot in spots])
        return (
            f'<polyline points="{where}" fill="none" stroke="{INK}" stroke-width="{num(width)}"/>'
        )

    def round(self, u: float, v: float, r: float, fill: str = "#fff", width: float = 0.8) -> str:
        """Return a circle."""
        x, y = self.at(u, v)
        return (
            f'<circle cx="{num(x)}" cy="{num(y)}" r="{num(r)}" fill="{fill}" '
            f'stroke="{INK}" stroke-width="{num(width)}"/>'
        )
