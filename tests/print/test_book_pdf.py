"""The handbook on paper, read back with pypdf."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
import reading_back
import sample_book
from PIL import Image
from reading_back import Made

from handbook import assets, load
from handbook.output import paper
from handbook.output.errors import OutputError
from handbook.output.photos import Photos
from handbook.pages.book import book
from handbook.pages.content import Go, Page, Para, Part, Step, Steps, Table, line


def test_the_bookmarks_are_the_parts_and_the_page_titles(printed_book: Made) -> None:
    expected = []
    for part in sample_book.book().parts:
        expected.append((0, part.title))
        for page in part.pages:
            expected.append((1, f"{page.tag} {page.title}" if page.tag else page.title))
    assert reading_back.outline(printed_book.path) == expected


def test_the_words_come_back_in_reading_order(printed_book: Made) -> None:
    words = reading_back.text(printed_book.path)
    in_order = [
        "If something is wrong now",
        "Water near outlets or the panel can kill.",
        "If it comes from the hall bath or the ceiling under it:",
        "Close W4 in the hall linen closet.",
        "Close W1 (Main shutoff, inside) in the utility room.",
        "Call the plumber: 555-0142.",
        "Contents",  # behind the emergency pages
        "Every valve, its number and what it stops.",
        "1 1/2 in PEX, 38 ft to the meter",
        "The heater must be off before the house is drained.",
        "Water at 140 °F scalds in seconds.",
        "foam at the rim",
    ]
    places = [words.find(piece) for piece in in_order]
    assert -1 not in places
    assert places == sorted(places)


def test_a_name_full_of_markup_is_printed_as_it_stands(printed_book: Made) -> None:
    """Twice: once as a fact, once inside a Markdown guide."""
    words = reading_back.text(printed_book.path).replace(" ", "")
    assert words.count(sample_book.NASTY.replace(" ", "")) == 2


def test_the_contents_and_the_cover_give_the_sheets_that_pages_are_on(printed_book: Made) -> None:
    reader = pypdf.PdfReader(printed_book.path)
    contents = re.sub(r"\s+", " ", reader.pages[4].extract_text())  # behind the cover and 3 red
    for page in sample_book.book().pages:
        listed = re.search(re.escape(page.title) + r"[ .]*?(\d+)", contents)
        assert listed is not None, page.title
        assert int(listed[1]) == printed_book.printed.starts[page.id]
        words = re.sub(r"\s+", " ", reader.pages[int(listed[1]) - 1].extract_text())
        assert page.title in words


def test_every_link_leads_to_a_place_in_the_file_or_to_a_telephone(printed_book: Made) -> None:
    reader = pypdf.PdfReader(printed_book.path)
    names = set(reader.named_destinations)
    inner, outer = [], []
    for page in reader.pages:
        for annotation in page.get("/Annots", []):
            link = annotation.get_object()
            action = link.get("/A", {})
            if "/URI" in action:
                outer.append(str(action["/URI"]))
            else:
                inner.append(str(link.get("/Dest") or action["/D"]))
    assert len(inner) > 40  # contents 9 + parts 3, cover 3, a tag in most rows of the schedule
    assert set(inner) <= names
    assert set(outer) == {"tel:+15550142", "tel:+15550177", "tel:911", "https://builder.example/"}


def test_the_cover_leads_to_an_urgent_page_that_is_not_red(tmp_path: Path) -> None:
    calm = [Page(name, title, (Para(line("Look.")),)) for name, title in CALM.items()]
    pages = (calm[0], replace(calm[1], urgent=True))
    red = Part("e", "Emergency", (Page("r", "Water", (Para(line("Close.")),), red=True),))
    parts = (red, Part("p", "Calm", pages))
    printed = tmp_path / "x.pdf"
    paper.book_pdf(replace(sample_book.book(), parts=parts), Photos(tmp_path), printed)
    cover = pypdf.PdfReader(printed).pages[0].extract_text()
    assert CALM["b"] in cover
    assert CALM["a"] not in cover


CALM = {"a": "Shut it off for a trip", "b": "A leak alarm sounds"}


def test_an_emergency_page_has_a_sheet_of_its_own(printed_book: Made) -> None:
    starts = printed_book.printed.starts
    red = [page.id for page in sample_book.book().pages if page.red]
    # cover 1, then the three of them, so that one turn reaches the first; contents 5
    assert [starts[page] for page in red] == [2, 3, 4]
    assert starts["schedule"] == 6


def test_an_emergency_page_that_runs_over_is_named(tmp_path: Path) -> None:
    steps = Steps(tuple(Step(line(f"Do the {n}. thing.")) for n in range(30)))
    long = Page("long", "Too much", (steps,), red=True)
    book = replace(sample_book.book(), parts=(Part("p", "Emergency", (long,)),))
    printed = paper.book_pdf(book, Photos(tmp_path), tmp_path / "x.pdf")
    # 30 steps of 16 x 1.25 + 7 = 27 pt are 810 pt; a sheet has 11 - 0.98 - 0.62 in = 677 pt
    assert printed.warnings == ("the emergency page 'Too much' takes 2 sheets",)


@pytest.mark.parametrize("units", ["US", "metric"])
def test_every_emergency_page_of_the_example_house_fits_its_sheet(
    units: str, tmp_path: Path
) -> None:
    record = (assets.example_house() / "house.yaml").read_text(encoding="utf-8")
    assert record.count("units: US") == 1
    (tmp_path / "house.yaml").write_text(record.replace("units: US", f"units: {units}"))
    example = book(load(tmp_path).house)
    red = any(page.red for page in example.pages)
    bare = [replace(part, pages=tuple(map(_bare, part.pages))) for part in example.parts]
    printed = paper.book_pdf(
        replace(example, parts=tuple(bare)), Photos(tmp_path), tmp_path / "x.pdf"
    )
    assert red
    assert printed.warnings == ()


def _bare(page: Page) -> Page:
    """All but the emergency pages as headings, which is what the others are linked by."""
    return page if page.red else replace(page, blocks=())


def test_a_table_over_two_sheets_repeats_its_head_and_keeps_all_rows(printed_book: Made) -> None:
    reader = pypdf.PdfReader(printed_book.path)
    start = printed_book.printed.starts["schedule"]
    sheets = [reader.pages[start - 1].extract_text(), reader.pages[start].extract_text()]
    assert all("Stops" in words and "Turn" in words for words in sheets)
    # 6 valves, 8 times over
    assert sum(words.count("quarter") for words in sheets) == 48


def test_a_photo_is_made_small_and_keeps_no_exif(printed_book: Made) -> None:
    images = [image for page in pypdf.PdfReader(printed_book.path).pages for image in page.images]
    data = {image.data for image in images}  # pages share their resources
    assert len(data) == 1
    picture = Image.open(io.BytesIO(data.pop()))
    assert max(picture.size) == 1200
    assert not picture.getexif()


def test_a_character_that_the_font_lacks_is_said(tmp_path: Path) -> None:
    page = Page("p", "One", (Para(line("Turn it \u2192 right.")),))
    book = replace(sample_book.book(), parts=(Part("a", "A", (page,)),))
    printed = paper.book_pdf(book, Photos(tmp_path), tmp_path / "x.pdf")
    assert printed.warnings == ("the font has no '\u2192' (U+2192)",)


def test_a_link_to_a_page_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    page = Page("p", "One", (Para(line(Go("q", "the other"))),))
    book = replace(sample_book.book(), parts=(Part("a", "A", (page,)),))
    with pytest.raises(OutputError, match="'q'"):
        paper.book_pdf(book, Photos(tmp_path), tmp_path / "x.pdf")
    assert not (tmp_path / "x.pdf").exists()


def test_steps_can_go_on_counting(printed_book: Made) -> None:
    """The sample's single step under W1 has the number 3."""
    start = printed_book.printed.starts["W1"]
    words = pypdf.PdfReader(printed_book.path).pages[start - 1].extract_text()
    assert re.search(r"3\s*Call the water utility", words)


def test_body_type_is_11_points_and_emergency_type_16(printed_book: Made) -> None:
    body = reading_back.placed(printed_book.path, printed_book.printed.starts["care"] - 1)
    red = reading_back.placed(printed_book.path, printed_book.printed.starts["water-out"] - 1)
    assert {round(size) for words, _, _, size in body if words.startswith("Twice")} == {11}
    assert {round(size) for words, _, _, size in red if "Open the lowest" in words} == {16}


@pytest.mark.parametrize("lines", range(17, 25))
def test_a_short_table_stays_whole_wherever_it_falls(tmp_path: Path, lines: int) -> None:
    above = tuple(Para(line(f"Line {each}.")) for each in range(lines))
    rows = tuple((line(f"row-{number}"), line("enough")) for number in range(6))
    page = Page("p", "One", (*above, Table("Sizes", ("To", "It is"), rows)))
    book = replace(sample_book.book(), parts=(Part("a", "A", (page,)),))
    paper.book_pdf(book, Photos(tmp_path), tmp_path / "x.pdf")
    sheets = [each.extract_text() for each in pypdf.PdfReader(tmp_path / "x.pdf").pages]
    assert [said.count("row-") for said in sheets if "row-" in said] == [6]


def test_three_shutoffs_of_the_example_house_stand_on_a_sheet(tmp_path: Path) -> None:
    example = book(load(assets.example_house()).house)
    (valves,) = (part for part in example.parts if part.id == "shutoff_part")
    kept = {page.id for page in valves.pages} | {"open_walls"}
    bare = [
        replace(part, pages=tuple(p if p.id in kept else replace(p, blocks=()) for p in part.pages))
        for part in example.parts
    ]
    made = replace(example, parts=tuple(bare))
    starts = paper.book_pdf(made, Photos(assets.example_house()), tmp_path / "x.pdf").starts
    sheets = [starts[page.id] for page in valves.pages if page.tag]
    *full, last = (sheets.count(sheet) for sheet in sorted(set(sheets)))
    assert set(full) == {3}
    assert 1 < last <= 3
