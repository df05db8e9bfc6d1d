"""The three things that go on paper: the handbook, the emergency sheet and the tags."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from markupsafe import Markup

from handbook import assets
from handbook.output import pdf, qr
from handbook.output.errors import OutputError
from handbook.output.photos import Photos, Small
from handbook.output.render import Renderer
from handbook.pages.content import Book, Sheet, TagSheet

CODE_MM = 41.0
"""Side of a tag's QR code, quiet zone included: the 2 in card less its edges."""

SHEET_CODE_MM = 24.0
SHEET_SIZES = (17.0, 16.0, 15.0, 14.0, 13.0, 12.0)
"""Type sizes in points that the emergency sheet may use, the first that fits being taken.
Large print is 16 to 18 pt; 12 pt is general print (36 CFR 1193.33 advisory)."""

CARDS_A_SHEET = 10


@dataclass(frozen=True)
class BookLinks:
    """Addresses inside one PDF: an anchor a page, known by its id."""

    pages: frozenset[str]
    tags: dict[str, str]

    @classmethod
    def of(cls, book: Book) -> BookLinks:
        """The anchors of a book; two pages of one id are our own fault."""
        ids = [page.id for page in book.pages]
        if twice := {page for page in ids if ids.count(page) > 1}:
            raise ValueError(f"two pages have the id {min(twice)!r}")
        return cls(frozenset(ids), {page.tag: page.id for page in book.pages if page.tag})

    def page(self, page: str) -> str:
        """The anchor of a page."""
        if page not in self.pages:
            raise OutputError(f"a page leads to {page!r}, which the book does not have")
        return f"#{page}"

    def tag(self, tag: str) -> str | None:
        """The anchor of a tagged thing's page, if the book has one."""
        return f"#{self.tags[tag]}" if tag in self.tags else None

    def photo(self, photo: Small) -> str:
        """Where the PDF writer gets a photo."""
        return f"photo:{photo.name}"


def book_pdf(book: Book, photos: Photos, out: Path, guides: Path | None = None) -> pdf.Printed:
    """Print the handbook. Guides come from `templates/guides` unless another folder is given."""
    renderer = _renderer(photos, BookLinks.of(book), guides)
    html = renderer.template("book.html", book=book, css=Markup(pdf.style("print.css")))
    return pdf.write_pdf(html, out, photos)


def sheet_pdf(sheet: Sheet, photos: Photos, out: Path) -> pdf.Printed:
    """Print the emergency sheet on one side, as large as fits; OutputError if 12 pt does not."""
    renderer = _renderer(photos, BookLinks(frozenset(), {}))
    code = qr.svg(sheet.payload, SHEET_CODE_MM, "QR code: the pages") if sheet.payload else ""
    css = pdf.style("print.css") + pdf.style("sheet.css")
    for size in SHEET_SIZES:
        sized = css + f":root {{ font-size: {size:g}pt }}"
        html = renderer.template("sheet.html", sheet=sheet, code=code, css=Markup(sized))
        if pdf.sheets(html, photos) == 1:
            return pdf.write_pdf(html, out, photos)
    raise OutputError(
        f"the emergency sheet does not fit on one side even at {SHEET_SIZES[-1]:g} pt; "
        f"it has {sum(len(band.steps) for band in sheet.bands)} steps"
    )


def tags_pdf(tags: TagSheet, photos: Photos, out: Path) -> pdf.Printed:
    """Print the tags, ten to a letter sheet (2 x 5 cards of 4 x 2 in)."""
    renderer = _renderer(photos, BookLinks(frozenset(), {}))
    cards = [(card, qr.svg(card.payload, CODE_MM, f"QR code {card.id}")) for card in tags.cards]
    groups = [cards[i : i + CARDS_A_SHEET] for i in range(0, len(cards), CARDS_A_SHEET)]
    css = Markup(pdf.style("print.css") + pdf.style("tags.css"))
    html = renderer.template("tags.html", tags=tags, groups=groups, css=css)
    return pdf.write_pdf(html, out, photos)


def _renderer(photos: Photos, links: BookLinks, guides: Path | None = None) -> Renderer:
    return Renderer("print", links, photos, 3, guides or assets.templates() / "guides")
