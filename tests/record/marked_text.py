"""A wrong text with its faults marked in place, as a reader would mark them with a pencil.

A line that starts with carets (after blanks) marks the line above: where the fault is, how wide,
and what is said about it. It is not part of the text.
"""

import re

from handbook.record.problems import Problem

Fault = tuple[int, int, int, str]


def unmark(marked: str) -> tuple[str, list[Fault]]:
    """Return the text without its marks, and the faults as (line, column, width, message)."""
    lines: list[str] = []
    faults: list[Fault] = []
    for line in marked.strip("\n").split("\n"):
        mark = re.fullmatch(r"( *)(\^+) (.*)", line)
        if mark:
            faults.append((len(lines), len(mark[1]) + 1, len(mark[2]), mark[3]))
        else:
            lines.append(line)
    return "\n".join(lines) + "\n", sorted(faults)


def as_faults(problems: tuple[Problem, ...]) -> list[Fault]:
    """Return problems in the form of `unmark`."""
    return sorted((p.mark.line, p.mark.column, p.width, p.message) for p in problems)
