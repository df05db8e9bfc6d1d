"""Maps on paper: at their own size, in black and white, and usable by a screen reader."""

from __future__ import annotations

import re
import subprocess
from itertools import groupby
from pathlib import Path

import map_houses
import page
import pytest
from map_reading import Drawn, read
from PIL import Image
from shapely.geometry.base import BaseGeometry

from handbook.output import paper, pdf
from handbook.output.drawing.draw import draw
from handbook.output.drawing.sheet import PAPER, PAPER_SMALL, Sheet
from handbook.output.photos import Photos
from handbook.pages.content import Book, Map, MapRow, Page, Part
from handbook.pages.maps import map_page, maps
from handbook.pages.plan.layers import CLEANOUTS, GAS, LEAKS, SHUTOFFS, Layer
from handbook.pages.way_maps import way_maps

DPI = 144


@pytest.fixture(scope="module")
def shown() -> tuple[Map, Map, tuple[Map, ...]]:
    """A map of shutoffs, one of drains, and the ways from two rooms."""
    house = map_houses.example()
    shutoffs, drains = (
        next(m for m in maps(house, layer) if isinstance(m, Map) and m.title.startswith("Lower"))
        for layer in (SHUTOFFS, CLEANOUTS)
    )
    return shutoffs, drains, way_maps(house, ("hall-bath", "primary"), ("W5",))


def printed(one: Map, sheet: Sheet, out: Path) -> Drawn:
    """Print a map alone on a sheet of its own size, and return what is on it."""
    svg = draw(one.plan, sheet)
    drawn = read(svg)
    svg = svg.replace(">", "><title>Map</title>", 1)
    size = f"@page {{ size: {drawn.width}pt {drawn.height}pt; margin: 0 }} body {{ margin: 0 }}"
    style = f"<style>{pdf.style('print.css')} {size} svg {{ display: block }}</style>"
    html = f'<!doctype html><html lang="en"><title>Map</title>{style}<body>{svg}</body></html>'
    assert pdf.write_pdf(html, out, Photos(out.parent)).warnings == ()
    return drawn


def gray(out: Path) -> Image.Image:
    """The sheet as a black and white printer gives it."""
    command = ["pdftoppm", "-gray", "-r", str(DPI), "-png", "-singlefile", str(out), str(out)]
    subprocess.run(command, check=True)
    return Image.open(f"{out}.png").convert("L")


def darkest(image: Image.Image, shape: BaseGeometry) -> int:
    """The darkest gray (0 is black) in the box of a shape."""
    left, top, right, bottom = (int(value * DPI / 72) for value in shape.bounds)
    low, _ = image.crop((left, top, right + 1, bottom + 1)).getextrema()
    return int(low)


def test_a_page_of_maps_passes_pdf_ua_1(
    shown: tuple[Map, Map, tuple[Map, ...]], tmp_path: Path
) -> None:
    """ISO 14289-1, by the validator of the package `page-validation`."""
    shutoffs, drains, ways = shown
    pages = (
        Page("one", "One", (shutoffs, drains)),
        Page("two", "Two", (MapRow(ways),)),
    )
    book = Book("Maps", "A house", (), (Part("part", "Part", pages),))
    out = tmp_path / "maps.pdf"
    assert paper.book_pdf(book, Photos(tmp_path), out).warnings == ()
    result = page.validate_pdf(str(out), profile="ua1")
    assert [(f.rule_id, f.message) for f in result.failures] == []


def test_printed_words_lie_where_they_were_reckoned_to_the_point(
    shown: tuple[Map, Map, tuple[Map, ...]], tmp_path: Path
) -> None:
    """Poppler's boxes of the printed words, in points, against the boxes read off the SVG; this
    holds the scale of the paper as well as the widths of words."""
    drawn = printed(shown[0], PAPER, tmp_path / "map.pdf")
    command = ["pdftotext", "-bbox", str(tmp_path / "map.pdf"), "-"]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    found = re.findall(r'xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)"[^>]*>([^<]+)<', said)
    spans = {(word, round(float(left))): float(right) for left, right, word in found}
    words = [text for label in drawn.labels for text in label]
    alone = [text for text in words if re.fullmatch(r"[A-Z]\w+", text.words)]
    assert len(alone) > 15
    for text in alone:
        left, _, right, _ = text.ink.bounds
        ends = [end for (word, at), end in spans.items() if word == text.words
                and abs(at - left) < 2]  # fmt: skip
        assert ends == [pytest.approx(right, abs=1.0)], text.words


def test_in_black_and_white_walls_are_gray_and_all_else_is_black(
    shown: tuple[Map, Map, tuple[Map, ...]], tmp_path: Path
) -> None:
    """Of 0 (black) to 255: words and symbols under 80, walls between them and white."""
    drawn = printed(shown[1], PAPER, tmp_path / "map.pdf")
    image = gray(tmp_path / "map.pdf")
    bare = max((w for w in drawn.walls), key=lambda wall: wall.area)
    assert 110 < darkest(image, bare.representative_point().buffer(0.3)) < 170
    for text in (text for label in drawn.labels for text in label):
        assert darkest(image, text.ink) < 80, text.words
    for ids, shape, *_ in drawn.marks:
        assert darkest(image, shape) < 80, ids
    for line in drawn.lines["m-pipe"]:
        assert darkest(image, line) < 80


def test_in_black_and_white_the_way_to_walk_is_dark(
    shown: tuple[Map, Map, tuple[Map, ...]], tmp_path: Path
) -> None:
    drawn = printed(shown[2][-1], PAPER_SMALL, tmp_path / "map.pdf")
    image = gray(tmp_path / "map.pdf")
    for line in drawn.lines["m-way-line"]:
        middle = line.representative_point().buffer(0.3)
        assert darkest(image, middle) < 100


@pytest.mark.parametrize("layer", [SHUTOFFS, CLEANOUTS, GAS, LEAKS])
def test_a_map_of_half_a_sheet_shares_it_with_another(layer: Layer) -> None:
    """What stands alone on a sheet of paper is drawn as large as it."""
    house = map_houses.example()
    sizes = [block.size for block in maps(house, layer) if isinstance(block, Map)]
    runs = [len([*run]) for size, run in groupby(sizes) if size == "half"]
    assert all(length % 2 == 0 for length in runs), sizes


def test_the_four_gas_maps_of_the_example_stand_two_on_a_sheet(tmp_path: Path) -> None:
    """What all of them have to say of how pipes are drawn stands once above them, so that the
    first two find room under the page's title."""
    house = map_houses.example()
    before = Page("before", "Your gas", ())
    pages = (before, *map_page(house, GAS, "gas_maps", "Where the gas runs"))
    (drawn,) = pages[1:]
    assert sum(isinstance(block, Map) for block in drawn.blocks) == 4
    part = Part("gas_part", "Gas", pages)
    after = Part("after", "After", (Page("last", "Last", ()),))
    book = Book("Handbook", "Maps", (), (part, after))
    made = paper.book_pdf(book, Photos(tmp_path), tmp_path / "maps.pdf")
    assert made.starts["last"] - made.starts["gas_maps"] == 2
