"""Every link of the phone pages leads somewhere, and the checker that says so is awake."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
import sample_book

from handbook.output.errors import OutputError
from handbook.output.links import broken
from handbook.output.photos import Photos
from handbook.output.site import write_site
from handbook.pages.content import Go, Page, Para, Tag, line


def test_the_sample_holds_together(pages: Path) -> None:
    assert broken(pages) == ()


@pytest.mark.parametrize(
    ("markup", "problem"),
    [
        ('<a href="none/index.html">', "leads to no file"),
        ('<a href="W1">', "leads to no file"),
        ('<a href="../b.html">', "leads out of the pages"),
        ('<a href="#none">', "leads to no such place"),
        ('<a href="b.html#none">', "leads to no such place"),
        ('<img src="none.jpg">', "leads to no file"),
        ('<img src="https://a.example/x.jpg">', "fetched from elsewhere"),
        ('<link href="//a.example/x.css">', "fetched from elsewhere"),
        ('<a href="http://a.example/">', "not an address"),
        ('<a href="javascript:x">', "not an address"),
        ('<p id="twice"><p id="twice">', "two things have the id"),
    ],
)
def test_a_broken_link_is_named(tmp_path: Path, markup: str, problem: str) -> None:
    (tmp_path / "a.html").write_text(markup)
    (tmp_path / "b.html").write_text('<p id="here">')
    (found,) = broken(tmp_path)
    assert found.startswith("a.html: ")
    assert problem in found


@pytest.mark.parametrize(
    "markup",
    [
        '<a href="b.html#here">',
        '<a href="tel:+15550100">',
        '<a href="https://a.example/">',
        '<p id="x"><a href="#x">',
        '<img src="b.html">',
    ],
)
def test_a_sound_link_is_passed(tmp_path: Path, markup: str) -> None:
    (tmp_path / "a.html").write_text(markup)
    (tmp_path / "b.html").write_text('<p id="here">')
    assert broken(tmp_path) == ()


def test_a_tag_without_a_page_is_set_as_text(pages: Path) -> None:
    """W9 is named in the sample and has no page."""
    assert '<span class="tag">W9</span>' in (pages / "backup/index.html").read_text()


def write(site_pages: tuple[Page, ...], tmp_path: Path) -> None:
    site = sample_book.site()
    book = replace(site.book, parts=())
    write_site(
        replace(site, book=book, things=site_pages),
        Photos(tmp_path),
        tmp_path / "out",
        sample_book.GUIDES,
    )


def test_a_link_to_a_page_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    page = Page("a", "A", (Para(line(Go("b", "there"))),))
    with pytest.raises(OutputError, match="'b'"):
        write((page,), tmp_path)


@pytest.mark.parametrize("ids", [("w1", "W1"), ("fonts",), ("Photos",)])
def test_folders_that_some_disks_would_mix_up_are_an_error(
    tmp_path: Path, ids: tuple[str, ...]
) -> None:
    with pytest.raises(OutputError, match="rename one"):
        write(tuple(Page(id_, "A", ()) for id_ in ids), tmp_path)


def test_a_things_folder_is_in_capitals_for_its_code(tmp_path: Path) -> None:
    things = (
        Page("hall-wc", "Toilet", (), tag="hall-wc"),
        Page("a", "A", (Para(line(Tag("hall-wc"))),)),
    )
    write(things, tmp_path)
    assert (tmp_path / "out" / "HALL-WC" / "index.html").is_file()
    assert 'href="../HALL-WC/index.html"' in (tmp_path / "out" / "a" / "index.html").read_text()
