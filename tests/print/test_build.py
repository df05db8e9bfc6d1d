"""All outputs of a house, written together."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
import sample_book

from handbook.output.build import FILES, NAMES, Content, build
from handbook.output.errors import OutputError


@pytest.fixture
def content(record: Path) -> Content:
    return Content(
        sample_book.book(),
        sample_book.sheet(),
        sample_book.tags(),
        sample_book.site(),
        record,
        sample_book.GUIDES,
    )


def present(out: Path) -> set[str]:
    return {path.name for path in out.iterdir() if not path.name.startswith(".")}


def test_everything_is_written_and_told_in_order(content: Content, tmp_path: Path) -> None:
    told: list[str] = []
    warnings = build(content, tmp_path / "out", done=told.append)
    assert warnings == ()
    assert told == list(NAMES)
    assert present(tmp_path / "out") == set(FILES.values())
    assert len(pypdf.PdfReader(tmp_path / "out" / "emergency-sheet.pdf").pages) == 1
    assert (tmp_path / "out" / "pages" / "W1" / "index.html").is_file()


def test_what_is_not_asked_for_is_not_written_and_not_lost(
    content: Content, tmp_path: Path
) -> None:
    build(content, tmp_path / "out", only=["tags"])
    assert present(tmp_path / "out") == {"tags.pdf"}
    before = (tmp_path / "out" / "tags.pdf").read_bytes()
    build(content, tmp_path / "out", only=["sheet"])
    assert present(tmp_path / "out") == {"tags.pdf", "emergency-sheet.pdf"}
    assert (tmp_path / "out" / "tags.pdf").read_bytes() == before


def test_one_output_that_cannot_be_made_leaves_all_as_they_were(
    content: Content, tmp_path: Path
) -> None:
    build(content, tmp_path / "out", only=["sheet", "tags"])
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    card = replace(content.tags.cards[0], payload="x" * 3000)
    bad = replace(content, tags=replace(content.tags, cards=(card,)))
    with pytest.raises(OutputError, match="do not fit in any QR code"):
        build(bad, tmp_path / "out", only=["sheet", "tags"])
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before
