"""What the YAML parser stumbled over, said for someone who writes houses, not YAML.

The parser's own message names what it was looking for; here the line itself is looked at, to say
what was most likely meant.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import yaml

from handbook.record import no_break, open_quote
from handbook.record.problems import Mark, Problem

Said = tuple[Mark, str, str]

_COLON_IN_VALUE = re.compile(r"[\w-]+: ([^'\"{}\[\],\s][^{}\[\],]*: [^{}\[\],]*)")
_APOSTROPHE = re.compile(r"(?<=[\s\[{,:])'[^',{}\[\]]*\w'\w[^',{}\[\]]*'(?=\s*[,}\]]|\s*$)")
"""A text in single quotes with an apostrophe in it that is not doubled."""

QUOTE_IT = "put the whole text in single quotes"


def mishap(error: yaml.YAMLError, file: str, lines: list[str]) -> Problem:
    """Turn a parser's error into one problem, its place inside the file."""
    place = _Place(error, file, lines)
    # A key that was lost made one text of its line and the next, where the parser stopped.
    first = min(place.began.line, place.here.line - 1)
    if found := no_break.in_lines(lines, first, place.here.line, file):
        return found
    text = f"{place.problem} {place.context}"
    for sign, say in _SAID.items():
        if re.search(sign, text):
            return Problem(*say(place))
    return Problem(
        place.here,
        f"this cannot be read ({place.problem})",
        f"look at the indentation, the colons and the quotes; {QUOTE_IT} if in doubt",
    )


class _Place:
    """Where the parser stopped (`here`), and where what it was reading began (`began`)."""

    def __init__(self, error: yaml.YAMLError, file: str, lines: list[str]) -> None:
        self.file, self.lines = file, lines
        self.problem = str(getattr(error, "problem", None) or "unreadable")
        self.context = str(getattr(error, "context", None) or "")
        here = getattr(error, "problem_mark", None)
        self.here = self._mark(here)
        self.began = self._mark(getattr(error, "context_mark", None) or here)

    def _mark(self, mark: yaml.Mark | None) -> Mark:
        """Keep the mark inside the file; the end of the file counts as its last written line."""
        if mark is None:
            return Mark(self.file, 1, 1)
        line = min(mark.line, len(self.lines) - 1)
        if mark.line >= len(self.lines) or not self.lines[line].strip():
            while line > 0 and not self.lines[line].strip():
                line -= 1
            return Mark(self.file, line + 1, max(1, len(self.lines[line].rstrip())))
        return Mark(self.file, line + 1, min(mark.column, len(self.lines[line])) + 1)

    def line(self, mark: Mark) -> str:
        return self.lines[mark.line - 1]

    def word(self, mark: Mark) -> Mark:
        """Widen a mark to the text from there to the end of its line."""
        rest = self.line(mark)[mark.column - 1 :].split(" #")[0].rstrip()
        return Mark(mark.file, mark.line, mark.column, max(1, len(rest)))


def _second_colon(place: _Place) -> Said:
    line = place.line(place.here)
    before, after = line[: place.here.column - 1], line[place.here.column :]
    if ": " in before and not after.split(" #")[0].strip():
        return place.here, "a second colon in this line, at its end", "take it away"
    if ": " in before:
        return place.here, "a second colon in this line", QUOTE_IT
    start = len(before) - len(before.lstrip()) + 1
    mark = Mark(place.file, place.here.line, start, max(1, place.here.column - start))
    return (
        mark,
        "this key is indented deeper than the lines it belongs with",
        "start it in the same column as the key above; a key with a value has nothing under it",
    )


def _no_colon(place: _Place) -> Said:
    mark = place.word(place.began)
    written = place.line(mark)[mark.column - 1 :].split(" #")[0]
    if re.match(r"-\S", written):
        return mark, "there is no space after this dash", f"write `- {written[1:].rstrip()[:40]}`"
    tight = re.match(r"([\w-]+):(\S.*)", written)
    if tight:
        hint = f"leave a space after the colon: `{tight[1]}: {tight[2].rstrip()[:40]}`"
        return mark, "there is no space after this colon", hint
    return mark, "this line has no colon after its key", "write `key: value`"


def _indentation(place: _Place) -> Said:
    line, at = place.line(place.here), place.here.column - 1
    if line[:at].strip() and line[at : at + 1] in "}]":
        return place.here, "this bracket closes what was closed before it", "take one away"
    if line[:at].strip():
        return (
            place.here,
            "the value ended before this",
            "if it is all one text, write it in single quotes, a quote inside it twice",
        )
    kind = "list" if "sequence" in place.context or "'-'" in place.problem else "group"
    tight = re.match(r"-(\S.*)", line[at:])
    if tight:
        hint = f"leave a space after the dash: `- {tight[1].rstrip()[:40]}`"
        return place.word(place.here), "there is no space after this dash", hint
    if kind == "list" and re.match(r"[\w-]+:(\s|$)", line[at:]):
        return (
            place.word(place.here),
            f"this line does not line up with the list that starts at line {place.began.line}",
            "indent it as far as the key above it; the first line of an item starts with `- `",
        )
    return (
        place.word(place.here),
        f"this line does not line up with the {kind} that starts at line {place.began.line}",
        "indent it by as many spaces as the lines it belongs with"
        + (", and start it with `- `" if kind == "list" else ""),
    )


def _bracket(place: _Place) -> Said:
    if meant := _quote_in_line(place, place.began.line) or _quote_in_line(place, place.here.line):
        return meant
    sign = place.line(place.began)[place.began.column - 1 : place.began.column]
    closing = {"{": "}"}.get(sign, "]")
    colon = _COLON_IN_VALUE.search(place.line(place.began), place.began.column)
    if colon and colon[1][:1] not in "{[":
        mark = Mark(place.file, place.began.line, colon.start(1) + 1, len(colon[1]))
        whole = colon[1].strip().replace("'", "''")
        hint = f"part two keys with a comma, or quote the one text: `'{whole}'`"
        return mark, "two colons stand in one value", hint
    message = f"this bracket is not closed before line {place.here.line}, or a comma is missing"
    return place.began, message, f"close it with `{closing}`, and put `, ` between its values"


def _quote_in_line(place: _Place, number: int) -> Said | None:
    """Return what is wrong with the quotes of a line, if anything: a bracket in them closes
    nothing."""
    line = place.lines[number - 1]
    if found := _APOSTROPHE.search(line):
        mark = Mark(place.file, number, found.start() + 1, len(found[0]))
        hint = f'put the text in double quotes: `"{found[0][1:-1]}"`'
        return mark, "an apostrophe ends this quoted text", hint
    if (column := open_quote.in_line(line)) is not None:
        return Mark(place.file, number, column + 1), open_quote.MESSAGE, open_quote.CLOSE_IT
    if line.count('"') % 2 and "'" not in line:
        mark = Mark(place.file, number, line.rindex('"') + 1)
        return mark, open_quote.MESSAGE, open_quote.CLOSE_IT
    return None


def _quote(place: _Place) -> Said:
    message = "a quotation mark is opened here and never closed"
    meant = _quote_in_line(place, place.began.line)
    return meant or (place.began, message, open_quote.CLOSE_IT)


def _bad_start(place: _Place) -> Said:
    sign = place.line(place.here)[place.here.column - 1 : place.here.column]
    if sign == "\t":
        return place.here, "a tab stands here", "use spaces"
    return place.here, f"text cannot start with `{sign}`", QUOTE_IT


def _bad_escape(place: _Place) -> Said:
    message = "a backslash inside double quotes means something else"
    return place.here, message, "use single quotes"


def _list_in_line(place: _Place) -> Said:
    return place.here, "a list cannot start in the line of its key", "put `- ` on the next line"


def _after_end(place: _Place) -> Said:
    return (
        place.word(place.here),
        "this stands after the end of the record",
        "write `key: value`, lined up with the first keys of the file",
    )


_SAID: dict[str, Callable[[_Place], Said]] = {
    "mapping values are not allowed": _second_colon,
    "could not find expected ':'": _no_colon,
    "unknown escape character|expected hexdecimal number": _bad_escape,
    "quoted scalar|unexpected end of stream": _quote,
    r"expected ',' or '[\]}]'|flow (sequence|mapping|node)": _bracket,
    "did not find expected key|expected <block end>|expected '-' indicator": _indentation,
    "cannot start any token|alphabetic or numeric": _bad_start,
    "block sequence entries are not allowed": _list_in_line,
    "expected <document start>|'<document start>'": _after_end,
}
