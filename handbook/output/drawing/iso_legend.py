"""The legend of a riser diagram: what stands in it, no more and no less, in columns under it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import ceil

from handbook.output.drawing import iso_symbols
from handbook.output.drawing.iso_drawn import Layout
from handbook.output.drawing.iso_grid import Box
from handbook.output.drawing.iso_pen import Pen
from handbook.output.drawing.iso_pieces import arrow, frame, pipe_lines, shape_of, text, wall
from handbook.output.drawing.iso_text import SIZE, Text
from handbook.output.drawing.metrics import ASCENT
from handbook.output.drawing.svg import INK
from handbook.pages.riser.content import RiserRun
from handbook.tables import table

PITCH = 9.8
KEY = 22.0
"""Points for the symbol before the words."""

SPACE = 9.0
FRAMES = ("frame", "frame-double", "frame-round")

Key = Callable[[float, float], list[str]]


@dataclass(frozen=True)
class Entry:
    """A line of the legend: what is drawn at (left, middle), its words, bold ones first."""

    key: Key | None
    words: str
    bold: str = ""

    @property
    def wide(self) -> float:
        """Its width."""
        return (
            (KEY if self.key else 0.0)
            + Text(self.bold, 0, 0, bold=True).wide
            + (3.0 if self.bold else 0.0)
            + Text(self.words, 0, 0).wide
        )

    def drawn(self, left: float, middle: float) -> Iterator[str]:
        """Yield it, with its symbol's left edge and its middle line here."""
        base = middle + ASCENT * SIZE / 2 - 0.6
        if self.key:
            yield from self.key(left, middle)
            left += KEY
        if self.bold:
            short = Text(self.bold, left, base, bold=True)
            yield text(short)
            left += short.wide + 3.0
        yield text(Text(self.words, left, base))


@dataclass(frozen=True)
class Legend:
    """All lines in columns."""

    entries: tuple[Entry, ...]
    wide: float

    @property
    def columns(self) -> int:
        """How many columns the widest line leaves room for."""
        widest = max((entry.wide for entry in self.entries), default=1.0)
        return max(1, int((self.wide + SPACE) // (widest + SPACE)))

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return ceil(len(self.entries) / self.columns)

    @property
    def high(self) -> float:
        """The height of all rows."""
        return self.rows * PITCH

    def drawn(self, left: float, top: float) -> Iterator[str]:
        """Yield the legend with its top left corner here."""
        pitch = (self.wide + SPACE) / self.columns
        for number, entry in enumerate(self.entries):
            column, row = divmod(number, self.rows)
            yield from entry.drawn(left + column * pitch, top + (row + 0.5) * PITCH)


def legend(layout: Layout, wide: float) -> Legend:
    """Return the legend of a diagram, this wide."""
    return Legend(tuple(_entries(layout)), wide)


def _entries(layout: Layout) -> Iterator[Entry]:
    riser, marks = layout.riser, table("riser_marks").values
    used = {pipe.line for pipe in riser.pipes}
    for style, row in table("riser_lines").values.items():
        if style in used:
            yield Entry(_line_key(style), row["words"])
    if any(led.arrow for led in layout.led):
        yield Entry(_arrow_key, "the way it flows")
    symbols = [i.symbol for led in layout.led for i in (m.mark for m in led.marks)]
    symbols += [s.mark.symbol for b in layout.bodies for s in b.stubs if s.mark]
    symbols += [body.point.symbol for body in layout.bodies]
    if any(body.shape == "dot" for body in layout.bodies):
        symbols.append("tee")
    drawn = {"closed valve" if s.endswith(":closed") else s for s in symbols}
    for symbol, row in marks.items():
        if symbol in drawn:
            yield Entry(_mark_key(shape_of(symbol)), row["words"])
    for short, words in riser.abbreviations:
        yield Entry(None, words, short)
    yield from _sizes(layout)
    if len({zone.box.left for zone in layout.zones.zones}) > 1:
        yield Entry(_wall_key, "outer wall")


def _sizes(layout: Layout) -> Iterator[Entry]:
    runs = [i.words for pipe in layout.riser.pipes for i in pipe.items if isinstance(i, RiserRun)]
    plain = [words for words in runs if " " not in words]
    named = [words for words in runs if words.count(" ") == 1 and not words.endswith("mm")]
    if any(not words.endswith("mm") for words in plain):
        yield Entry(None, "pipe size, inches", _sample(plain))
    if named:
        yield Entry(None, "drain, size in inches", named[0])


def _sample(sizes: list[str]) -> str:
    """Return a size to show: one with a fraction, which cannot be taken for a count."""
    inches = [words for words in sizes if not words.endswith("mm")]
    return next((words for words in inches if "/" in words), inches[0])


def _line_key(style: str) -> Key:
    return lambda x, y: list(pipe_lines([(x, y), (x + KEY - 3, y)], [], style))


def _arrow_key(x: float, y: float) -> list[str]:
    line = Pen((x + 10, y), (1.0, 0.0)).line((-8, 0), (8, 0))
    return [line, arrow((x + 10, y), (1.0, 0.0), INK)]


def _wall_key(x: float, y: float) -> list[str]:
    return [wall((x + 10, y - 4), (x + 10, y + 4))]


def _mark_key(shape: str) -> Key:
    if shape in FRAMES:
        return lambda x, y: frame(shape, Box(x + 4, y - 3.2, x + 16, y + 3.2))
    return lambda x, y: iso_symbols.draw(shape, (x + 10, y), (1.0, 0.0))
