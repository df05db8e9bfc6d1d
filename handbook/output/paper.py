"""The three things that go on paper: the handbook, the emergency sheet and the tags."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from markupsafe import Markup

from handbook import assets
from handbook.output import pdf, qr
from handbook.output.errors import OutputError
from handbook.output.photos import Photos, Small
from handbook.output.render import Renderer
from handbook.pages.content import Book, Sheet, TagCard, TagSheet, plain

CODE_MM = 38.0
"""Side of a tag's QR code, quiet zone included, on a card of 4 x 2 in (102 x 51 mm)."""

SHEET_CODE_MM = 24.0
SHEET_SIZES = (17.0, 16.0, 15.0, 14.0, 13.0, 12.0)
"""Type sizes in points that the emergency sheet may use, the first that fits being taken.
Large print is 16 to 18 pt; 12 pt is general print (36 CFR 1193.33 advisory)."""

CARDS_A_SHEET = 10
MORE = " ..."
"""Ends words of which some were left out."""
SENTENCES = ("; ", ". ")
PARTS = ("; ", ". ", ", ")
"""What ends a part of a card's words that can be left out."""
CARD_HEIGHT = 2.0
"""Inches; a card is 4 in wide."""

CARD_SIZES = (11.0, 10.0, 9.0, 8.0)
"""Type sizes in points that the words on the tags may use, the first that fits being taken."""


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

    def page(self, page: str, spot: str = "") -> str:
        """The anchor of a page, or of a marked block on it."""
        if page not in self.pages:
            raise OutputError(f"a page leads to {page!r}, which the book does not have")
        return f"#{spot or page}"

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
    printed = pdf.write_pdf(html, out, photos)
    return replace(printed, warnings=(*printed.warnings, *_spilt(book, printed)))


def sheet_pdf(sheet: Sheet, photos: Photos, out: Path) -> pdf.Printed:
    """Print the emergency sheet on one side, as large as fits. Spare bands are left out, the last
    one first, before it is an OutputError that 12 pt does not fit."""
    for shown in _sparer(sheet):
        if laid := _as_large_as_fits(shown, photos):
            return laid.write(out)
    raise OutputError(
        f"the emergency sheet does not fit on one side even at {SHEET_SIZES[-1]:g} pt; "
        f"it has {sum(len(band.steps) for band in sheet.bands)} steps"
    )


def _as_large_as_fits(sheet: Sheet, photos: Photos) -> pdf.LaidOut | None:
    """Set the sheet in the largest type in which it takes one side; None where none does."""
    renderer = _renderer(photos, BookLinks(frozenset(), {}))
    code = qr.svg(sheet.payload, SHEET_CODE_MM, "QR code: the pages") if sheet.payload else ""
    laid: dict[float, pdf.LaidOut] = {}

    def fits(size: float) -> bool:
        css = _sized(size, "sheet.css")
        html = renderer.template("sheet.html", sheet=sheet, code=code, css=css)
        laid[size] = pdf.laid_out(html, photos)
        return len(laid[size].document.pages) == 1

    # What fits at one size fits at all smaller ones, so that a few tries find the largest.
    at = bisect_left(SHEET_SIZES, True, key=fits)
    return laid[SHEET_SIZES[at]] if at < len(SHEET_SIZES) else None


def _sparer(sheet: Sheet) -> Iterator[Sheet]:
    """Yield the sheet, then without its last spare band, and so on until it has none."""
    yield sheet
    spare = [place for place, band in enumerate(sheet.bands) if band.spare]
    while spare:
        last = spare.pop()
        sheet = replace(sheet, bands=(*sheet.bands[:last], *sheet.bands[last + 1 :]))
        yield sheet


def tags_pdf(tags: TagSheet, photos: Photos, out: Path) -> pdf.Printed:
    """Print the tags, ten to a letter sheet (2 x 5 cards of 4 x 2 in), their words as large as
    fits. Words that do not fit at 8 pt are cut, and marked so, but where the room is still told:
    the thing's page has them all.

    OutputError if a code is too dense, or a card's id and name alone do not fit.
    """
    cards = {card.id: card for card in tags.cards}
    tall: Collection[str] = cards
    for size in CARD_SIZES:
        # What fits at one size fits at the next one down: only the others are measured again.
        tall = _too_tall(_only(tags, cards, tall), photos, size)
        if not tall:
            break
    while tall:
        cut = {name: shortened(cards[name]) for name in tall}
        if stuck := [name for name in cut if cut[name] == cards[name]]:
            raise OutputError(
                f"the words of tag {min(stuck)} do not fit on its card even at "
                f"{CARD_SIZES[-1]:g} pt: shorten its name or how it is turned"
            )
        cards |= cut
        tall = _too_tall(_only(tags, cards, tall), photos, size)
    return _tags(_only(tags, cards, cards), photos, size).write(out)


def _only(tags: TagSheet, cards: Mapping[str, TagCard], names: Collection[str]) -> TagSheet:
    """The tag sheet with these cards alone, in their order."""
    return replace(tags, cards=tuple(card for name, card in cards.items() if name in names))


def _too_tall(tags: TagSheet, photos: Photos, size: float) -> set[str]:
    """The ids of the cards whose words are too tall at this type size."""
    return {
        name
        for sheet in _tags(tags, photos, size).heights()
        for name, height in sheet.items()
        if height > CARD_HEIGHT
    }


def _tags(tags: TagSheet, photos: Photos, size: float) -> pdf.LaidOut:
    """Set the tags at a type size."""
    renderer = _renderer(photos, BookLinks(frozenset(), {}))
    cards = [(card, qr.svg(card.payload, CODE_MM, f"QR code {card.id}")) for card in tags.cards]
    groups = [cards[i : i + CARDS_A_SHEET] for i in range(0, len(cards), CARDS_A_SHEET)]
    html = renderer.template("tags.html", tags=tags, groups=groups, css=_sized(size, "tags.css"))
    return pdf.laid_out(html, photos)


def shortened(card: TagCard) -> TagCard:
    """Leave out the last part of a card's place, down to the room; of an alarm what it can spare
    and then its room, where it hangs; then the last of what it stops; then of the room; of an alarm
    all that it watches, at last what it says besides. The same card if nothing is left to spare."""
    if (place := _room_alone(_cut(card.place, SENTENCES))) != card.place:
        return replace(card, place=place)
    if card.spare:
        return replace(card, spare=card.spare[:-1])
    if card.besides and card.place:
        return replace(card, place="")
    stops = plain(card.stops)
    if (cut := _cut(stops, PARTS)) != stops:
        return replace(card, stops=(cut,))
    if (place := _cut(card.place, PARTS)) != card.place:
        return replace(card, place=place)
    if card.besides and card.stops:
        return replace(card, stops=())
    return replace(card, besides=card.besides[:-1])


def _room_alone(place: str) -> str:
    """A place of which no more than the room is left needs no mark: the tag hangs there."""
    room = place.removesuffix(MORE)
    whole = room != place and not any(mark in room for mark in SENTENCES)
    return f"{room}." if whole else place


def _cut(words: str, marks: tuple[str, ...]) -> str:
    """Drop the part behind the last of these marks, and mark that."""
    kept = words.removesuffix(MORE).rstrip(".")
    at = max(map(kept.rfind, marks))
    return kept[:at] + MORE if at > 0 else words


def _spilt(book: Book, printed: pdf.Printed) -> list[str]:
    """An emergency page is one situation on one sheet; those that run over are named."""
    spilt = []
    for page in (page for page in book.pages if page.red):
        start = printed.starts[page.id]
        end = min((n for n in printed.starts.values() if n > start), default=printed.sheets + 1)
        if end - start > 1:
            spilt.append(f"the emergency page {page.title!r} takes {end - start} sheets")
    return spilt


def _sized(points: float, name: str) -> Markup:
    """The style of the book, then that of `name`, with this type size for its words."""
    size = f":root {{ font-size: {points:g}pt }}"
    return Markup(pdf.style("print.css") + pdf.style(name) + size)


def _renderer(photos: Photos, links: BookLinks, guides: Path | None = None) -> Renderer:
    return Renderer("print", links, photos, 3, guides or assets.templates() / "guides")
