"""What is wrong in a record, as values: the place, the words, and how to put it right.

A problem is a value, never a printed line, so that all of them can be collected, sorted, shown on
a phone or handed to an editor. Only `explain` turns them into text.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, replace

MOST_PROBLEMS = 200


@dataclass(frozen=True, order=True)
class Mark:
    """A place in a file: line and column count from 1, `width` is in characters, at least 1."""

    file: str
    line: int
    column: int
    width: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


NOWHERE = Mark("", 1, 1)


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong; `line_text` is the line at `mark`, filled in by the reader."""

    mark: Mark
    message: str
    hint: str = ""
    line_text: str = ""

    @property
    def width(self) -> int:
        """How many characters the caret underlines; never past the end of the line."""
        left = len(self.line_text) - self.mark.column + 1
        return max(1, min(self.mark.width, left))


class RecordError(Exception):
    """The record cannot be read; `problems` holds everything that was found, in file order."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__(self.problems)

    def __str__(self) -> str:
        return explain(self.problems)


def explain(problems: Iterable[Problem]) -> str:
    """Say each problem as place and message, the line with carets under it, and the hint."""
    return "\n\n".join(_explain_one(problem) for problem in problems)


def _explain_one(problem: Problem) -> str:
    lines = [f"{problem.mark}: {problem.message}"]
    if problem.line_text.strip():
        before = problem.line_text[: problem.mark.column - 1]
        # A tab stays a tab, so that the caret stands under its place at any tab width.
        pad = "".join(c if c == "\t" else " " for c in before)
        lines += [f"    {problem.line_text}", f"    {pad}{'^' * problem.width}"]
    if problem.hint:
        lines.append(f"  hint: {problem.hint}")
    return "\n".join(lines)


def with_lines(problems: Iterable[Problem], text: str, left_out: int = 0) -> tuple[Problem, ...]:
    """Give each problem the line of `text` that it points at; sort by place, drop repeats.

    Of a flood the first are kept, and the rest counted, with those `left_out` before.
    """
    lines = text.split("\n")
    lined = {replace(p, line_text=p.line_text or _line(lines, p.mark.line)): 1 for p in problems}
    placed = sorted(lined, key=lambda problem: problem.mark)
    more = left_out + len(placed[MOST_PROBLEMS:])
    last = (
        [Problem(placed[:MOST_PROBLEMS][-1].mark, f"and {more:,} more; put these right first")]
        if more
        else []
    )
    return (*placed[:MOST_PROBLEMS], *last)


def _line(lines: list[str], number: int) -> str:
    return lines[number - 1].rstrip("\r") if 0 < number <= len(lines) else ""


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """Return the choice most like `word`, or None; case, hyphens and spaces do not count."""
    plain = {_plain(choice): choice for choice in choices}
    match = difflib.get_close_matches(_plain(word[:80]), plain, n=1, cutoff=0.7)
    return plain[match[0]] if match else None


def _plain(word: str) -> str:
    return word.strip().lower().replace("-", "_").replace(" ", "_")
