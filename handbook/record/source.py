"""A record's bytes become clean text, or problems with their place.

What is refused here would otherwise be a riddle later: a file in another encoding, characters
that no editor shows, tabs where YAML counts spaces.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator

from handbook.record.problems import Mark, Problem, RecordError, with_lines

MOST_BYTES = 2_000_000

# What YAML 1.1 calls printable (section 5.1), less the line breaks that editors do not show.
_ODD = re.compile(
    "[^\n\t\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)
_TAB_INDENT = re.compile(r"^ *\t[ \t]*(?=[^\s#])", re.MULTILINE)
_STAND_IN = "\N{REPLACEMENT CHARACTER}"


def clean(data: bytes | str, file: str) -> str:
    """Return the text with `\\n` line ends and no byte order mark.

    Raises RecordError for a file that is too large, not UTF-8, indented with tabs, or that
    holds characters that cannot be printed.
    """
    text = _decode(data, file) if isinstance(data, bytes) else data
    if len(text) > MOST_BYTES:
        raise _too_large(file)
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    problems = [*_odd_characters(text, file), *_tabs(text, file)]
    if problems:
        raise RecordError(with_lines(problems, _ODD.sub(_STAND_IN, text)))
    return text


def _too_large(file: str) -> RecordError:
    hint = "a house needs a few thousand lines; photos and drawings stay in files of their own"
    return RecordError([Problem(Mark(file, 1, 1), "the file is larger than 2 MB", hint)])


def _decode(data: bytes, file: str) -> str:
    if len(data) > MOST_BYTES:
        raise _too_large(file)
    hint = "save the file again, choosing UTF-8 as its encoding"
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise RecordError([Problem(Mark(file, 1, 1), "the file is saved as UTF-16", hint)])
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8").removeprefix("\ufeff")
        before = before.replace("\r\n", "\n").replace("\r", "\n")
        message = f"a byte here (0x{data[error.start]:02X}) is not UTF-8 text"
        problem = Problem(_mark_at(before, len(before), file), message, hint)
        raise RecordError(with_lines([problem], before + _STAND_IN)) from None


def _mark_at(text: str, offset: int, file: str, width: int = 1) -> Mark:
    line_start = text.rfind("\n", 0, offset) + 1
    return Mark(file, text.count("\n", 0, offset) + 1, offset - line_start + 1, width)


def _odd_characters(text: str, file: str) -> Iterator[Problem]:
    """Yield a problem for each kind of odd character, at its first place."""
    first: dict[str, int] = {}
    for match in _ODD.finditer(text):
        first.setdefault(match[0], match.start())
    for sign, offset in first.items():
        more = text.count(sign) - 1
        also = f", and {more:,} more times" if more else ""
        yield Problem(
            _mark_at(text, offset, file),
            f"a character that cannot be printed (U+{ord(sign):04X}) stands here{also}",
            "delete it; it often comes along when text is pasted",
        )


def _tabs(text: str, file: str) -> Iterator[Problem]:
    found = list(_TAB_INDENT.finditer(text))
    if found:
        more = len(found) - 1
        also = f", and {more:,} more {'lines are' if more > 1 else 'line is'}" if more else ""
        offset = found[0].start() + found[0][0].index("\t")
        yield Problem(
            _mark_at(text, offset, file),
            f"this line is indented with a tab{also}",
            "indent with spaces, two for each step",
        )
