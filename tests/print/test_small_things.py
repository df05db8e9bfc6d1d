"""Typography, fonts, finding our own data, and content that cannot be made."""

from __future__ import annotations

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from handbook import assets
from handbook.output import fonts
from handbook.output.typography import glue
from handbook.pages.content import Call, Go, Page, Strong, Table, Tag, line, plain

NBSP = "\u00a0"


@pytest.mark.parametrize(
    ("written", "pieces"),
    [
        ("38 ft of 1 in PEX", ["38_ft of 1_in PEX"]),
        ("12 ft 6 in away", ["12_ft_6_in away"]),
        ("1 1/2 in pipe", ["1_1/2_in pipe"]),
        ("1/4 in per ft", ["1/4_in_per ft"]),
        ("68 psi, 140 °F, 199000 Btu/h", ["68_psi, 140_°F, 199000_Btu/h"]),
        ("about 25 seconds", ["about 25_seconds"]),
        ("8 am to 4:30 pm", ["8_am to 4:30_pm"]),
        ("see page 4", ["see page_4"]),
        ("2 inner doors, 3 in all", ["2 inner doors, 3_in all"]),
        ("close W1 in the hall", ["close W1 in the hall"]),
    ],
)
def test_a_number_and_its_unit_stay_on_one_line(written: str, pieces: list[str]) -> None:
    assert glue(written) == pieces[0].replace("_", NBSP)


@given(st.text())
def test_gluing_changes_nothing_but_spaces(text: str) -> None:
    assert glue(text).replace(NBSP, " ") == text.replace(NBSP, " ")


def test_the_family_is_whole_and_its_capitals_are_as_high_as_stated() -> None:
    for face in fonts.FACES:
        with TTFont(fonts.folder() / face.file) as font:
            assert font["name"].getBestFamilyName() == fonts.FAMILY
            assert font["OS/2"].usWeightClass == face.weight
            height = font["OS/2"].sCapHeight / font["head"].unitsPerEm
            assert height == pytest.approx(fonts.CAPITAL_HEIGHT, abs=0.001)


def test_the_licence_travels_with_the_fonts() -> None:
    assert "SIL OPEN FONT LICENSE Version 1.1" in fonts.licence().read_text(encoding="utf-8")


def test_characters_without_a_shape_are_listed_in_code_order() -> None:
    assert fonts.missing_characters(["Peña 1½\u00a0in, 70 °F", "\u2192 up", "\u4e2d\n"]) == (
        "\u2192",
        "\u4e2d",
    )


def test_our_data_is_found_in_a_checkout_and_in_an_installed_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert (assets.templates() / "book.html").is_file()
    package = tmp_path / "site" / "handbook"
    (package / "_templates").mkdir(parents=True)
    (tmp_path / "site" / "templates").mkdir()
    (tmp_path / "site" / "example_house").mkdir()
    monkeypatch.setattr(assets, "_PACKAGE", package)
    assert assets.templates() == package / "_templates"  # inside first
    assert assets.example_house() == tmp_path / "site" / "example_house"  # else beside


def test_lost_data_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(assets, "_PACKAGE", tmp_path / "handbook")
    with pytest.raises(FileNotFoundError, match="templates"):
        assets.templates()


def test_the_words_of_a_line() -> None:
    spans = line(
        "Close ",
        Tag("W1", "Main"),
        ", ",
        Strong("now"),
        ", ",
        Go("p", "see"),
        " ",
        Call("555-0142", "tel:+15550142"),
    )
    assert plain(spans) == "Close W1 (Main), now, see 555-0142"


@pytest.mark.parametrize("name", ["", "a/b", "..", "W 1", ".x", "-x", "a\n"])
def test_a_page_id_that_cannot_be_a_folder_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="address"):
        Page(name, "t", ())


def test_a_table_with_a_cell_too_few_is_refused() -> None:
    with pytest.raises(ValueError, match="2 cells"):
        Table("c", ("a", "b"), ((line("x"),),))
