"""A report as text and as JSON says the same, with the place of each finding."""

import json
import re
from pathlib import Path

import pytest
import rule_houses as houses

from handbook.house.house import build
from handbook.output.findings import as_json, as_text
from handbook.record.grammar.record import Record
from handbook.rules import Report, check

OVER = """
gas: {bonding: none}
safeguards:
  sensors: [{id: S1, name: Sensor, place: {room: closet}, watches: [WH], does: [sounds]}]
water: {static_pressure: unknown, recirculation: unknown}
drains:
  stretches: [{id: D3, kind: building sewer, to: SEWER, by: 60 ft of 4 in PVC, invert: -11 ft}]
"""


@pytest.fixture(scope="module")
def report(folder: Path) -> Report:
    tree = houses.laid_over(houses.base(), houses.tree_of(OVER))
    return check(houses.house_of(tree, folder))


def test_each_finding_stands_on_a_line_that_begins_with_its_place(report: Report) -> None:
    lines = [line.strip() for line in as_text(report, colour=False).splitlines()]
    for finding in report.findings:
        assert f"{finding.mark}: {finding.message}." in lines


def test_each_finding_is_followed_by_what_to_do_and_its_rule(report: Report) -> None:
    lines = as_text(report, colour=False).splitlines()
    for finding in report.findings:
        index = next(i for i, line in enumerate(lines) if finding.message in line)
        said = f"{finding.remedy} ({finding.rule.code} {finding.rule.name})"
        assert lines[index + 1].strip() == said


def test_the_graver_severity_comes_first(report: Report) -> None:
    text = as_text(report, colour=False)
    assert text.index("Unsafe: ") < text.index("Gaps: ")


def test_what_is_waited_for_names_its_things_and_rules(report: Report) -> None:
    text = as_text(report, colour=False)
    assert "the slope of a stretch of drain: D3 (DR-04, DR-07)" in text


def test_what_to_record_next_is_numbered(report: Report) -> None:
    assert "  1. Record the static pressure" in as_text(report, colour=False)


def test_the_last_line_counts(report: Report) -> None:
    clear = report.counts["clear"]
    last = as_text(report, colour=False).splitlines()[-1]
    # waits: the pressure, the recirculation, the slope of D3
    assert last == (
        f"1 unsafe, 0 faults, 1 gap, 0 advice. {clear} looked at and clear; "
        "3 facts not recorded that rules wait for."
    )


def test_colour_adds_nothing_but_colour(report: Report) -> None:
    painted = as_text(report, colour=True)
    assert "\x1b[" in painted
    assert re.sub(r"\x1b\[[\d;]*m", "", painted) == as_text(report, colour=False)


def test_json_holds_every_finding_with_its_keys(report: Report) -> None:
    said = json.loads(as_json(report))
    assert list(said) == ["findings", "cannot_tell", "unlocks", "counts"]
    assert said["findings"][1] == {
        "rule": "SG-06",
        "name": "sensor-without-battery",
        "severity": "gap",
        "thing": "S1",
        "message": "S1 (Sensor) does not say what battery it has",
        "remedy": "Record its `battery` and when it was changed, or `none` if it has mains power.",
        "file": houses.FILE,
        "line": report.findings[1].mark.line,
        "column": report.findings[1].mark.column,
        "source": "common practice, no source",
    }
    assert {"fact", "things", "rules"} == set(said["cannot_tell"][0])
    assert {"record", "gives", "written"} == set(said["unlocks"][0])
    assert said["counts"]["unsafe"] == 1


def test_a_record_without_a_file_gives_findings_without_a_place() -> None:
    from handbook.house.house import build
    from handbook.record.grammar.record import Record

    record = Record.model_validate(
        {"format": "1", "house": {"name": "X"}, "people": [{"role": "emergency"}]}
    )
    text = as_text(check(build(record, Path())), colour=False)
    assert "    No phone number is recorded for: emergency." in text.splitlines()


def test_a_remedy_that_several_findings_share_is_said_once_below_them() -> None:
    people = [{"role": "licensed plumber"}, {"role": "electrician"}]
    tree = {"format": "1", "house": {"name": "Two without a number"}, "people": people}
    text = as_text(check(build(Record.model_validate(tree), Path())), colour=False)
    assert text.count("No phone number is recorded") == 2
    assert text.count("(PE-02 person-without-phone)") == 1


def test_a_pan_is_where_the_heater_is_that_it_stands_under() -> None:
    tree = {
        "format": "1",
        "house": {"name": "A pan"},
        "levels": [{"id": "m", "name": "Main", "rooms": [{"id": "g", "name": "Garage"}]}],
        "heaters": [{"id": "H1", "name": "Heater", "place": {"room": "g"}}],
        "safeguards": {"pans": [{"id": "P1", "name": "Pan", "under": "H1"}]},
    }
    house = build(Record.model_validate(tree), Path())
    assert house.where("P1") == "Garage, main"
    assert ("RC-02", "P1") not in [(f.rule.code, f.thing) for f in check(house).findings]
