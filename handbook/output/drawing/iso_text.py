"""Lines of text on an isometric drawing, and the boxes that they take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from handbook.output.drawing.iso_grid import Box
from handbook.output.drawing.metrics import ASCENT, DESCENT, Face, width

SIZE = 6.7
"""Type size in points of tags, sizes and words; 6.5 is the least that is printed."""

LEADING = 1.14


@dataclass(frozen=True)
class Text:
    """A line of text that begins at `x` on the base line `y`."""

    words: str
    x: float
    y: float
    bold: bool = False
    size: float = SIZE

    @property
    def box(self) -> Box:
        """What it takes on the sheet."""
        return Box(
            self.x,
            self.y - ASCENT * self.size,
            self.x + self.wide,
            self.y + DESCENT * self.size,
        )

    @property
    def wide(self) -> float:
        """Its width."""
        return width(self.words, self.size, _face(self.bold))

    def moved(self, x: float, y: float) -> Text:
        """Return it moved."""
        return Text(self.words, self.x + x, self.y + y, self.bold, self.size)


@dataclass(frozen=True)
class Label:
    """Lines set under one another, the first of them bold, and what they take together."""

    words: tuple[str, ...]
    bold: bool = True
    size: float = SIZE

    @cached_property
    def wide(self) -> float:
        """The width of its widest line."""
        return max(
            (width(w, self.size, _face(self.bold and not n)) for n, w in enumerate(self.words)),
            default=0.0,
        )

    @cached_property
    def high(self) -> float:
        """The height of all its lines."""
        return self.size * ((len(self.words) - 1) * LEADING + ASCENT + DESCENT)

    def at(self, left: float, top: float, align: float = 0.0) -> tuple[Text, ...]:
        """Return its lines from the top left corner here; `align` 0 left, 0.5 centred, 1 right."""
        lines = []
        for number, words in enumerate(self.words):
            bold = self.bold and number == 0
            spare = self.wide - width(words, self.size, _face(bold))
            base = top + self.size * (ASCENT + number * LEADING)
            lines.append(Text(words, left + align * spare, base, bold, self.size))
        return tuple(lines)

    def box(self, left: float, top: float) -> Box:
        """Return what it takes with its top left corner here."""
        return Box(left, top, left + self.wide, top + self.high)


def _face(bold: bool) -> Face:
    return "Bold" if bold else "Regular"


def around(texts: Sequence[Text]) -> Box:
    """Return the box round several lines."""
    boxes = [text.box for text in texts]
    return Box(
        min(b.left for b in boxes),
        min(b.top for b in boxes),
        max(b.right for b in boxes),
        max(b.bottom for b in boxes),
    )
