"""The starting record has no findings, and the list of what to record next is worth following."""

import re
from pathlib import Path

import pytest
import rule_houses as houses

from handbook import assets
from handbook.house.house import build
from handbook.loading import load
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.rules import Report, check, facts


def checked(text: str) -> Report:
    return check(build(read_text(text, "house.yaml", Record), Path()))


def starting() -> str:
    return (assets.templates() / "new_house.yaml").read_text("utf-8")


def own(text: str) -> str:
    """The starting record once its builder has put real facts in place of what it made up."""
    text = re.sub(r"where: '.*?'", "where: under the stairs", text)
    return text.replace("000-0000", "555-0142").replace("2026-01-15", "2026-03-02")


@pytest.fixture(scope="module")
def start() -> Report:
    return checked(starting())


def test_a_starting_record_has_no_findings(start: Report) -> None:
    assert start.findings == ()


def test_what_is_left_out_of_it_is_waited_for_and_listed_once(start: Report) -> None:
    asked = [unlock.record for unlock in start.unlocks]
    waiting = [unknown.fact.says for unknown in start.cannot_tell if unknown.fact.gives]
    assert set(waiting) <= set(asked)
    assert len(asked) == len(set(asked))


def test_what_the_starting_record_made_up_is_asked_for_first(start: Report) -> None:
    number, rest = start.unlocks[:2]
    assert "licensed plumber" in number.record
    assert number.gives == "the telephone numbers are still the starting ones (000-0000)"
    assert rest.record == facts.STARTING.says


@pytest.mark.parametrize("kept", ["on: 2026-01-15", "where: '"])
def test_it_is_asked_for_until_the_last_of_it_is_replaced(kept: str) -> None:
    lines = zip(starting().splitlines(), own(starting()).splitlines(), strict=True)
    text = "\n".join(begun if kept in begun else real for begun, real in lines)
    assert checked(text).unlocks[0].record == facts.STARTING.says


def test_every_role_whose_number_is_a_starting_one_is_named_first() -> None:
    more = (
        "  - {role: water utility, phone: 000-0000}\n"
        "  - {role: electrician, phone: 555-0143, after_hours: 000-000-0000}\nwater:\n"
    )
    first = checked(own(starting()).replace("water:\n", more, 1)).unlocks[0]
    assert first.record == "the real telephone numbers of: water utility, electrician (`people`)"
    assert first.gives.endswith("(000-0000, 000-000-0000)")


def test_the_fixtures_come_first_once_there_is_a_main_and_somebody_to_call() -> None:
    assert checked(own(starting())).unlocks[0].record == facts.FIXTURES.says


def test_without_people_or_main_those_come_first() -> None:
    record = Record.model_validate({"format": "1", "house": {"name": "Empty"}})
    report = check(build(record, Path()))
    assert [u.record for u in report.unlocks[:2]] == [facts.PEOPLE.says, facts.MAIN.says]
    assert report.findings == ()


def test_a_section_confirmed_absent_is_neither_found_nor_waited_for() -> None:
    """`gas: none` is an answer: no gas utility to call, nothing to look at."""
    tree = {"format": "1", "house": {"name": "All electric"}, "gas": "none"}
    report = check(build(Record.model_validate(tree), Path()))
    assert facts.GAS not in [unknown.fact for unknown in report.cannot_tell]
    assert report.findings == ()


def test_every_fact_with_a_gain_is_ranked() -> None:
    gains = {f for f in vars(facts).values() if isinstance(f, facts.Fact) and f.gives}
    assert gains == set(facts.BY_WORTH)


def test_each_next_fact_can_be_followed_to_the_end() -> None:
    """Sections of the base house, added to an empty record one by one, leave ever less to ask."""
    tree: houses.Tree = {"format": "1", "house": {"name": "Empty"}}
    wanted = len(check(build(Record.model_validate(tree), Path())).unlocks)
    for section in ("people", "levels", "electrical"):
        tree[section] = houses.base()[section]
        left = len(check(build(Record.model_validate(tree), Path())).unlocks)
        assert left < wanted
        wanted = left


def test_the_example_house_shows_its_three_honest_gaps_and_nothing_else() -> None:
    """Photos are left aside: a checkout may come without the large files."""
    house = load(assets.example_house()).house
    found = [f for f in check(house).findings if f.rule.name != "photo-file-missing"]
    assert [(finding.thing, finding.severity) for finding in found] == [
        ("C6", "gap"),  # the clear space in front of the cleanout under the deck
        ("P2", "gap"),  # where the drain of the washer's pan ends
        ("S5", "gap"),  # the battery of the sensor behind the refrigerator
    ]


def test_what_to_record_next_is_shown_as_it_is_written() -> None:
    first = next(u for u in checked(own(starting())).unlocks if u.record == facts.FIXTURES.says)
    (added,) = first.written
    assert added.lines[0] == "fixtures:"
    assert added.lines[1].startswith("  - {id: hall-wc, kind: water closet, ")


def test_the_doors_of_a_level_with_several_rooms_and_the_stairs_are_asked_for() -> None:
    rooms = "rooms: [{id: a, name: A}, {id: b, name: B}]"
    text = f"{own(starting())}levels: [{{id: main, name: Main, {rooms}}}, {{id: up, name: Up}}]\n"
    asked = [unlock.record for unlock in checked(text).unlocks]
    assert {facts.DOORS.says, facts.STAIRS.says} <= set(asked)
    assert facts.STAIRS.says not in [u.record for u in checked(f"{text}stairs: none\n").unlocks]
