"""The one type family, shipped as a package so that the machine's own fonts never matter.

Atkinson Hyperlegible, made by the Braille Institute for low vision; licence OFL 1.1, whose text
goes wherever the files go. What the family cannot print is reported, never silently replaced.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path

FAMILY = "Atkinson Hyperlegible"
CAPITAL_HEIGHT = 0.668
"""Height of a capital as a share of the type size (sCapHeight / unitsPerEm of the font)."""

_PACKAGE = "fontpkg_atkinson_hyperlegible"
_UNPRINTED = frozenset("\n\r\t\u00ad\u200b")


@dataclass(frozen=True)
class Face:
    """One file of the family."""

    file: str
    weight: int
    style: str


FACES = (
    Face("AtkinsonHyperlegible-Regular.ttf", 400, "normal"),
    Face("AtkinsonHyperlegible-Italic.ttf", 400, "italic"),
    Face("AtkinsonHyperlegible-Bold.ttf", 700, "normal"),
    Face("AtkinsonHyperlegible-BoldItalic.ttf", 700, "italic"),
)


def folder() -> Path:
    """Where the font files are."""
    return Path(str(files(_PACKAGE))) / "files"


def licence() -> Path:
    """The licence that must travel with the files."""
    return Path(str(files(_PACKAGE))) / "LICENSE"


def font_faces(prefix: str) -> str:
    """The `@font-face` rules, with each file at `prefix` + its name."""
    return "\n".join(
        f'@font-face {{ font-family: "{FAMILY}"; font-weight: {face.weight}; '
        f'font-style: {face.style}; src: url("{prefix}{face.file}") format("truetype"); }}'
        for face in FACES
    )


def missing_characters(texts: Iterable[str]) -> tuple[str, ...]:
    """The characters of `texts` that some face of the family has no shape for, in code order."""
    wanted = {character for text in texts for character in text} - _UNPRINTED
    return tuple(sorted(wanted - _printable()))


@cache
def _printable() -> frozenset[str]:
    from fontTools.ttLib import TTFont

    sets = []
    for face in FACES:
        with TTFont(folder() / face.file, lazy=True) as font:
            sets.append({chr(code) for code in font.getBestCmap()})
    return frozenset(set.intersection(*sets))
