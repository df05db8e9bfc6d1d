"""A riser diagram as SVG: laid out by `iso_layout`, drawn here in lines of the trade."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from html import escape

from handbook.output.drawing import iso_symbols
from handbook.output.drawing.iso_bodies import Body, Stub
from handbook.output.drawing.iso_dress import Placed
from handbook.output.drawing.iso_grid import COLUMN, ROW, Box, Spot, sheet
from handbook.output.drawing.iso_layout import Layout, Led, Wants, lay_out
from handbook.output.drawing.iso_symbols import INK, number, points
from handbook.output.drawing.iso_text import Text
from handbook.pages.riser.content import Riser
from handbook.tables import table

BREAK = 3.4
"""Points that a pipe is left out on either side of one in front of it."""

TYPE = "Atkinson Hyperlegible, sans-serif"


def text(line: Text) -> str:
    """Return a line of text."""
    weight = ' font-weight="bold"' if line.bold else ""
    return (
        f'<text x="{number(line.x)}" y="{number(line.y)}" font-size="{number(line.size)}"'
        f' font-family="{TYPE}"{weight} fill="{INK}">{escape(line.words)}</text>'
    )


def pipe_lines(line: Sequence[Spot], gaps: Sequence[Spot], style: str) -> Iterator[str]:
    """Yield a pipe's line, broken where another runs in front of it."""
    row = table("riser_lines").values[style]
    dash = f' stroke-dasharray="{" ".join(map(number, row["dash"]))}"' if row["dash"] else ""
    for piece in _pieces(list(line), list(gaps)):
        yield (
            f'<polyline points="{points(piece)}" fill="none" stroke="{row["color"]}" '
            f'stroke-width="{number(row["width"])}"{dash} stroke-linejoin="round"/>'
        )


def _pieces(line: list[Spot], gaps: list[Spot]) -> Iterator[list[Spot]]:
    piece = [line[0]]
    for a, b in zip(line, line[1:], strict=False):
        length = math.dist(a, b) or 1.0
        unit = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
        here = sorted(t for g in gaps if (t := _along(a, unit, length, g)) is not None)
        for t in here:
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
    pen = iso_symbols.Pen(spot, unit)
    where = points([pen.at(3.2, 0), pen.at(-2.6, 2.1), pen.at(-2.6, -2.1)])
    return f'<polygon points="{where}" fill="{color}"/>'


def _group(things: Sequence[str], parts: Sequence[str]) -> str:
    named = f' data-thing="{escape(" ".join(things))}"' if things else ""
    return f"<g{named}>{''.join(parts)}</g>"


def _shape_of(symbol: str) -> str:
    row = table("riser_marks").values
    return "closed" if symbol.endswith(":closed") else str(row[symbol]["shape"])


def _mark(placed: Placed) -> str:
    parts = iso_symbols.draw(_shape_of(placed.mark.symbol), placed.spot, placed.unit)
    return _group(placed.mark.things, [*parts, *map(text, placed.texts)])


def led_parts(led: Led) -> Iterator[str]:
    """Yield a pipe, its arrow, its marks and its sizes."""
    row = table("riser_lines").values[led.pipe.line]
    yield from pipe_lines(led.line, led.gaps, led.pipe.line)
    if led.arrow:
        yield arrow(*led.arrow, row["color"])
    yield from map(_mark, led.marks)
    yield from map(text, led.sizes)


def _stub(stub: Stub, spot: Spot) -> Iterator[str]:
    x, y = spot[0] + stub.column * COLUMN, spot[1]
    yield from pipe_lines([(x, y + stub.foot), (x, y + stub.top)], [], stub.line)
    if stub.mark:
        middle = (x, y + (stub.top + stub.foot) / 2)
        side = -1.0 if stub.line == "waste" else 1.0
        parts = iso_symbols.draw(_shape_of(stub.mark.symbol), middle, (0.0, -side))
        yield _group(stub.mark.things, [*parts, *(text(t.moved(*spot)) for t in stub.texts)])


def body_parts(body: Body, spot: Spot, label: Sequence[Text]) -> Iterator[str]:
    """Yield a body: its stubs, its frame or symbol, its words."""
    for stub in body.stubs:
        yield from _stub(stub, spot)
    parts: list[str] = []
    if body.frame:
        parts += _frame(body.shape, body.frame.moved(*spot))
    elif body.bar:
        ends = [sheet(body.bar[0]), sheet(body.bar[-1])]
        where = points([(x + spot[0], y + spot[1]) for x, y in ends])
        parts.append(f'<polyline points="{where}" fill="none" stroke="{INK}" stroke-width="3"/>')
    elif body.shape != "none":
        parts += iso_symbols.draw(body.shape, spot, (1.0, 0.0))
    parts += [text(t.moved(*spot)) for t in body.texts] + [text(t) for t in label]
    yield _group(body.point.things, parts)


def _frame(shape: str, box: Box) -> list[str]:
    def rect(b: Box, r: float) -> str:
        return (
            f'<rect x="{number(b.left)}" y="{number(b.top)}" width="{number(b.right - b.left)}" '
            f'height="{number(b.bottom - b.top)}" rx="{number(r)}" fill="#fff" stroke="{INK}" '
            f'stroke-width="0.7"/>'
        )

    if shape == "frame-double":
        return [rect(box, 0), rect(box.grown(-1.3), 0)]
    return [rect(box, 5 if shape == "frame-round" else 0)]


def floors(layout: Layout) -> Iterator[str]:
    """Yield the floor lines, the walls between inside and outside, and what the levels are."""
    shared = layout.zones
    lows = sorted({zone.box.bottom for zone in shared.zones if zone.words})
    for low in lows:
        y = number(min(low + ROW / 2, shared.high))
        yield f'<line x1="0" y1="{y}" x2="{number(shared.wide)}" y2="{y}" stroke="#666" stroke-width="0.5"/>'
    for zone in shared.zones:
        if zone.box.left > 0:
            x, top, low = (number(v) for v in (zone.box.left + COLUMN / 2, zone.box.top + ROW, zone.box.bottom))
            yield (
                f'<line x1="{x}" y1="{top}" x2="{x}" y2="{low}" stroke="#666" '
                f'stroke-width="0.5" stroke-dasharray="1 3"/>'
            )
    yield from map(text, layout.titles)


def diagram(layout: Layout) -> Iterator[str]:
    """Yield the diagram itself, without its legend."""
    yield from floors(layout)
    for led in layout.led:
        yield from led_parts(led)
    for body, spot, label in zip(layout.bodies, layout.spots, layout.labels, strict=True):
        yield from body_parts(body, spot, label)


WIDE, HIGH = 526.0, 600.0


@lru_cache(maxsize=8)
def layout_of(riser: Riser) -> Layout:
    """Return the layout of a diagram on the smallest sheet that it fits on."""
    wants = Wants()
    for grown in (1.0,) * 6 + tuple(1.05**n for n in range(1, 30)):
        found = lay_out(riser, WIDE * grown, HIGH * grown, wants)
        if found:
            return found
    raise ValueError(f"the diagram {riser.title!r} finds no room")


def svg(riser: Riser) -> str:
    """Return the SVG of a diagram."""
    layout = layout_of(riser)
    wide, high = layout.zones.wide, layout.zones.high
    parts = "".join(diagram(layout))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 {number(wide + 2)} {number(high + 2)}" '
        f'width="{number(wide)}pt" height="{number(high)}pt">{parts}</svg>'
    )
