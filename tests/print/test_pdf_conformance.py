"""Every printed file can be used by a screen reader: PDF/UA-1 (ISO 14289-1), checked with the
validator of the package `page-validation`, which is not part of the project.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

import page
import pypdf
import reading_back
import sample_book
from reading_back import Made

from handbook.output import paper
from handbook.output.photos import Photos


def test_every_file_passes_pdf_ua_1(made: Made) -> None:
    result = page.validate_pdf(str(made.path), profile="ua1")
    assert [(f.rule_id, f.message) for f in result.failures] == []
    assert result.is_compliant


def test_a_heading_that_skips_a_level_does_not_pass(tmp_path: Path) -> None:
    """The validator is awake: the same writer, given bad headings, fails it."""
    from handbook.output import pdf

    html = '<html lang="en"><title>t</title><body><h1>a</h1><h3>b</h3>'
    pdf.write_pdf(html, tmp_path / "bad.pdf", Photos(tmp_path))
    assert not page.validate_pdf(str(tmp_path / "bad.pdf"), profile="ua1").is_compliant


def test_the_writer_and_the_fonts_complain_of_nothing(made: Made) -> None:
    assert made.printed.warnings == ()


def test_all_type_is_our_own_family_and_embedded(made: Made) -> None:
    fonts = reading_back.fonts(made.path)
    assert fonts
    assert all(fonts.values())
    assert {name.partition("+")[2].partition("-")[0] for name in fonts} == {
        "Atkinson"  # "/ABCDEF+Atkinson-Hyperlegible-Bold" and so on
    }


def test_the_file_says_its_title_language_and_the_records_own_date(made: Made) -> None:
    reader = pypdf.PdfReader(made.path)
    assert "Lot 12, Alder Lane" in (reader.metadata.title or "")
    assert reader.trailer["/Root"]["/Lang"] == "en-US"
    assert str(reader.metadata["/CreationDate"]).startswith("D:20260410")


def test_the_same_content_gives_the_same_bytes(record: Path, tmp_path: Path) -> None:
    digests = set()
    for name in ("a.pdf", "b.pdf"):
        paper.book_pdf(sample_book.book(), Photos(record), tmp_path / name, sample_book.GUIDES)
        digests.add(hashlib.sha256((tmp_path / name).read_bytes()).hexdigest())
    assert len(digests) == 1


def test_every_sheet_is_us_letter(made: Made) -> None:
    """ANSI/ASME Y14.1 size A: 8.5 x 11 in = 612 x 792 pt."""
    boxes = {
        (float(p.mediabox.width), float(p.mediabox.height))
        for p in pypdf.PdfReader(made.path).pages
    }
    assert boxes == {(612.0, 792.0)}
