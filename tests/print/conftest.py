"""The sample book, sheet and tags printed once for all tests of this folder."""

from __future__ import annotations

from pathlib import Path

import pytest
import sample_book
from reading_back import Made

from handbook.output import paper
from handbook.output.photos import Photos


@pytest.fixture(scope="session")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("record")
    sample_book.write_photo(folder)
    return folder


@pytest.fixture(scope="session")
def printed_book(record: Path, tmp_path_factory: pytest.TempPathFactory) -> Made:
    out = tmp_path_factory.mktemp("book") / "book.pdf"
    return Made(out, paper.book_pdf(sample_book.book(), Photos(record), out, sample_book.GUIDES))


@pytest.fixture(scope="session")
def printed_sheet(record: Path, tmp_path_factory: pytest.TempPathFactory) -> Made:
    out = tmp_path_factory.mktemp("sheet") / "sheet.pdf"
    return Made(out, paper.sheet_pdf(sample_book.sheet(), Photos(record), out))


@pytest.fixture(scope="session")
def printed_tags(record: Path, tmp_path_factory: pytest.TempPathFactory) -> Made:
    out = tmp_path_factory.mktemp("tags") / "tags.pdf"
    return Made(out, paper.tags_pdf(sample_book.tags(), Photos(record), out))


@pytest.fixture(scope="session", params=["printed_book", "printed_sheet", "printed_tags"])
def made(request: pytest.FixtureRequest) -> Made:
    """Each of the three printed files."""
    return request.getfixturevalue(request.param)
