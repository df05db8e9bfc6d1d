"""The emergency sheet and the tags on paper. Codes are read from pictures of the sheets by
zxing-cpp, which shares nothing with the library that drew them.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
import reading_back
import sample_book
from PIL import Image
from reading_back import Made

from handbook import assets, load
from handbook.output import fonts, paper, qr
from handbook.output.errors import OutputError
from handbook.output.photos import Photos
from handbook.pages.content import Step, line, plain
from handbook.pages.tags import tag_sheet


def test_the_sheet_is_one_side_and_holds_every_band(printed_sheet: Made) -> None:
    assert printed_sheet.printed.sheets == 1
    words = reading_back.text(printed_sheet.path)
    for band in sample_book.sheet().bands:
        assert f"{band.word.upper()} {band.title}" in words


def test_a_sheet_with_too_much_on_it_is_an_error_not_a_second_side(tmp_path: Path) -> None:
    sheet = sample_book.sheet()
    band = replace(sheet.bands[0], steps=(Step(line("Do it.")),) * 60)
    with pytest.raises(OutputError, match="does not fit"):
        paper.sheet_pdf(replace(sheet, bands=(band,)), Photos(tmp_path), tmp_path / "x.pdf")
    assert not (tmp_path / "x.pdf").exists()


def test_the_sheet_is_set_as_large_as_fits(tmp_path: Path) -> None:
    """One band leaves room for 17 pt, within large print (16 to 18 pt)."""
    sheet = sample_book.sheet()
    out = tmp_path / "x.pdf"
    paper.sheet_pdf(replace(sheet, bands=sheet.bands[1:2]), Photos(tmp_path), out)
    sizes = {round(s) for words, _, _, s in reading_back.placed(out) if "Go outside" in words}
    assert sizes == {17}


def test_the_sheets_code_leads_to_the_pages(printed_sheet: Made, tmp_path: Path) -> None:
    (codes,) = reading_back.codes(printed_sheet.path, tmp_path)
    assert [code.text for code in codes] == [qr.encoded(sample_book.HOST)]


def test_every_tag_has_one_code_that_reads_back_as_its_payload(
    printed_tags: Made, tmp_path: Path
) -> None:
    sheets = reading_back.codes(printed_tags.path, tmp_path)
    read = Counter(code.text for sheet in sheets for code in sheet)
    assert read == Counter(qr.encoded(card.payload) for card in sample_book.tags().cards)


def test_a_tags_code_stands_beside_its_own_number(printed_tags: Made, tmp_path: Path) -> None:
    """Each code's payload names the id printed on the same card (in the same 2 in of height and
    the same half of the sheet)."""
    sheets = reading_back.codes(printed_tags.path, tmp_path)
    ids = {card.id: qr.encoded(card.payload) for card in sample_book.tags().cards}
    for number, codes in enumerate(sheets):
        pieces = [p for p in reading_back.placed(printed_tags.path, number) if p[0] in ids]
        for word, x, y, _ in pieces:
            cell = (x > 4.25, int((y - 0.5) // 2))
            beside = [
                code.text
                for code in codes
                if (
                    code.position.top_left.x / 150 > 4.25,
                    int((code.position.top_left.y / 150 - 0.5) // 2),
                )
                == cell
            ]
            assert beside == [ids[word]]


def test_printed_modules_are_at_least_half_a_millimetre(printed_tags: Made, tmp_path: Path) -> None:
    """Width between a code's corners at 300 dpi over its count of modules (4 version + 17,
    ISO/IEC 18004)."""
    for sheet in reading_back.codes(printed_tags.path, tmp_path, dpi=300):
        for code in sheet:
            corners = code.position
            across = (corners.top_right.x - corners.top_left.x) / 300 * 25.4
            modules = qr.side_mm(code.text, 1) - 2 * qr.QUIET
            assert across / modules >= 0.5


def test_a_tags_number_can_be_read_from_a_metre(printed_tags: Made) -> None:
    """ANSI Z535.2 9.2 as quoted by sign makers: letters of distance / 300, doubled in poor light:
    3 ft 3 in / 150 = 6.6 mm for short numbers; 6 mm (for 3 ft) is allowed to those too long."""
    ids = {card.id for card in sample_book.tags().cards}
    heights = {
        word: size * fonts.CAPITAL_HEIGHT * 25.4 / 72
        for sheet in (0, 1)
        for word, _, _, size in reading_back.placed(printed_tags.path, sheet)
        if word in ids
    }
    assert set(heights) == ids
    assert all(height >= (6.6 if len(word) <= 6 else 6.0) for word, height in heights.items())


def test_cards_lie_where_ten_up_label_sheets_have_their_labels(printed_tags: Made) -> None:
    """Label pitch 4.1875 x 2 in, left 0.15625 in, top 0.5 in (template data of a free label
    program, numbers only)."""
    ids = [card.id for card in sample_book.tags().cards[:10]]
    placed = {
        word: (x, y) for word, x, y, _ in reading_back.placed(printed_tags.path) if word in ids
    }
    x0, y0 = placed[ids[0]]
    assert 0.15625 + 1 / 16 <= x0 <= 0.5
    assert 0.5 <= y0 <= 2.5
    for place, tag in enumerate(ids):
        x, y = placed[tag]
        assert x - x0 == pytest.approx(4.1875 * (place % 2), abs=1 / 64)
        assert y - y0 == pytest.approx(2 * (place // 2), abs=1 / 64)


def test_words_that_do_not_fit_a_card_are_cut_and_marked_so(tmp_path: Path) -> None:
    tags = sample_book.tags()
    place = "; ".join(f"behind the {n}. panel on the left" for n in range(1, 20))
    long = replace(tags.cards[0], place=place)
    paper.tags_pdf(replace(tags, cards=(long, *tags.cards[1:])), Photos(tmp_path), tmp_path / "t")
    words = " ".join(reading_back.text(tmp_path / "t").split())
    assert "behind the 1. panel on the left" in words
    assert "..." in words
    assert "behind the 19. panel" not in words
    assert all(card.id in words for card in tags.cards)


def test_an_alarm_keeps_what_to_close_and_gives_up_its_place_first_and_numbers_last(
    tmp_path: Path,
) -> None:
    tags = sample_book.tags()
    long = replace(
        tags.cards[0],
        turn="If it is wet: close W20.",
        besides=("Where: under the tub.", "In doubt: W5, den.", "Plumber: 555-0112."),
        stops=("Watches: " + "; ".join(f"basin {n} in the hall" for n in range(1, 30)) + ".",),
        place="Den. Behind the stove; beside the shelf.",
    )
    paper.tags_pdf(replace(tags, cards=(long,)), Photos(tmp_path), tmp_path / "t")
    words = " ".join(reading_back.text(tmp_path / "t").split())
    assert "Where: under the tub. In doubt: W5, den. Plumber: 555-0112." in words
    assert words.index("close W20") < words.index("Watches: basin 1 in the hall")
    assert "Den" not in words  # it hangs there
    assert "stove" not in words


def test_the_example_houses_alarms_say_all_that_they_watch(tmp_path: Path) -> None:
    home = load(assets.example_house()).house
    sheet = tag_sheet(home)
    alarms = tuple(card for card in sheet.cards if card.kind == "sensor")
    paper.tags_pdf(replace(sheet, cards=alarms), Photos(tmp_path), tmp_path / "t")
    words = " ".join(reading_back.text(tmp_path / "t").split())
    for card in alarms:
        assert plain(card.stops) in words
        assert " ".join((card.turn, *card.besides)) in words


def test_a_name_that_does_not_fit_its_card_is_an_error_that_names_it(tmp_path: Path) -> None:
    tags = sample_book.tags()
    long = replace(tags.cards[0], name="very long name " * 40)
    sheet = replace(tags, cards=(long,))
    with pytest.raises(OutputError, match=f"tag {long.id} do not fit"):
        paper.tags_pdf(sheet, Photos(tmp_path), tmp_path / "t.pdf")


def test_a_payload_too_dense_for_its_tag_is_an_error_that_names_it(tmp_path: Path) -> None:
    tags = sample_book.tags()
    dense = replace(tags.cards[0], payload="turn the lever a quarter turn " * 12)
    with pytest.raises(OutputError, match=r"W1.*0\.5 mm"):
        paper.tags_pdf(replace(tags, cards=(dense,)), Photos(tmp_path), tmp_path / "x.pdf")


def test_a_spare_band_is_left_out_before_the_sheet_is_an_error(tmp_path: Path) -> None:
    sheet = sample_book.sheet()
    many = tuple(Step(line(f"Do the {n}. thing.")) for n in range(40))
    spare = replace(sheet.bands[0], title="What the book says too", steps=many, spare=True)
    full = replace(sheet, bands=(*sheet.bands, spare))
    paper.sheet_pdf(full, Photos(tmp_path), tmp_path / "s.pdf")
    words = reading_back.text(tmp_path / "s.pdf")
    assert "What the book says too" not in words
    assert sheet.bands[0].title in words


def test_spare_bands_are_left_out_the_last_first(tmp_path: Path) -> None:
    sheet = sample_book.sheet()
    first, last = (
        replace(
            sheet.bands[0],
            title=title,
            steps=tuple(Step(line(f"Do the {n}. thing.")) for n in range(count)),
            spare=True,
        )
        for title, count in (("Rather wanted", 3), ("Least wanted", 40))
    )
    full = replace(sheet, bands=(first, *sheet.bands, last))
    paper.sheet_pdf(full, Photos(tmp_path), tmp_path / "s.pdf")
    words = reading_back.text(tmp_path / "s.pdf")
    assert "Rather wanted" in words
    assert "Least wanted" not in words


def test_tags_keep_a_quarter_inch_from_the_papers_edge(printed_tags: Made, tmp_path: Path) -> None:
    """Home printers leave some 1/4 in white (common practice, no source); cut lines may be lost."""
    dpi = 100
    for path in reading_back.pictures(printed_tags.path, tmp_path, dpi):
        sheet = Image.open(path).convert("L")
        ink = sheet.point(lambda grey: 255 if grey < 140 else 0).getbbox()  # cut lines are #aaa
        assert ink is not None
        left, right = ink[0] / dpi, (sheet.width - ink[2]) / dpi
        assert min(left, right) >= 0.25
