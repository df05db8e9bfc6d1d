"""A riser diagram as SVG: laid out by `iso_layout`, drawn here in lines of the trade."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from handbook.output.drawing import iso_symbols
from handbook.output.drawing.iso_body import Body, Stub
from handbook.output.drawing.iso_drawn import Layout, Led
from handbook.output.drawing.iso_fan import prepared
from handbook.output.drawing.iso_grid import COLUMN, ROW, Spot, sheet
from handbook.output.drawing.iso_legend import legend
from handbook.output.drawing.iso_pen import points
from handbook.output.drawing.iso_pieces import (
    arrow,
    floor,
    frame,
    group,
    pipe_lines,
    shape_of,
    text,
    wall,
)
from handbook.output.drawing.iso_sheets import laid_out
from handbook.output.drawing.iso_stretch import Placed
from handbook.output.drawing.iso_text import Text
from handbook.output.drawing.iso_zones import GUTTER
from handbook.output.drawing.svg import INK, num
from handbook.output.fonts import FAMILY
from handbook.pages.riser.content import Riser
from handbook.tables import table

BARS = {"header": 3.0}
"""How thick a bar is in points, by its shape; a tee of many pipes is as thin as they are."""

THIN = 1.4

LEGEND_GAP = 8.0


@lru_cache(maxsize=8)
def sheets(riser: Riser) -> tuple[str, ...]:
    """Return the SVG of each sheet of a diagram, the upper levels first; mostly there is one."""
    return tuple(_sheet(layout) for layout in laid_out(prepared(riser)))


def _sheet(layout: Layout) -> str:
    wide, high = layout.zones.wide + GUTTER, layout.zones.high + ROW
    words = legend(layout, wide)
    parts = [*diagram(layout), group("legend", list(words.drawn(-GUTTER, high + LEGEND_GAP)))]
    tall = high + LEGEND_GAP + words.high
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{num(-GUTTER - 1)} -1 {num(wide + 2)} '
        f'{num(tall + 2)}" width="{num(wide + 2)}pt" height="{num(tall + 2)}pt" '
        f'font-family="{FAMILY}" fill="{INK}">{"".join(parts)}</svg>'
    )


def diagram(layout: Layout) -> Iterator[str]:
    """Yield the diagram itself, without its legend."""
    yield from _floors(layout)
    yield from (group("led", list(_led(led))) for led in layout.led)
    for body, spot, label in zip(layout.bodies, layout.spots, layout.labels, strict=True):
        yield from (_stub(stub, spot) for stub in body.stubs)
        yield _body(body, spot, label)


def _floors(layout: Layout) -> Iterator[str]:
    """Yield the floor lines, the outer walls, and what the levels are."""
    shared = layout.zones
    for low in sorted({zone.box.bottom for zone in shared.zones if zone.words}):
        yield floor(-GUTTER, shared.wide, low + ROW / 2)
    for zone in shared.zones:
        if zone.box.left > 0:
            x = zone.box.left + COLUMN / 2
            yield wall((x, zone.box.top + ROW), (x, zone.box.bottom))
    yield from map(text, layout.titles)


def _led(led: Led) -> Iterator[str]:
    """Yield a pipe, its arrow, its marks and its sizes."""
    yield from pipe_lines(led.line, led.gaps, led.pipe.line)
    if led.arrow:
        yield arrow(*led.arrow, table("riser_lines").values[led.pipe.line]["color"])
    yield from map(_mark, led.marks)
    for run, size in led.sizes:
        yield group("size", [text(size)], run.things)


def _mark(placed: Placed) -> str:
    parts = iso_symbols.draw(shape_of(placed.mark.symbol), placed.spot, placed.unit)
    return group("mark", [*parts, *map(text, placed.texts)], placed.mark.things)


def _body(body: Body, spot: Spot, label: Sequence[Text]) -> str:
    """Return a body: its frame or symbol, its words."""
    parts: list[str] = []
    if body.frame:
        parts += frame(body.shape, body.frame.moved(*spot))
    elif body.bar:
        ends = [sheet(body.bar[0]), sheet(body.bar[-1])]
        where = points([(x + spot[0], y + spot[1]) for x, y in ends])
        style = f'fill="none" stroke="{INK}" stroke-width="{BARS.get(body.shape, THIN)}"'
        parts.append(f'<polyline points="{where}" {style}/>')
    elif body.shape != "none":
        parts += iso_symbols.draw(body.shape, spot, (1.0, 0.0))
    parts += [text(t.moved(*spot)) for t in body.texts] + [text(t) for t in label]
    return group("body", parts, body.point.things)


def _stub(stub: Stub, spot: Spot) -> str:
    """Return a fixture's stub with the mark on it."""
    x, y = spot[0] + stub.column * COLUMN, spot[1]
    parts = list(pipe_lines([(x, y + stub.foot), (x, y + stub.top)], [], stub.line))
    if stub.mark:
        middle = (x, y + (stub.top + stub.foot) / 2)
        down = (0.0, 1.0 if stub.line == "waste" else -1.0)
        drawn = iso_symbols.draw(shape_of(stub.mark.symbol), middle, down)
        words = [text(t.moved(*spot)) for t in stub.texts]
        parts.append(group("mark", [*drawn, *words], stub.mark.things))
    return group("led", parts)
