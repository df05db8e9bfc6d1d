"""The pressure profile as a drawing: its names, its scale, and the units of the house."""

import re
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

import handbook
from handbook.house.house import House, build
from handbook.output.drawing.profile import APART, HIGH, TOP, drawn
from handbook.pages.content import Profile, Table, plain
from handbook.pages.parts.water_flow import water_flow
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense

EXAMPLE = Path(handbook.__file__).parents[1] / "example_house"


def example(units: str) -> House:
    text = (EXAMPLE / "house.yaml").read_text(encoding="utf-8")
    assert text.count("  units: US\n") == 1
    text = text.replace("  units: US\n", f"  units: {units}\n")
    return build(read_text(text, "house.yaml", Record, (check_ids, check_sense)), EXAMPLE)


@pytest.fixture(scope="module")
def us():
    return water_flow(example("US"))


@pytest.fixture(scope="module")
def metric():
    return water_flow(example("metric"))


def profile_of(blocks) -> Profile:
    return next(block for block in blocks if isinstance(block, Profile))


def elements(profile: Profile, kind: str):
    return [
        each for each in ElementTree.fromstring(drawn(profile)).iter() if each.tag.endswith(kind)
    ]


def line(profile: Profile, kind: str) -> list[tuple[float, float]]:
    found = next(p for p in elements(profile, "path") if p.get("class") == kind)
    return [tuple(map(float, point.split())) for point in re.split("[ML]", found.get("d"))[1:]]


def test_each_thing_on_the_way_is_named_once(us):
    profile = profile_of(us)
    words = [each.text for each in elements(profile, "text")]
    for mark in profile.marks:
        assert words.count(mark.label) == 1


def test_names_stand_apart_and_inside(us):
    profile = profile_of(us)
    turned = [each for each in elements(profile, "text") if each.get("transform")]
    places = [float(each.get("x")) for each in turned]
    assert all(b - a >= APART - 0.02 for a, b in pairwise(places))
    assert 0 < min(places) < max(places) < 460


def test_the_line_is_to_scale(us):
    profile = profile_of(us)
    points = line(profile, "p-peak")
    first, last = profile.marks[0], profile.marks[-1]
    top = 100  # the first round step of 20 psi above 92
    for value, (_, y) in ((first.before, points[0]), (last.behind, points[-1])):
        assert y == pytest.approx(HIGH - (HIGH - TOP) * value / top, abs=0.02)


def test_every_line_is_drawn_in_attributes_alone(us):
    assert " style=" not in drawn(profile_of(us))


def test_metric_draws_the_same_lines_in_kilopascals(us, metric):
    for ours, theirs in zip(profile_of(us).marks, profile_of(metric).marks, strict=True):
        assert theirs.before == pytest.approx(ours.before * 6.894757)
        assert theirs.along == pytest.approx(ours.along * 0.3048)
    assert profile_of(metric).needed == "needs 138 kPa"


def test_metric_pages_say_no_us_unit(metric):
    for table in (block for block in metric if isinstance(block, Table)):
        for row in table.rows:
            said = " ".join(plain(cell) for cell in row)
            assert not re.search(r"\b(psi|gpm|ft/s|ft)\b", said)


def test_the_table_says_what_the_answer_found(us):
    from handbook.answers.flow import flow

    house = example("US")
    found = flow(house).fixtures["primary-shower"]
    table = next(b for b in us if isinstance(b, Table) and b.head[0] == "Fixture")
    row = next(r for r in table.rows if plain(r[0]) == house.items["primary-shower"].name)
    assert plain(
        row[4]
    ) == f"{found.alone.pressure_psi:.0f} psi; {found.alone.flow_gpm:.1f} gpm".replace(".0 ", " ")
