"""A house file becomes a checked record, or everything that is wrong with it.

Phases: the file's bytes, YAML, fields, then the checks that the caller gives (ids, sense). What
a phase finds wrong is left out for the next one (`mending`), so that the slips of all phases are
told at once, and none of them ten times. Only bytes and YAML that cannot be read hide the rest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from handbook.record.entry import Entry
from handbook.record.faults import Faults
from handbook.record.marks import Tree
from handbook.record.mending import leave_out, mend, ways_to
from handbook.record.problems import MOST_PROBLEMS, Mark, Problem, RecordError, with_lines
from handbook.record.source import MOST_BYTES, clean
from handbook.record.tree import MOST_DEPTH, tree_of

E = TypeVar("E", bound=Entry)
Check = Callable[[E], Iterable[Problem]]


def read(path: str | Path, model: type[E], checks: Sequence[Check[E]] = ()) -> E:
    """Read the file at `path` as `model`.

    Raises RecordError with all problems of all phases, by their place.
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

    Raises RecordError with all problems of all phases, by their place.
    """
    text = clean(text, file)
    tree = tree_of(text, file)
    entry, problems, left_out = _fields(tree, model)
    for check in checks:
        found = list(check(entry)) if entry is not None else []
        problems += found
        if found:
            leave_out(tree, ways_to(tree, (each.mark for each in found)))
            entry = _rest(tree, model)
    if entry is None or problems:
        raise RecordError(with_lines(problems, text, left_out))
    return entry


def _fields(tree: Tree, model: type[E]) -> tuple[E | None, list[Problem], int]:
    """Return the entry, or what is left of it, what is wrong, and how much more there is."""
    models: dict[int, type[Entry]] = {}
    entry, found = _read(tree, model, models)
    faults = Faults(tree, model, models)
    problems = list(faults.problems(found[:MOST_PROBLEMS]))
    left_out = len(found[MOST_PROBLEMS:])
    if found and not left_out:
        mend(tree, found, models)
        entry = _rest(tree, model)
    return entry, problems, left_out


def _rest(tree: Tree, model: type[E]) -> E | None:
    """Read what is left of the tree, and leave out what cannot be; None where that is all."""
    for _ in range(MOST_DEPTH):
        models: dict[int, type[Entry]] = {}
        entry, found = _read(tree, model, models)
        if entry is not None:
            return entry
        mend(tree, found, models)
    return None


def _read(
    tree: Tree, model: type[E], models: dict[int, type[Entry]]
) -> tuple[E | None, Sequence[Mapping[str, Any]]]:
    """Return the entry, or the errors of the validating library; note what was read as what."""
    try:
        return model.model_validate(tree, context=models), ()
    except ValidationError as error:
        return None, error.errors(include_url=False)
