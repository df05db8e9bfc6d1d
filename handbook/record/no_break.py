"""Spaces at which no line is broken: they look like any other, and YAML takes them for letters.

They come along when text is pasted from mail or from a page; only where a key is lost by one is it
a slip, inside a text it may stay.
"""

from __future__ import annotations

import re

from handbook.record.problems import Mark, Problem

_SPACES = "[\N{NO-BREAK SPACE}\N{FIGURE SPACE}\N{NARROW NO-BREAK SPACE}]"
_AT_A_KEY = re.compile(rf"(?:^[ -]*|[\w-]+:)({_SPACES})")

MESSAGE = "a no-break space stands here, which looks like a space and is none"
HINT = "put an ordinary space in its place; it often comes along when text is pasted"


def in_lines(lines: list[str], first: int, last: int, file: str) -> Problem | None:
    """Return the first such space before or after a key in these lines, counted from 1."""
    for number in range(max(1, first), last + 1):
        if found := _AT_A_KEY.search(lines[number - 1]):
            return Problem(Mark(file, number, found.start(1) + 1), MESSAGE, HINT)
    return None


def in_key(key: str, mark: Mark) -> Problem | None:
    """Return the first such space in a key, which then is no key of a record."""
    found = re.search(_SPACES, key)
    place = Mark(mark.file, mark.line, mark.column + found.start()) if found else mark
    return Problem(place, MESSAGE, HINT) if found else None


def in_text(text: str) -> str:
    """Say that a text was meant as a key and its value, if such a space made it one text."""
    found = re.match(rf"([\w-]+:){_SPACES}", text)
    return f"the space after `{found[1]}` is a no-break space: {HINT}" if found else ""
