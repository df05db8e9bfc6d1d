"""Every table file says what it holds, where that is from, and whether it was read there."""

import pytest

from handbook import tables
from handbook.house.sizes import inches_of, size_said, trade_inches, trade_name
from handbook.measures import parse_pipe_size


@pytest.mark.parametrize("name", tables.names())
def test_a_table_has_a_title_a_source_whether_it_was_seen_and_values(name: str) -> None:
    known = tables.table(name)
    assert isinstance(known.title, str)
    assert isinstance(known.source, str)
    assert known.title.strip()
    assert known.source.strip()
    assert isinstance(known.seen, bool)
    assert known.values not in (None, {}, [])


def test_no_two_tables_have_one_title() -> None:
    titles = [tables.table(name).title for name in tables.names()]
    assert len(titles) == len(set(titles))


@pytest.mark.parametrize(
    ("written", "name", "inches"),
    [
        # ISO 6708 / ASME B36.10M (stated from memory); the codes' drains: 40, 50, 65, 75, 100 mm
        ("15 mm", "1/2 in", 0.5),
        ("20 mm", "3/4 in", 0.75),
        ("32 mm", "1-1/4 in", 1.25),
        ("40 mm", "1-1/2 in", 1.5),
        ("50 mm", "2 in", 2),
        ("75 mm", "3 in", 3),
        ("80 mm", "3 in", 3),
        ("100 mm", "4 in", 4),
        ("1-1/4 in", "1-1/4 in", 1.25),
    ],
)
def test_a_size_is_looked_up_under_its_trade_name(written: str, name: str, inches: float) -> None:
    size = parse_pipe_size(written)
    assert (trade_name(size), trade_inches(size)) == (name, inches)
    assert inches_of(name) == inches


def test_a_size_with_no_trade_name_keeps_its_own() -> None:
    assert trade_name(parse_pipe_size("16 mm")) == "16 mm"


def test_a_tables_size_is_said_in_the_houses_names() -> None:
    assert (size_said(1.5, "US"), size_said(1.5, "metric")) == ("1-1/2 in", "40 mm")
