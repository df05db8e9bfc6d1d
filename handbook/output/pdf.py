"""HTML becomes a PDF that screen readers can use (PDF/UA-1). The only module with WeasyPrint.

The writer can reach three things: our fonts, our symbols and the photos asked for. There is no
network, no file of the machine, nothing else of the record's folder. Dates come from the HTML
alone, so the same record gives the same bytes.
"""

from __future__ import annotations

import html as html_text
import logging
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import unquote

from handbook import assets
from handbook.output import fonts
from handbook.output.errors import OutputError
from handbook.output.folders import inside
from handbook.output.photos import Photos

_PX = 96  # CSS pixels an inch


@dataclass(frozen=True)
class Printed:
    """What was printed: sheets, the sheet (from 1) on which each anchor stands, and warnings:
    everything that the writer or the fonts complained about, in their words."""

    sheets: int
    starts: dict[str, int]
    warnings: tuple[str, ...]


def style(name: str) -> str:
    """A style sheet of `templates/` with the fonts, its symbols behind the private scheme."""
    css = (assets.templates() / name).read_text(encoding="utf-8")
    return fonts.font_faces("font:") + css.replace('url("symbols/', 'url("symbol:')


@dataclass(frozen=True)
class LaidOut:
    """Sheets that are set and not yet written, so that they can be measured first."""

    document: Any
    warnings: tuple[str, ...]

    def heights(self) -> list[dict[str, float]]:
        """For each sheet the height in inches of everything on it that has an id."""
        return [
            {name: (bottom - top) / _PX for name, (_, top, _, bottom) in page.anchors.items()}
            for page in self.document.pages
        ]

    def write(self, out: Path) -> Printed:
        """Write the sheets to `out` as PDF/UA-1 and say what came of it."""
        with _heard() as more, _refusals():
            out.write_bytes(self.document.write_pdf(pdf_variant="pdf/ua-1"))
        pages = self.document.pages
        starts = {anchor: number for number, page in enumerate(pages, 1) for anchor in page.anchors}
        return Printed(len(pages), starts, (*self.warnings, *more))


def write_pdf(html: str, out: Path, photos: Photos) -> Printed:
    """Lay `html` out and write it.

    Raises OutputError when the HTML asks for anything that is not ours to read.
    """
    return laid_out(html, photos).write(out)


def laid_out(html: str, photos: Photos) -> LaidOut:
    """Set `html` on sheets."""
    from weasyprint import HTML

    with _heard() as warnings, _refusals():
        warnings.extend(_unprintable(html))
        source = HTML(string=html, base_url="nowhere:/", url_fetcher=locked_fetcher(photos))
        document = source.render(pdf_variant="pdf/ua-1")
    return LaidOut(document, tuple(warnings))


@contextmanager
def _refusals() -> Iterator[None]:
    """A refused file stops the writer as an OutputError, not as what passes all handlers."""
    from weasyprint.urls import FatalURLFetchingError

    try:
        yield
    except FatalURLFetchingError as error:
        raise OutputError(f"{error}: {error.__cause__}") from error.__cause__


def locked_fetcher(photos: Photos) -> Any:
    """A fetcher that knows `font:`, `symbol:` and `photo:` and refuses everything else."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class Locked(URLFetcher):  # type: ignore[misc] # weasyprint has no types
        def __init__(self) -> None:
            super().__init__(allowed_protocols=(), allow_redirects=False, fail_on_errors=True)

        def fetch(self, url: str, headers: object = None) -> Any:
            scheme, _, name = url.partition(":")
            name = unquote(name)
            match scheme:
                case "font":
                    data = inside(fonts.folder(), name).read_bytes()
                case "symbol":
                    data = inside(assets.templates() / "symbols", name).read_bytes()
                case "photo":
                    data = photos.named(name).data
                case _:
                    raise OutputError("a page may not read anything but its own fonts and photos")
            return URLFetcherResponse(url, data)

    return Locked()


def _unprintable(html: str) -> Iterator[str]:
    text = html_text.unescape(re.sub(r"<style>.*?</style>|<[^>]*>", "", html, flags=re.DOTALL))
    for character in fonts.missing_characters([text]):
        yield f"the font has no {character!r} (U+{ord(character):04X})"


@contextmanager
def _heard() -> Iterator[list[str]]:
    """What weasyprint and fontTools log at WARNING or above while the block runs."""
    messages: list[str] = []
    handler = logging.Handler(logging.WARNING)
    handler.emit = lambda record: messages.append(record.getMessage())  # type: ignore[method-assign]
    loggers = [logging.getLogger(name) for name in ("weasyprint", "fontTools")]
    for logger in loggers:
        logger.addHandler(handler)
    try:
        yield messages
    finally:
        for logger in loggers:
            logger.removeHandler(handler)
