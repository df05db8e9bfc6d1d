"""Finds the data that travels with the package: the templates and the example house.

An installed wheel carries them inside the package; a checkout has them beside it. The package
is looked at first, so that an installed copy never picks up a stray folder of the same name.
"""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def templates() -> Path:
    """The folder of templates, style sheets and guides."""
    return _find("templates")


def example_house() -> Path:
    """The folder of the example house: its record, photos and notes."""
    return _find("example_house")


def _find(name: str) -> Path:
    for folder in (_PACKAGE / f"_{name}", _PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"this installation of the handbook has lost its folder {name!r}")
