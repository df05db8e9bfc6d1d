"""What keeps a command from answering, as JSON: `{"errors": [{file, line, column, ...}]}`."""

import json
from collections.abc import Iterable

from handbook.record.problems import Problem


def problems_json(problems: Iterable[Problem]) -> str:
    """Return every problem of a record, each with its place."""
    return _json(
        {
            "file": problem.mark.file,
            "line": problem.mark.line,
            "column": problem.mark.column,
            "message": problem.message,
            "hint": problem.hint,
        }
        for problem in problems
    )


def refusal_json(message: str, hint: str) -> str:
    """Return what is wrong with a question or a command; it stands in no file."""
    place = {"file": None, "line": None, "column": None}
    return _json([{**place, "message": message, "hint": hint}])


def _json(errors: Iterable[dict[str, object]]) -> str:
    return json.dumps({"errors": list(errors)}, indent=2, ensure_ascii=False)
