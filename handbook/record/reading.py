"""A house file becomes a checked record, or everything that is wrong with it.

Phases: the file's bytes, YAML, fields, then the checks that the caller gives (ids, sense). A
phase runs only where the one before it found nothing, so that one slip is not ten errors.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from handbook.record.entry import Entry
from handbook.record.faults import Faults
from handbook.record.marks import Tree
from handbook.record.problems import MOST_PROBLEMS, Mark, Problem, RecordError, with_lines
from handbook.record.source import MOST_BYTES, clean
from handbook.record.tree import tree_of

E = TypeVar("E", bound=Entry)
Check = Callable[[E], Iterable[Problem]]


def read(path: str | Path, model: type[E], checks: Sequence[Check[E]] = ()) -> E:
    """Read the file at `path` as `model`.

    Raises RecordError with all problems of the first phase that found any.
    """
    file = str(path)
    try:
        with Path(path).open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as error:
        reason = (error.strerror or "it cannot be read").lower()
        hint = ""
        if isinstance(error, FileNotFoundError):
            hint = "give the record's folder or its file; `handbook new FOLDER` begins one"
        problem = Problem(Mark(file, 1, 1), f"this file cannot be opened: {reason}", hint)
        raise RecordError([problem]) from None
    return read_text(data, file, model, checks)


def read_text(text: str | bytes, file: str, model: type[E], checks: Sequence[Check[E]] = ()) -> E:
    """Read `text` as `model`; `file` is the name that problems are reported under.

    Raises RecordError with all problems of the first phase that found any.
    """
    text = clean(text, file)
    entry = _fields(tree_of(text, file), text, model)
    for check in checks:
        problems = with_lines(check(entry), text)
        if problems:
            raise RecordError(problems)
    return entry


def _fields(tree: Tree, text: str, model: type[E]) -> E:
    models: dict[int, type[Entry]] = {}
    try:
        return model.model_validate(tree, context=models)
    except ValidationError as error:
        found = error.errors(include_url=False)
    faults = Faults(tree, model, models)
    problems = faults.problems(found[:MOST_PROBLEMS])
    raise RecordError(with_lines(problems, text, left_out=len(found[MOST_PROBLEMS:])))
