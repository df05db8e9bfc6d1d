"""Small pieces of SVG as text, with numbers as short as they can be and every word escaped.

All looks stand in attributes, never in styles: the phone pages allow none, and the PDF writer
knows no variables and no halos.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import escape

from handbook.output.drawing.metrics import Face
from handbook.pages.plan.shapes import Point

FACES = {"Regular": "", "Bold": ' font-weight="700"', "Italic": ' font-style="italic"'}

INK = "#161616"
QUIET = "#3a3a3a"
WALL = "#8c8c8c"
"""Gray of walls: 3.4 to 1 against white, above the 3 to 1 that WCAG 2.2 (1.4.11) asks of what
has to be seen, and light enough that black symbols stand out on it."""
WAY = "#005387"
"""Signal blue (ISO 3864, RAL 5005), 8.1 to 1 against white: black enough without colour."""


def num(value: float) -> str:
    """Return a number with at most two decimals: `12`, `0.5`."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path(points: Sequence[Point], *, closed: bool = False) -> str:
    """Return the path data of a line of points."""
    return "M" + "L".join(f"{num(x)} {num(y)}" for x, y in points) + ("Z" if closed else "")


def stroke(
    data: str, kind: str, width: float, colour: str = INK, dash: Sequence[float] = ()
) -> str:
    """Return a line along a path; `kind` is its class, by which it can be found."""
    dashed = f' stroke-dasharray="{" ".join(map(num, dash))}"' if dash else ""
    return (
        f'<path class="{kind}" d="{data}" fill="none" stroke="{colour}" '
        f'stroke-width="{num(width)}"{dashed}/>'
    )


def fill(data: str, kind: str, colour: str = INK) -> str:
    """Return a filled path."""
    return f'<path class="{kind}" d="{data}" fill="{colour}"/>'


def text(words: str, left: float, base: float, size: float, face: Face = "Regular") -> str:
    """Return a line of text that starts at `left` on the baseline `base`."""
    place = f'x="{num(left)}" y="{num(base)}" font-size="{num(size)}"'
    return f"<text {place}{FACES[face]}>{escape(words)}</text>"


def group(kind: str, inner: Iterable[str], move: Point | None = None, turn: float = 0.0) -> str:
    """Return a group of pieces, moved if need be, and turned so many degrees counterclockwise."""
    turned = f" rotate({num(-turn)})" if turn else ""
    moved = f' transform="translate({num(move[0])} {num(move[1])}){turned}"' if move else ""
    return f'<g class="{kind}"{moved}>{"".join(inner)}</g>'


def arrow(tip: Point, way: Point, size: float) -> str:
    """Return the path data of an arrowhead whose tip points along the unit vector `way`."""
    (x, y), (ux, uy) = tip, way
    back = (x - ux * size, y - uy * size)
    half = size * 0.42
    corners = (
        tip,
        (back[0] - uy * half, back[1] + ux * half),
        (back[0] + uy * half, back[1] - ux * half),
    )
    return path(corners, closed=True)
