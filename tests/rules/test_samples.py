"""What to record next, added exactly as it is shown and where it is told, can be read and mends."""

import re
from pathlib import Path

import pytest
import rule_houses as houses
import yaml

from handbook import assets
from handbook.answers.isolate import isolate
from handbook.house.house import House, build
from handbook.output.findings import as_text
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense
from handbook.rules import Unlock, check, facts
from handbook.rules.rule import Fact
from handbook.rules.samples import Added

LEVELS = """levels:
  - id: low
    name: Lower level
    rooms: [{id: cellar, name: Cellar}, {id: shop, name: Workshop}]
  - id: main
    name: Main level
    rooms: [{id: den, name: Den}, {id: bath, name: Bath}]
"""
IN_BRACES = """format: 1
house: {name: Braces}
levels:
  - {id: low, name: Lower level, rooms: [{id: cellar, name: Cellar}, {id: shop, name: Shop}]}
water: {valves: [{id: W1, main: yes}]}
drains: {stretches: [{id: BD}], cleanouts: unknown}
gas:
  {fuel: propane}
safeguards: {}
"""
STARTING = (assets.templates() / "new_house.yaml").read_text("utf-8")
RECORDS = {
    "just begun": STARTING,
    "rooms alone": f"format: 1\nhouse:\n  name: Rooms\n{LEVELS}",
    "begun, with rooms": STARTING + LEVELS,
    "with a source": STARTING.replace("  valves:", "  sources: [{id: CITY}]\n  valves:") + LEVELS,
    "in braces": IN_BRACES,
    "all in braces": "{format: 1, house: {name: Braces}}\n",
    "unknown": "format: 1\nhouse:\n  name: Unknown\npeople: unknown\nwater: unknown\n"
    "fixtures: unknown\nsafeguards:\n  pans: unknown\n  sensors: unknown\ngas: unknown\n",
}


def house_of(text: str) -> House:
    return build(read_text(text, "house.yaml", Record, (check_ids, check_sense)), Path())


def line_of(one: Added) -> int:
    """The line that is named; 0 where the lines stand by themselves."""
    found = re.search(r"\(line (\d+)\)", one.under)
    return int(found[1]) if found else 0


def depth(line: str) -> str:
    return " " * (len(line) - len(line.lstrip()))


def added(text: str, one: Added) -> str:
    """Write the lines below the line that is named, as deep as what stands there, or in its
    place; by themselves at the end."""
    lines, at = text.splitlines(), line_of(one)
    if not at:
        return "\n".join([*lines, *one.lines]) + "\n"
    if one.under.startswith("inside "):
        return "\n".join([*lines[: at - 1], inside(lines[at - 1], one), *lines[at:]]) + "\n"
    in_place = one.under.startswith("in place of ")
    if in_place and "{" in lines[at - 1]:
        (old,), (line,) = re.findall(r"(\w+: unknown)`", one.under), one.lines
        return text.replace(old, line)
    pad = depth(lines[at - 1] if in_place else lines[at])
    new = [pad + line for line in one.lines]
    return "\n".join([*lines[: at - in_place], *new, *lines[at:]]) + "\n"


def inside(line: str, one: Added) -> str:
    """Write the one line after the bracket that opens behind what is named."""
    (new,) = one.lines
    named = re.findall(r"`(?:.*: )?([\w-]+):?`", one.under)  # none: the whole record
    start = max([0, *(line.find(sign) for n in named for sign in (f"{n}:", f"{{id: {n},"))])
    at = min(n for n in (line.find("{", start), line.find("[", start)) if n >= 0) + 1
    rest = line[at:]
    return f"{line[:at]}{new}{'' if rest[0] in ']}' else ', '}{rest}"


def with_all(text: str, unlock: Unlock) -> str:
    """Add all that is shown, from the last line up, so that the lines named stay where they are."""
    for one in sorted(unlock.written, key=line_of, reverse=True):
        text = added(text, one)
    return text


SHOWN = [
    pytest.param(text, unlock, id=f"{name}: {unlock.record.split(' (')[0]}")
    for name, text in RECORDS.items()
    for unlock in check(house_of(text)).unlocks
    if unlock.written
]


@pytest.mark.parametrize(("text", "unlock"), SHOWN)
def test_a_sample_added_as_it_is_shown_can_be_read_and_is_not_asked_for_again(
    text: str, unlock: Unlock
) -> None:
    after = check(house_of(with_all(text, unlock))).unlocks
    assert unlock.record not in [each.record for each in after]


def shown(text: str, fact: Fact) -> Unlock:
    return next(unlock for unlock in check(house_of(text)).unlocks if unlock.record == fact.says)


def test_the_ladder_ends_at_the_utilitys_valve_once_it_is_added_as_shown() -> None:
    house = house_of(with_all(STARTING, shown(STARTING, facts.UTILITY_VALVE)))
    closed = [valve for rung in isolate(house, "house").ladder for valve in rung.close]
    assert closed == ["W1", "U1"]


def test_the_people_shown_are_both_of_those_that_are_asked_for() -> None:
    text = RECORDS["rooms alone"]
    house = house_of(with_all(text, shown(text, facts.PEOPLE)))
    assert [person.role for person in house.record.people or ()] == [
        "emergency",
        "licensed plumber",
    ]


def test_the_main_outdoors_is_never_shown_to_be_the_one_indoors() -> None:
    text = STARTING.replace("water:", "water:\n  inside_main: W1")
    (one,) = shown(text, facts.OUTSIDE_MAIN).written
    assert one == Added(("outside_main: none",), "under `water:` (line 9)")


def test_what_goes_into_braces_is_shown_as_it_is_written_there() -> None:
    assert shown(IN_BRACES, facts.INSIDE_MAIN).written == (
        Added(("inside_main: W1",), "inside the braces of `water:` (line 5), parted by a comma"),
    )
    (one,) = shown(IN_BRACES, facts.GAS_METER).written
    assert one.under == "inside the braces of `gas:` (line 8), parted by a comma"
    assert one.lines[0].startswith("meter: {id: GM, ")


def test_a_group_is_shown_a_key_a_line_so_that_more_can_be_added_below_it() -> None:
    text = RECORDS["rooms alone"] + "gas:\n  fuel: propane\n"
    (one,) = shown(text, facts.GAS_METER).written
    assert one.lines[:3] == ("meter:", "  id: GM", "  name: Gas meter")


def test_nothing_is_shown_that_the_record_has_too_little_for() -> None:
    """Stairs join rooms of two levels; a record without rooms has none to name."""
    assert shown(STARTING, facts.STAIRS).written == ()
    (one,) = shown(STARTING + LEVELS, facts.STAIRS).written
    assert one.lines[1].startswith("  - {id: stairs, foot: {room: cellar}, head: {room: den}")


def test_the_report_says_what_to_record_next_first_and_shows_the_first_three_samples() -> None:
    said = as_text(check(house_of(STARTING)), colour=False)
    assert said.index("What to record next") < said.index("Cannot tell yet")
    assert re.findall(r"^ {7}(\w+):", said, re.MULTILINE) == [
        "fixtures",
        "inside_main",
        "outside_main",
    ]
    assert said.count("under `water:` (line 9):") == 2


def test_words_that_only_somebody_on_the_spot_has_are_asked_for_once_they_are_pasted() -> None:
    text = with_all(STARTING, shown(STARTING, facts.UTILITY_VALVE))
    found = [f for f in check(house_of(text)).findings if f.rule.code == "RC-15"]
    assert [finding.thing for finding in found] == ["U1"]
    written = text.replace("(to be written here: where it is)", "in the grass at the walk")
    assert "RC-15" not in [f.rule.code for f in check(house_of(written)).findings]


def test_the_plumbers_number_that_was_shown_is_asked_for_once_it_is_pasted() -> None:
    text = RECORDS["rooms alone"]
    after = check(house_of(with_all(text, shown(text, facts.PEOPLE)))).unlocks
    assert after[0].record == "the real telephone numbers of: licensed plumber (`people`)"


def test_two_samples_under_one_new_key_do_not_begin_it_twice(folder: Path) -> None:
    tree = {key: value for key, value in houses.base().items() if key != "drains"}
    said = as_text(check(build(Record.model_validate(tree), folder)), colour=False)
    assert re.findall(r"^ +drains:$", said, re.MULTILINE) == ["       drains:"]
    assert said.count("under the `drains:` shown above:") == 2
    lines = [line.removeprefix(" " * 7) for line in said.splitlines() if line[:7] == " " * 7]
    pasted = yaml.safe_load("\n".join(lines))
    assert list(pasted["drains"]) == ["stretches", "cleanouts", "discharge"]
