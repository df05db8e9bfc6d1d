"""What a bathroom is told, what is surely short, and what the profile shows."""

from pathlib import Path

import pytest
from flow_houses import ONE_TAP, house

import handbook
from handbook.answers.flow import flow
from handbook.answers.flowing.bathrooms import bathrooms, fraction
from handbook.answers.flowing.pressure_profile import profile
from handbook.answers.flowing.shortfall import shortfalls, speeds

EXAMPLE = Path(handbook.__file__).parents[1] / "example_house"
WASHER = """
  - id: washer
    name: Washer
    kind: laundry box
    rim: 0 ft
    place: {room: laundry}
    cold: {from: T1, by: {length: 2 ft, size: 1/2 in, material: PEX, fittings: {ell_90: 0}}}
"""
LAUNDRY = (
    "rooms: [{id: bath, name: Bath}]",
    "rooms: [{id: bath, name: Bath}, {id: laundry, name: Laundry}]",
)


@pytest.fixture(scope="module")
def example():
    return handbook.load(EXAMPLE).house


def with_washer(*changes):
    return house(ONE_TAP + WASHER.lstrip("\n"), LAUNDRY, *changes)


# --- bathrooms


def test_the_sentence_says_the_share_that_the_solved_flows_give():
    found = bathrooms(with_washer())[0]
    flows = flow(with_washer(), ["washer"]).fixtures["tub"]
    lost = 1 - flows.asked.flow_gpm / flows.alone.flow_gpm
    assert (found.fixture, found.other) == ("tub", "washer")
    assert found.loses == pytest.approx(lost, abs=1e-6)
    assert (
        found.sentence
        == f"With the washer filling, this tub loses about {fraction(lost)} of its flow."
    )


def test_what_takes_most_is_named(example):
    for found in bathrooms(example):
        others = [
            o for o in example.water.own if o != found.fixture and "HB" not in o and o != "IRR"
        ]
        alone = flow(example).fixtures[found.fixture].alone.flow_gpm
        beside = {o: flow(example, [o]).fixtures[found.fixture].asked.flow_gpm for o in others}
        worst = min(beside, key=beside.__getitem__)
        assert found.other == worst
        assert found.loses == pytest.approx(1 - beside[worst] / alone, abs=1e-6)


def test_where_nothing_takes_noticeable_flow_that_is_said():
    wide = ("length: 40 ft, size: 3/4 in", "length: 4 ft, size: 2 in")
    wide_too = ("length: 10 ft, size: 3/4 in", "length: 1 ft, size: 2 in")
    calm = with_washer(wide, wide_too, ("size: 3/4 in\n", "size: 2 in\n"))
    assert "Nothing else that runs indoors" in bathrooms(calm)[0].sentence


def test_without_the_pressure_nothing_is_said():
    assert bathrooms(with_washer(("  static_pressure: {value: 60 psi, near: WM}\n", ""))) == ()


def test_two_assumptions_are_said_as_a_range():
    filtered = (
        "tees: [{id: T1, from: W1",
        "equipment: [{id: F1, kind: filter, from: W1, by: 0 ft of 3/4 in PEX}]\n"
        "  tees: [{id: T1, from: F1",
    )
    found = bathrooms(with_washer(filtered))[0]
    assert found.kind_loses < found.loses
    assert "between " in found.sentence


@pytest.mark.parametrize(
    ("share", "said"), [(0.26, "a quarter"), (0.32, "a third"), (0.09, "a tenth"), (0.52, "half")]
)
def test_shares_are_said_as_people_say_them(share, said):
    assert fraction(share) == said


# --- surely short


def test_a_fixture_is_surely_short_only_when_no_assumption_saves_it():
    long = "length: 40 ft, size: 3/4 in, material: PEX, fittings: {ell_90: 2}"
    # half as long again for fittings leaves the tub short; the bare pipe does not
    uncounted = house(ONE_TAP, (long, "length: 300 ft, size: 3/4 in, material: PEX"))
    assert flow(uncounted).fixtures["tub"].peak.pressure_psi < 20
    assert not any(each.falls_short for each in shortfalls(uncounted))
    counted = house(ONE_TAP, (long, long.replace("40 ft", "440 ft")))
    assert {each.owner for each in shortfalls(counted) if each.falls_short} == {"tub", "wc"}


def test_nothing_is_said_of_a_fixture_whose_height_is_not_recorded():
    flat = house(ONE_TAP, ("elevation: 0 ft, ", ""))
    assert {each.best_psi for each in shortfalls(flat)} == {None}


def test_speed_is_measured_against_the_pipe_s_own_material():
    # 6.05 gpm in 1/2 in: 0.4085 x 6.05 / 0.475^2 = 10.95 ft/s in PEX, / 0.545^2 = 8.32 in copper
    for material, fast, limit in (("PEX", 10.95, 12), ("copper L", 8.32, 8)):
        pipe = (
            "length: 40 ft, size: 3/4 in, material: PEX",
            f"length: 40 ft, size: 1/2 in, material: {material}",
        )
        found = next(each for each in speeds(house(ONE_TAP, pipe)) if each.stretch.id == "W1")
        assert found.speed == pytest.approx(fast, abs=0.01)
        assert found.limit.ft_s == limit
        assert found.too_fast == (material == "copper L")


def test_the_example_house_runs_nothing_too_fast_and_leaves_nothing_short(example):
    assert not any(each.too_fast for each in speeds(example))
    assert not any(each.falls_short for each in shortfalls(example))


# --- the profile


def test_the_profile_starts_at_the_meter_and_ends_at_the_worst_fixture(example):
    margins = flow(example).margins
    points = profile(example, margins)
    assert points[0].thing == "WM"
    assert points[-1].thing == margins.worst
    assert points[-1].behind_psi == pytest.approx(margins.pressure_psi)


def test_the_profile_goes_along_the_recorded_lengths(example):
    points = profile(example, flow(example).margins)
    assert points[0].along_ft == 0
    assert [p.along_ft for p in points] == sorted(p.along_ft for p in points)
    # W2 1, T1 1, W5 30, PRV1 2.5, W6 1.5, T2 3, SOF 5, T6 6, heater 15, W14 2, T10 3, T11 1,
    # T12 2, W17 3, MH1 25, W33 0.25, T20 11, shower 11: 123.25 ft
    assert points[-1].along_ft == pytest.approx(123.25)


def test_the_reducing_valve_stands_upright_in_both_lines(example):
    valve = next(p for p in profile(example, flow(example).margins) if p.thing == "PRV1")
    assert valve.behind_psi == pytest.approx(60)
    assert valve.rest_behind_psi == pytest.approx(60)
    assert valve.rest_before_psi > valve.before_psi > 60
