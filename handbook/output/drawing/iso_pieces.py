"""Pieces of a riser diagram as SVG: text, pipes broken where another runs in front, frames."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from markupsafe import escape

from handbook.output.drawing.iso_grid import Box, Spot
from handbook.output.drawing.iso_pen import Pen, points
from handbook.output.drawing.iso_text import Text
from handbook.output.drawing.svg import INK, num
from handbook.tables import table

BREAK = 3.2
"""Points that a pipe is left out on either side of one in front of it."""

GRAY = "#666"


def text(line: Text) -> str:
    """Return a line of text."""
    weight = ' font-weight="700"' if line.bold else ""
    return (
        f'<text x="{num(line.x)}" y="{num(line.y)}" font-size="{num(line.size)}"{weight}>'
        f"{escape(line.words)}</text>"
    )


def pipe_lines(line: Sequence[Spot], gaps: Sequence[Spot], style: str) -> Iterator[str]:
    """Yield a pipe's line, broken where another runs in front of it."""
    row = table("riser_lines").values[style]
    dash = f' stroke-dasharray="{" ".join(map(num, row["dash"]))}"' if row["dash"] else ""
    for piece in pieces(list(line), list(gaps)):
        yield (
            f'<polyline class="pipe" points="{points(piece)}" fill="none" stroke="{row["color"]}" '
            f'stroke-width="{num(row["width"])}"{dash} stroke-linejoin="round"/>'
        )


def pieces(line: list[Spot], gaps: list[Spot]) -> Iterator[list[Spot]]:
    """Yield the parts of a line that are left with gaps cut out round these spots on it."""
    piece = [line[0]]
    for a, b in itertools.pairwise(line):
        length = math.dist(a, b) or 1.0
        unit = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
        for t in sorted(t for g in gaps if (t := _along(a, unit, length, g)) is not None):
            piece.append((a[0] + unit[0] * (t - BREAK), a[1] + unit[1] * (t - BREAK)))
            yield piece
            piece = [(a[0] + unit[0] * (t + BREAK), a[1] + unit[1] * (t + BREAK))]
        piece.append(b)
    yield piece


def _along(a: Spot, unit: Spot, length: float, spot: Spot) -> float | None:
    t = (spot[0] - a[0]) * unit[0] + (spot[1] - a[1]) * unit[1]
    off = abs((spot[0] - a[0]) * unit[1] - (spot[1] - a[1]) * unit[0])
    return t if off < 0.1 and 0 < t < length else None


def arrow(spot: Spot, unit: Spot, color: str) -> str:
    """Return a flow arrow on the line."""
    pen = Pen(spot, unit)
    where = points([pen.at(3.2, 0), pen.at(-2.6, 2.1), pen.at(-2.6, -2.1)])
    return f'<polygon class="arrow" points="{where}" fill="{color}"/>'


def group(kind: str, parts: Sequence[str], things: Sequence[str] = ()) -> str:
    """Return parts that belong together, and stand for these things of the record."""
    named = f' data-thing="{escape(" ".join(things))}"' if things else ""
    return f'<g class="{kind}"{named}>{"".join(parts)}</g>'


def shape_of(symbol: str) -> str:
    """Return the shape that a symbol is drawn as."""
    row = table("riser_marks").values
    return "closed" if symbol.endswith(":closed") else str(row[symbol]["shape"])


def frame(shape: str, box: Box) -> list[str]:
    """Return a frame of a fixture, of equipment or of an end."""

    def rect(b: Box, r: float) -> str:
        return (
            f'<rect x="{num(b.left)}" y="{num(b.top)}" width="{num(b.right - b.left)}" '
            f'height="{num(b.bottom - b.top)}" rx="{num(r)}" fill="#fff" stroke="{INK}" '
            f'stroke-width="0.7"/>'
        )

    if shape == "frame-double":
        return [rect(box, 0), rect(box.grown(-1.3), 0)]
    return [rect(box, 5 if shape == "frame-round" else 0)]


def floor(left: float, right: float, y: float) -> str:
    """Return a floor line."""
    return (
        f'<line class="floor" x1="{num(left)}" y1="{num(y)}" x2="{num(right)}" y2="{num(y)}" '
        f'stroke="{GRAY}" stroke-width="0.5"/>'
    )


def wall(a: Spot, b: Spot) -> str:
    """Return the line of an outer wall."""
    return (
        f'<line class="wall" x1="{num(a[0])}" y1="{num(a[1])}" x2="{num(b[0])}" y2="{num(b[1])}" '
        f'stroke="{GRAY}" stroke-width="0.6" stroke-dasharray="1 3"/>'
    )
