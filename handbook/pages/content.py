"""What a page may hold, as typed content without markup, so that one composed page can become
paper, a phone page and a tag, and so that nothing from a record is ever read as markup.

How the parts nest:

- a *span* is a piece of text in a line; a *line* is a tuple of spans: `line("Close ", Tag("W1"))`
- a *block* is a paragraph, numbered steps, a table, ...; a *page* is a title and its blocks
- a *part* is a chapter of pages; a *book* is the parts, and what its cover says
- a *site* is a book and one more page for each tagged thing
- a *sheet* is the emergency sheet; a *tag sheet* is the cards to cut and hang

Text is plain text: what looks like HTML or Markdown in it is printed as it stands, and spaces
between a number and its unit are made unbreakable when it is rendered. Everything here is
frozen. A page id or tag that cannot be a folder name is a fault of ours and raises ValueError.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from handbook.pages.plan.shapes import Plan
from handbook.pages.riser.content import Riser

SignalWord = Literal["danger", "warning", "caution", "notice"]
"""ANSI Z535 signal words. NOTICE is for damage to property alone and has no triangle."""

Size = Literal["full", "half", "small"]
"""How much of a sheet of paper a map takes: the whole, half of it, or a sixth."""

Kind = Literal["water", "drain", "gas", "sensor", "equipment"]
"""What a tag hangs on; each kind has its own small shape, so that nothing rests on colour."""


# --- spans and lines -------------------------------------------------------------------------


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


# --- blocks ----------------------------------------------------------------------------------


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
class Drawing:
    """A drawing of ours as SVG text, and a title that says it to those who cannot see it.

    Colours and type stand in attributes (`fill="..."`): the phone pages allow no inline styles.
    """

    svg: str
    title: str


@dataclass(frozen=True)
class Map:
    """A plan drawn to scale. `title` heads it and says it to those who cannot see it; `notes` are
    sentences under it, above all what is not drawn and why."""

    plan: Plan
    title: str
    notes: tuple[str, ...] = ()
    size: Size = "full"


@dataclass(frozen=True)
class ProfileMark:
    """A thing on a profile: how far along, and the pressure before and behind it.

    The first two while water runs, `rest_...` while none does.
    """

    label: str
    along: float
    before: float
    behind: float
    rest_before: float
    rest_behind: float


@dataclass(frozen=True)
class Profile:
    """Pressure along a way, drawn: `marks` in order, two at least, all in `pressure_unit`.

    `busy`, `still` and `needed` name the two lines and the level that is needed; `title` says
    the drawing to those who cannot see it.
    """

    title: str
    marks: tuple[ProfileMark, ...]
    need: float
    pressure_unit: str
    busy: str
    still: str
    needed: str


@dataclass(frozen=True)
class MapRow:
    """Small maps side by side, in the order in which they are read."""

    maps: tuple[Map, ...]


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


# --- pages, book, site -----------------------------------------------------------------------

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")


@dataclass(frozen=True)
class Page:
    """One subject. `id` is its address in every output; a thing's page has its tag as its id.

    `tag` is set as a big number in the margin, so leave it out of the title. `red` is for
    emergency pages alone: a red band, larger type, a sheet of its own. `summary` says in lists
    what the page is for. `more` leads on from a phone page; on paper the contents do.
    `wide` is for a drawing that takes a whole sheet of paper. `under` keeps lists short: the
    heading that this page is listed under; the cover leaves such pages out. An `urgent` page is
    on the cover although it is not red.
    """

    id: str
    title: str
    blocks: tuple[Block, ...]
    summary: Line = ()
    tag: str | None = None
    red: bool = False
    more: Line = ()
    wide: bool = False
    under: str = ""
    urgent: bool = False

    def __post_init__(self) -> None:
        for name in (self.id, self.tag or self.id):
            if not _ID.fullmatch(name):
                raise ValueError(f"{name!r} cannot be a page's address: letters, digits, - and _")

    @property
    def folder(self) -> str:
        """Its folder on the phone pages: a thing's in capitals, which a QR code packs tighter."""
        return self.id.upper() if self.tag else self.id


@dataclass(frozen=True)
class Part:
    """A chapter: it starts on a new sheet."""

    id: str
    title: str
    pages: tuple[Page, ...]


@dataclass(frozen=True)
class Book:
    """The handbook. `facts` are what the cover says, `calls` whom to call, by role; `date` is the
    record's own, never today's."""

    title: str
    house: str
    address: tuple[str, ...]
    parts: tuple[Part, ...]
    facts: tuple[tuple[str, Line], ...] = ()
    calls: tuple[tuple[str, Line], ...] = ()
    date: date | None = None
    language: str = "en-US"

    @property
    def pages(self) -> tuple[Page, ...]:
        """All pages in reading order."""
        return tuple(page for part in self.parts for page in part.pages)


@dataclass(frozen=True)
class Site:
    """The phone pages: the book's pages and one page for each tagged thing.

    A thing's page takes the place of the book's page of the same id.
    """

    book: Book
    things: tuple[Page, ...]


# --- the emergency sheet and the tags --------------------------------------------------------


@dataclass(frozen=True)
class Band:
    """One situation on the emergency sheet: its signal word, what to do, whom to call.

    A `spare` one is left to the book where the sheet would not fit on one side.
    """

    title: str
    word: SignalWord
    steps: tuple[Step, ...]
    calls: tuple[tuple[str, Line], ...] = ()
    spare: bool = False


@dataclass(frozen=True)
class Sheet:
    """The emergency sheet: one side of letter paper. More than fits is an error, never cut off.

    `payload` is what its QR code says, if it has one (the address of the phone pages), and
    `code_says` what that is in words.
    """

    title: str
    house: str
    address: tuple[str, ...]
    bands: tuple[Band, ...]
    others: Line = ()
    payload: str = ""
    code_says: str = ""
    date: date | None = None
    language: str = "en-US"


@dataclass(frozen=True)
class TagCard:
    """A tag to hang: what the thing stops (or reaches, or watches), how to turn it, where it is.

    `payload` is the QR code's text: an address, or a short instruction where there is none.
    """

    id: str
    name: str
    stops: Line
    turn: str
    place: str
    payload: str
    kind: Kind
    besides: tuple[str, ...] = ()
    """At an alarm what comes right after `turn`, the most needed first: both stand before the rest,
    as whoever hears it has to act."""


@dataclass(frozen=True)
class TagSheet:
    """All tags of a house, ten to a sheet."""

    title: str
    house: str
    cards: tuple[TagCard, ...]
    date: date | None = None
    language: str = "en-US"
