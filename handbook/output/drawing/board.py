"""The sheet while a map is being drawn on it: what has been drawn, and what is taken by it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from handbook.output.drawing.raster import Raster, ribbon
from handbook.output.drawing.sheet import Frame, Sheet
from handbook.output.drawing.spots import Taken
from handbook.pages.plan.shapes import Point

CLEAR = 1.0
"""Units that labels keep off lines and shapes, in all."""


@dataclass
class Board:
    """A sheet, the frame of its plan, pieces of SVG in the order of drawing, and what they take."""

    sheet: Sheet
    frame: Frame
    pieces: list[str] = field(default_factory=list)
    taken: Taken = field(init=False)

    def __post_init__(self) -> None:
        wide, high = self.sheet.wide, self.frame.height
        self.taken = Taken(Raster(wide, high), Raster(wide, high), Raster(wide, high))

    def draw(self, piece: str) -> None:
        """Add a piece over those already drawn."""
        self.pieces.append(piece)

    def keep_off(self, corners: Sequence[Point]) -> None:
        """Let no label cover a convex shape."""
        self.taken.hard.take(corners)

    def keep_off_wall(self, corners: Sequence[Point]) -> None:
        """Let no label cover a wall, nor have one between it and what it names."""
        self.taken.hard.take(corners)
        self.taken.walls.take(corners)

    def keep_off_line(self, points: Sequence[Point], thick: float) -> None:
        """Let no label cover a line."""
        for a, b in pairwise(points):
            self.taken.hard.take(ribbon(a, b, thick + CLEAR))

    def keep_off_mark(self, at: Point, reach: float) -> None:
        """Let no label cover a symbol, nor a leader line pass it."""
        far = reach + CLEAR / 2
        (x, y) = at
        box = ((x - far, y - far), (x + far, y - far), (x + far, y + far), (x - far, y + far))
        self.taken.hard.take(box)
        self.taken.solid.take(box)
