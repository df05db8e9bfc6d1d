"""Fills templates and guides. The only module that knows Jinja.

Every text is escaped as it is printed (autoescape), and a value that a template asks for and
does not get is an error (StrictUndefined).
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment


def environment(folder: Path, printed: Callable[[object], object]) -> Environment:
    """Templates of one folder; `printed` sees each value on its way into the text."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=printed,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
