"""What stands on a page, one below another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from handbook.pages.content.drawings import Drawing, Map, MapRow, Profile
from handbook.pages.content.spans import Line, Span
from handbook.pages.riser.content import Riser

SignalWord = Literal["danger", "warning", "caution", "notice"]
"""ANSI Z535 signal words. NOTICE is for damage to property alone and has no triangle."""


@dataclass(frozen=True)
class Para:
    """A paragraph."""

    line: Line


@dataclass(frozen=True)
class Words:
    """What the trade's words on a page mean; set small, for who needs it."""

    line: Line


@dataclass(frozen=True)
class SubHead:
    """A heading inside a page."""

    text: str


@dataclass(frozen=True)
class Step:
    """One action, starting with its verb. The condition stands before it, the note under it."""

    do: Line
    note: Line | None = None
    condition: Line | None = None


@dataclass(frozen=True)
class Steps:
    """Numbered actions, one a line, numbered from `start`."""

    steps: tuple[Step, ...]
    start: int = 1


@dataclass(frozen=True)
class Note:
    """A panel opened by a signal word: the hazard, what it does, how to avoid it; a line each."""

    word: SignalWord
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Facts:
    """Labels with what is known; for a fact that is not recorded, say so in its line."""

    rows: tuple[tuple[str, Line], ...]


@dataclass(frozen=True)
class Table:
    """A table. The first cell of each row is the row's header.

    `head` has a word for each column, `rows` a line for each cell; `widths` are the columns'
    shares of the width (any unit, summing to anything) or empty for widths by content.
    `tagged` sets the first column as tag numbers out in the left margin. `marks`, one a row, are
    what links lead to.
    """

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[Line, ...], ...]
    widths: tuple[float, ...] = ()
    tagged: bool = False
    marks: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        columns = len(self.head)
        if any(len(row) != columns for row in self.rows):
            raise ValueError(f"table {self.caption!r}: every row needs {columns} cells")
        if self.widths and len(self.widths) != columns:
            raise ValueError(f"table {self.caption!r}: widths need {columns} numbers")
        if self.marks and len(self.marks) != len(self.rows):
            raise ValueError(f"table {self.caption!r}: marks need {len(self.rows)} words")


@dataclass(frozen=True)
class Bullets:
    """An unnumbered list, for things that have no order."""

    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Photo:
    """A photo of the record: `file` is relative to the record's folder; `alt` says what is seen;
    `mark` is what links lead to."""

    file: str
    alt: str
    caption: Line = ()
    mark: str = ""


@dataclass(frozen=True)
class Guide:
    """A Markdown guide of ours, `templates/guides/NAME.md`, filled with this house's values."""

    name: str
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True)
class Signs:
    """A small form on the phone pages: which of these back up, and which run well?

    `things` are what is asked about; `places` has, for each place that can be at fault, the
    indices of the things that it would show at; `answers` has, for each set of places (indices)
    that signs can leave, what to say, and `otherwise` what to say where they leave none; `briefly`
    has for each answer, and last for `otherwise`, the line that stays in sight while one ticks.
    `first` is asked before all: does one rise when another drains? Until both are ticked `both`
    is said, and `both_briefly` in sight; `explained` says what the columns mean.
    Paper leaves it out, and so does a phone without script: a table beside it says the same.
    """

    question: str
    things: tuple[str, ...]
    places: tuple[tuple[int, ...], ...]
    answers: tuple[tuple[tuple[int, ...], tuple[Block, ...]], ...]
    otherwise: tuple[Block, ...]
    briefly: tuple[str, ...]
    first: str
    explained: str
    both: tuple[Block, ...]
    both_briefly: str


@dataclass(frozen=True)
class HouseNote:
    """Markdown that the record's writer wrote; sanitised before it is shown."""

    markdown: str


Block = (
    Para
    | Words
    | SubHead
    | Steps
    | Note
    | Facts
    | Table
    | Bullets
    | Photo
    | Guide
    | Drawing
    | Map
    | MapRow
    | Profile
    | Riser
    | Signs
    | HouseNote
)

Value = Span | int | bool | None | Line | Block | tuple["Value", ...] | Mapping[str, "Value"]
"""What a guide can be filled with. A guide prints a span or a line inside a sentence, a block on
a line of its own; it can test and loop over the others."""
