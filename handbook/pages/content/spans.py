"""The pieces of text in a line: words, tags, telephone numbers, links."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tag:
    """A tag number, linked to that thing's page where the output has one.

    Shown as `W1`, or as `W1 (Main shutoff, inside)` when a name is given.
    """

    id: str
    name: str = ""


@dataclass(frozen=True)
class Call:
    """A telephone number: as people read it, and as a `tel:` URI (RFC 3966)."""

    number: str
    uri: str


@dataclass(frozen=True)
class Strong:
    """Words that must not be missed."""

    text: str


@dataclass(frozen=True)
class Go:
    """A link to another page of the same output; on paper its page number follows the words.
    `spot` is the mark of a block on that page, where the link leads to that."""

    page: str
    text: str
    spot: str = ""


Span = str | Tag | Call | Strong | Go
Line = tuple[Span, ...]


def line(*spans: Span) -> Line:
    """A line from its spans, for writing `line("Close ", Tag("W1"), " first.")`."""
    return spans


def plain(spans: Line) -> str:
    """The words of a line as they are read, for searching, for tests and for a QR code's text."""
    return "".join(_words(span) for span in spans)


def _words(span: Span) -> str:
    match span:
        case str():
            return span
        case Tag(id, name):
            return f"{id} ({name})" if name else id
        case Call(number):
            return number
        case Strong(text) | Go(text=text):
            return text
