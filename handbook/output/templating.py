"""Fills templates and guides. The only module that knows Jinja.

Every text is escaped as it is printed (autoescape), and a value that a template asks for and
does not get is an error that names it (StrictUndefined).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from handbook.output.errors import OutputError

if TYPE_CHECKING:
    from jinja2 import Environment


def environment(folder: Path, printed: Callable[[object], object]) -> Environment:
    """Templates of one folder; `printed` sees each value on its way into the text."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined, Undefined

    def finalize(value: object) -> object:
        return str(value) if isinstance(value, Undefined) else printed(value)  # str() raises

    return Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=finalize,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )


def filled(templates: Environment, name: str, values: Mapping[str, object]) -> str:
    """The template `name` filled with `values`; OutputError if it is not there or at fault."""
    from jinja2 import TemplateError

    try:
        return templates.get_template(name).render(values)
    except TemplateError as error:
        raise OutputError(f"{name}: {error}") from error
