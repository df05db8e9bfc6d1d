"""The guides against what public authorities publish.

`emergency_facts` holds each fact in our own words with its source. Here it is held that every
guide names its facts, that no fact is idle, and that what the sources ask for stands in the
guide, in the order that they ask for.
"""

import re
from pathlib import Path

import pytest

from handbook.tables import table

GUIDES = Path(__file__).parents[2] / "templates" / "guides"
FACTS = table("emergency_facts").values


def guide(name: str) -> str:
    return (GUIDES / f"{name}.md").read_text("utf-8")


def names() -> list[str]:
    return sorted(path.stem for path in GUIDES.glob("[a-z]*.md"))


def followed(name: str) -> list[str]:
    comment = re.search(r"\{# Follows: (.*?)\.\s*#\}", guide(name), re.DOTALL)
    assert comment, f"{name} names no facts"
    return re.findall(r"\w+", comment[1])


@pytest.mark.parametrize("name", names())
def test_each_guide_names_only_facts_that_are_in_the_table(name: str) -> None:
    assert set(followed(name)) <= set(FACTS)


def test_every_fact_is_followed_by_some_guide() -> None:
    assert set(FACTS) == {fact for name in names() for fact in followed(name)}


@pytest.mark.parametrize("name", FACTS)
def test_each_fact_says_where_it_was_read(name: str) -> None:
    fact = FACTS[name]
    assert fact["fact"]
    assert len(fact["source"]) > 2
    assert fact["seen"] in (True, False)
    assert fact["seen"] or "memory" in fact["source"]


@pytest.mark.parametrize(
    ("name", "in_order", "source"),
    [
        (
            "gas",
            [
                "touch a switch",
                "light anything",
                "phone indoors",
                "start a car",
                "look for the leak",
            ],
            "US DOT PHMSA; Pennsylvania PUC: no spark, no search",
        ),
        (
            "gas",
            ["Get everyone out", "Walk well away", 'call["emergency"]', 'call["gas utility"]'],
            "US DOT PHMSA; Pennsylvania PUC: leave, then call from a place well away",
        ),
        ("gas", ["Wait outside until they say", "Keep other people away"], "Pennsylvania PUC"),
        ("gas", ["Never relight", "gas company or a licensed plumber"], "Limestone County AL EMA"),
        (
            "carbon-monoxide",
            ["fresh air", 'call["emergency"]', "Count heads", "Stay outside until they say"],
            "NFPA carbon monoxide alarm tips; City of Williamsburg VA for the count",
        ),
        ("carbon-monoxide", ["headache", "dizzy", "sick stomach", "chest pain"], "CDC"),
        ("backup", ["Keep children and pets out"], "CDC cleanup of flood water"),
        ("backup", ["boots, gloves and goggles", "soap"], "CDC cleanup of flood water"),
        ("backup", ["Use no water", 'call["licensed plumber"]'], "Seattle Public Utilities"),
        (
            "water-and-power",
            ["as live", "Do not step into it", 'call["electric utility"]', "whole way"],
            "Bonneville Power Administration; Illinois extension for the panel",
        ),
        ("water-and-power", ['call["electrician"]', "before the power comes back"], "BPA"),
        (
            "frozen",
            ["no torch", "Open the tap", "hair dryer or towels", "until the water runs full"],
            "American Red Cross, frozen pipes",
        ),
        ("relief-drips", ["Never plug, cap"], "IRC P2804.6.1: no valve, no plug, free flow"),
        ("no-hot-water", ["If it trips again", "leave it off"], "common practice, no source"),
    ],
)
def test_the_guide_says_what_its_source_asks_in_that_order(
    name: str, in_order: list[str], source: str
) -> None:
    text, at = guide(name), -1
    for words in in_order:
        found = text.find(words, at + 1)
        assert found > at, f"{name}: {words!r} ({source})"
        at = found


def test_the_setting_that_is_safe_is_the_commissions() -> None:
    # US Consumer Product Safety Commission, tap water scalds: 120 F.
    assert FACTS["scald_setting"]["temperature_f"] == 120


def test_the_heat_left_on_in_the_cold_is_the_red_crosss() -> None:
    # American Red Cross, frozen pipes: no lower than 55 F.
    assert FACTS["frost_keep_warm"]["temperature_f"] == 55


def test_stale_water_is_flushed_for_as_long_as_the_water_authority_says() -> None:
    # Prince William County VA service authority: at least 15 minutes, the cold first.
    assert FACTS["back_flush"]["minutes"] == 15


def test_water_at_the_safe_setting_burns_only_after_minutes() -> None:
    # A hospital scald sheet: over 5 minutes at 120 F, under 5 seconds at 140 F.
    seconds = dict(table("scald").values)
    assert seconds[120.0] > 5 * 60
    assert seconds[140.0] < 5
