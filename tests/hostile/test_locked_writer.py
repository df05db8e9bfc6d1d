"""The PDF writer reads our fonts, our symbols and the photos asked for, and nothing else."""

from __future__ import annotations

import logging
from pathlib import Path

import pytest

from handbook.output import pdf
from handbook.output.errors import OutputError
from handbook.output.folders import inside
from handbook.output.photos import Photos

SECRET = "file:///etc/hostname"


def html(body: str, head: str = "") -> str:
    return f'<html lang="en"><head><title>t</title>{head}</head><body>{body}</body></html>'


@pytest.mark.parametrize(
    ("body", "head"),
    [
        (f'<img alt="x" src="{SECRET}">', ""),
        ('<img alt="x" src="http://127.0.0.1:9/x.png">', ""),
        ('<img alt="x" src="https://a.example/x.png">', ""),
        ('<img alt="x" src="data:image/svg+xml,%3Csvg/%3E">', ""),
        ('<img alt="x" src="x.png">', ""),
        ('<img alt="x" src="photo:../secret.jpg">', ""),
        ('<img alt="x" src="font:..%2f..%2f__init__.py">', ""),
        ('<img alt="x" src="symbol:../print.css">', ""),
        ('<img alt="x" src="symbol:/etc/hostname">', ""),
        ("", f'<link rel="attachment" href="{SECRET}">'),
        ("", f'<link rel="stylesheet" href="{SECRET}">'),
        ("", f'<style>@import url("{SECRET}");</style>'),
        ("x", f'<style>body {{ background: url("{SECRET}") }}</style>'),
    ],
)
def test_what_is_not_ours_is_refused_and_nothing_is_written(
    body: str, head: str, tmp_path: Path
) -> None:
    with pytest.raises(OutputError):
        pdf.write_pdf(html(body, head), tmp_path / "x.pdf", Photos(tmp_path))
    assert not (tmp_path / "x.pdf").exists()


@pytest.mark.parametrize(
    "body",
    [
        f'<a rel="attachment" href="{SECRET}">x</a>',
        f'<svg width="9" height="9"><title>x</title><image href="{SECRET}"/></svg>',
        f'<object data="{SECRET}">x</object>',
        f'<embed src="{SECRET}">',
    ],
)
def test_no_other_way_in_reads_a_file(body: str, tmp_path: Path) -> None:
    """Refused, or left out: the machine's file is not in what is written."""
    name = Path(SECRET.removeprefix("file://")).read_bytes().strip()
    out = tmp_path / "x.pdf"
    try:
        pdf.write_pdf(html(body), out, Photos(tmp_path))
    except OutputError:
        assert not out.exists()
    else:
        assert b"/EmbeddedFile" not in out.read_bytes()
        assert name not in out.read_bytes()


def test_a_font_of_the_family_is_read(tmp_path: Path) -> None:
    """The lock lets through what is ours."""
    fetched = pdf.locked_fetcher(Photos(tmp_path)).fetch("font:AtkinsonHyperlegible-Bold.ttf")
    assert fetched.read(4) == b"\x00\x01\x00\x00"  # the mark of a TrueType file


def test_what_the_writer_complains_of_is_returned(tmp_path: Path) -> None:
    printed = pdf.write_pdf(
        html('<a href="#nowhere">x</a>', "<style>p { colour: red }</style>"),
        tmp_path / "x.pdf",
        Photos(tmp_path),
    )
    assert any("nowhere" in warning for warning in printed.warnings)
    assert any("colour" in warning for warning in printed.warnings)


def test_listening_leaves_the_loggers_as_they_were(tmp_path: Path) -> None:
    before = [list(logging.getLogger(n).handlers) for n in ("weasyprint", "fontTools")]
    pdf.write_pdf(html("x"), tmp_path / "x.pdf", Photos(tmp_path))
    assert [list(logging.getLogger(n).handlers) for n in ("weasyprint", "fontTools")] == before


# --- names of files in a record ---


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "secret.txt").write_text("secret")
    folder = tmp_path / "record"
    (folder / "photos").mkdir(parents=True)
    (folder / "photos" / "a.txt").write_text("a")
    return folder


def test_a_file_inside_is_found(folder: Path) -> None:
    assert inside(folder, "photos/a.txt").read_text() == "a"


@pytest.mark.parametrize(
    "name",
    [
        "../secret.txt",
        "photos/../../secret.txt",
        "/etc/hostname",
        "photos",
        "",
        "none.txt",
        "..\\secret.txt",
        "photos/a.txt\0.jpg",
        "./../secret.txt",
    ],
)
def test_a_name_that_is_not_a_file_inside_is_refused(folder: Path, name: str) -> None:
    with pytest.raises(OutputError):
        inside(folder, name)


def test_links_that_lead_out_are_refused(folder: Path) -> None:
    (folder / "file.txt").symlink_to(folder.parent / "secret.txt")
    (folder / "up").symlink_to(folder.parent)
    for name in ("file.txt", "up/secret.txt"):
        with pytest.raises(OutputError, match="leads out"):
            inside(folder, name)


def test_a_link_that_stays_inside_is_followed(folder: Path) -> None:
    (folder / "b.txt").symlink_to("photos/a.txt")
    assert inside(folder, "b.txt").read_text() == "a"
