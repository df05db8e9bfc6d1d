"""Pages, and what they are gathered in: a part, the book, the phone pages."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

from handbook.pages.content.blocks import Block
from handbook.pages.content.spans import Line

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
