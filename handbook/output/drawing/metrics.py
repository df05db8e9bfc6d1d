"""How wide and high words are in our own type, measured in the font's files.

Advance widths alone: kerning draws letters together far more often than apart, and `SPARE` is
more than it ever adds to a line.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from handbook.output import fonts

Face = Literal["Regular", "Bold", "Italic"]

SPARE = 1.02
ASCENT, ACCENT, DESCENT = 0.76, 0.95, 0.21
"""How far words reach above their baseline, above it with accented capitals, and below it, as
shares of the type size (glyf bounds of the family: i and j 0.758, Ů 0.941, g -0.207)."""


def width(text: str, size: float, face: Face = "Regular", *, bold: bool = False) -> float:
    """Return how wide a line of text is, in the unit of `size`; `bold` is short for that face."""
    advances, per_em = _advances("Bold" if bold else face)
    missing = advances["?"]
    return sum(advances.get(char, missing) for char in text) * size * SPARE / per_em


def ascent(text: str, size: float) -> float:
    """Return how far a line of text reaches above its baseline."""
    return size * (ASCENT if text.isascii() else ACCENT)


@cache
def _advances(face: Face) -> tuple[dict[str, int], int]:
    from fontTools.ttLib import TTFont

    file = next(it.file for it in fonts.FACES if it.file.endswith(f"-{face}.ttf"))
    with TTFont(fonts.folder() / file, lazy=True) as font:
        table, per_em = font["hmtx"], font["head"].unitsPerEm
        return {chr(code): table[name][0] for code, name in font.getBestCmap().items()}, per_em
