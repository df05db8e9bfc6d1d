"""Everything that is made from one house, written together."""

from __future__ import annotations

import gc
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from handbook.output import paper
from handbook.output.photos import Photos
from handbook.output.publish import publish
from handbook.output.site import write_site
from handbook.pages.content import Book, Sheet, Site, TagSheet

NAMES = ("book", "sheet", "tags", "pages")
FILES = {
    "book": "handbook.pdf",
    "sheet": "emergency-sheet.pdf",
    "tags": "tags.pdf",
    "pages": "pages",
}


@dataclass(frozen=True)
class Content:
    """What is to be written for a house, and the folder of its record, where the photos are."""

    book: Book
    sheet: Sheet
    tags: TagSheet
    site: Site
    record_folder: Path
    guides: Path | None = None


def build(
    content: Content,
    out: Path,
    only: Collection[str] = NAMES,
    done: Callable[[str], None] = lambda name: None,
) -> tuple[str, ...]:
    """Write the outputs named in `only` into `out`, whole or not at all, keeping those of an
    earlier run that are not named; `done` hears each name when it is finished.

    Returns warnings (what the PDF writer complained of, emergency pages that ran over). Raises
    OutputError.
    """
    warnings: list[str] = []
    photos = Photos(content.record_folder)

    def fill(folder: Path) -> None:
        for name in NAMES:
            if name in only:
                with _uncollected():
                    said = [*_write(name, content, photos, folder)]
                warnings.extend(f"{FILES[name]}: {words}" for words in said)
                done(name)

    publish(out, fill, keep=set(only) != set(NAMES))
    return tuple(warnings)


@contextmanager
def _uncollected() -> Iterator[None]:
    """Without the garbage collector meanwhile: in so many live objects its searches take a quarter
    of the time of printing, and find nothing that the end of each output does not free."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()
            gc.collect()


def _write(name: str, content: Content, photos: Photos, folder: Path) -> Iterator[str]:
    target = folder / FILES[name]
    match name:
        case "book":
            yield from paper.book_pdf(content.book, photos, target, content.guides).warnings
        case "sheet":
            yield from paper.sheet_pdf(content.sheet, photos, target).warnings
        case "tags":
            yield from paper.tags_pdf(content.tags, photos, target).warnings
        case "pages":
            write_site(content.site, photos, target, content.guides)
