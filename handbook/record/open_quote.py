"""A quoted text that swallowed the lines after it, as its quotation mark was never closed.

It then ends where the next quoted text was to begin, and the parser stumbles only there, often
many lines on. A text may run on over several lines, each of them deeper than its key (YAML 1.2.2,
section 7.3): a key or the dash of an item that stands no deeper was meant as such, and tells that
the text had ended before it.
"""

from __future__ import annotations

import re
from typing import Any

from handbook.record.problems import Mark, Problem

MESSAGE = "a quotation mark is opened here and not closed in its line"
CLOSE_IT = "close it; feet and inches need no quotes: 12 ft 6 in"

_KEY = re.compile(r"( *)(?:- |[{\[]*[\w-]+:(?:\s|$))")
"""How a line begins that was meant as a key or as an item of a list."""
_INTO_A_WORD = re.compile(r"""(?<=[\s\[{,])(["'])((?:(?!\1).)*)\1(?=\w)""")
"""A text in quotes that a word follows at once, so that it ended where another was to begin."""
_KEY_INSIDE = re.compile(r", [\w-]+: ")


def swallowing(scalar: Any, lines: list[str], file: str) -> Problem | None:
    """Return the problem of a scalar event whose quotes hold keys or items, if they do."""
    first, last = scalar.start_mark, scalar.end_mark
    if scalar.style not in ("'", '"') or first.line == last.line:
        return None
    # Where a word follows at once, the mark that ended the text was to begin the next one.
    begins = re.match(r"\w", lines[last.line][last.column :])
    keys = [found for line in lines[first.line + 1 : last.line + 1] if (found := _KEY.match(line))]
    deepest = _indent(lines[first.line])
    if any(begins or len(found[1]) <= deepest for found in keys):
        return Problem(Mark(file, first.line + 1, first.column + 1), MESSAGE, CLOSE_IT)
    return None


def in_line(line: str) -> int | None:
    """Return where a text opens in a line, from 0, that swallowed others of the same braces."""
    texts = _INTO_A_WORD.finditer(line)
    return next((text.start() for text in texts if _KEY_INSIDE.search(text[2])), None)


def _indent(line: str) -> int:
    """Return the column that a text begun in this line must keep to the right of."""
    before = len(line) - len(line.lstrip(" -"))
    return before - 1 if line[before] in "{[\"'" else before
