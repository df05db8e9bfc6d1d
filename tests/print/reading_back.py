"""Reads printed files back with libraries that did not write them."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pypdf
import pytest
from pypdf.generic import DictionaryObject

from handbook.output.pdf import Printed


@dataclass(frozen=True)
class Made:
    """A printed file and what the writer said of it."""

    path: Path
    printed: Printed


def text(path: Path) -> str:
    """All words of a PDF, every kind of space as one plain space."""
    pages = [page.extract_text() for page in pypdf.PdfReader(path).pages]
    return re.sub(r"\s+", " ", " ".join(pages))


def outline(path: Path) -> list[tuple[int, str]]:
    """The bookmarks as (depth from 0, title) in order."""
    return list(_entries(pypdf.PdfReader(path).outline, 0))


def _entries(nodes: list, depth: int) -> Iterator[tuple[int, str]]:
    for node in nodes:
        if isinstance(node, list):
            yield from _entries(node, depth + 1)
        else:
            yield depth, node.title


def fonts(path: Path) -> dict[str, bool]:
    """Every font that the pages name, and whether its file is in the PDF."""
    found: dict[str, bool] = {}
    for page in pypdf.PdfReader(path).pages:
        for font in _resources(page).get("/Font", DictionaryObject()).values():
            whole = font.get_object()
            for inner in whole.get("/DescendantFonts", [whole]):
                descriptor = inner.get_object().get("/FontDescriptor", DictionaryObject())
                embedded = {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor.get_object())
                found[str(whole["/BaseFont"])] = bool(embedded)
    return found


def _resources(page: pypdf.PageObject) -> DictionaryObject:
    return page["/Resources"].get_object()


def placed(path: Path, sheet: int = 0) -> list[tuple[str, float, float, float]]:
    """The pieces of text of one sheet: words, left and baseline in inches from the sheet's left
    and top edge, type size in points."""
    page = pypdf.PdfReader(path).pages[sheet]
    height = float(page.mediabox.height)
    pieces: list[tuple[str, float, float, float]] = []

    def visit(words: str, cm: list, tm: list, _font: object, size: float) -> None:
        if words.strip():
            x = tm[4] * cm[0] + cm[4]
            y = tm[5] * cm[3] + cm[5]
            points = abs(size * tm[3] * cm[3])
            pieces.append((words.strip(), x / 72, (height - y) / 72, points))

    page.extract_text(visitor_text=visit)
    return pieces


def codes(path: Path, folder: Path, dpi: int = 150) -> list[list]:
    """The QR codes found on each sheet of a PDF, by an independent reader, from its picture."""
    import zxingcpp
    from PIL import Image

    return [zxingcpp.read_barcodes(Image.open(each)) for each in pictures(path, folder, dpi)]


def pictures(path: Path, folder: Path, dpi: int) -> list[Path]:
    """Each sheet of a PDF as a picture."""
    if shutil.which("pdftoppm") is None:
        pytest.fail("pdftoppm is missing: sh .dev/test installs what the tests need")
    command = ["pdftoppm", "-r", str(dpi), "-png", str(path), str(folder / "sheet")]
    subprocess.run(command, check=True, timeout=120)
    return sorted(folder.glob("sheet*"))
