"""How fast water should run in hot copper: by what its heater is set to, and never by a guess.

The figures are NSPC 10.14's (New Jersey) and, above 140 F, Engineering ToolBox's.
"""

import pytest
from flow_houses import ONE_TAP, house

from handbook.answers.flow import flow
from handbook.answers.flowing.shortfall import speeds
from handbook.rules import facts
from handbook.rules.pressure import water_too_fast
from handbook.rules.rule import Broken, CannotTell

HOT = "by: {length: 20 ft, size: 1/2 in, material: copper L, fittings: {ell_90: 0}}"
WITH_HEATER = f"""{ONE_TAP.replace("tees: [", f"tees: [{{id: T2, from: WH, {HOT}}}, ")}
  - id: lav
    name: Sink
    kind: lavatory
    rim: 0 ft
    place: {{room: bath}}
    cold: none
    hot: {{from: T2, {HOT}, stop: none}}
  - id: shower
    name: Shower
    kind: shower
    rim: 0 ft
    place: {{room: bath}}
    cold: {{from: T1, {HOT}, stop: none}}
    hot: {{from: T2, {HOT}, stop: none}}
heaters:
  - id: WH
    name: Heater
    kind: storage
    setting: 120 F
    place: {{room: bath, height: 0 ft}}
    cold: {{from: T1, {HOT}, stop: none}}
"""
SETTING = "    setting: 120 F\n"


def limit(pipe: str, *changes: tuple[str, str]):
    return flow(house(WITH_HEATER, *changes)).runs[pipe].limit


@pytest.mark.parametrize(("set_to", "most"), [("120 F", 5), ("140 F", 5), ("150 F", 3)])
def test_hot_copper_is_limited_by_what_its_heater_is_set_to(set_to, most):
    assert limit("T2", (SETTING, f"    setting: {set_to}\n")).ft_s == most


def test_cold_copper_keeps_the_limit_for_metal():
    assert limit("shower.cold").ft_s == 8
    assert limit("WH.cold").ft_s == 8


def test_hot_plastic_and_hot_brass_keep_the_limits_of_their_kind():
    t2 = f"{{id: T2, from: WH, {HOT}}}"
    for material, most in (("PEX", 12), ("brass", 8)):
        assert limit("T2", (t2, t2.replace("copper L", material))).ft_s == most


def test_without_the_setting_the_limit_lies_between_and_says_what_it_hangs_on():
    found = limit("T2", (SETTING, ""))
    assert (found.least, found.most, found.ft_s) == (3, 5, None)
    assert found.needs == "the setting of WH (`setting`)"
    assert [found.exceeded(speed) for speed in (2.9, 3.1, 5.1)] == [False, None, True]


def test_a_pipe_that_runs_between_the_two_limits_asks_for_the_setting():
    answer = flow(house(WITH_HEATER, (SETTING, "")))
    # the sink alone draws 2 gpm: 0.4085 x 2 / 0.545^2 = 2.75 ft/s, the shower 2.5: 3.44 ft/s
    assert answer.runs["shower.hot"].velocity_ft_s == pytest.approx(3.44, abs=0.01)
    said = next(each for each in answer.missing if each.startswith("the setting of WH"))
    assert "Shower (hot)" in said
    assert "Sink" not in said


def test_behind_a_mixing_valve_hotter_water_is_taken_as_mixed_down_and_that_is_said():
    mixed = "equipment: [{id: MV, kind: mixing valve, from: WH, by: 1 ft of 1 in PEX}]\n  tees: ["
    changes = (
        (SETTING, "    setting: 150 F\n"),
        ("tees: [{id: T2, from: WH,", f"{mixed}{{id: T2, from: MV,"),
    )
    assert limit("T2", *changes).ft_s == 5
    said = flow(house(WITH_HEATER, *changes)).assumed
    assert "MV: taken to mix the water behind it down to 140 °F or less." in said


def test_a_hot_pipe_to_one_mixing_fixture_is_surely_too_fast_by_half_its_flow_only():
    small = WITH_HEATER.replace("kind: shower\n", "kind: shower\n    delivers: 7 gpm at 20 psi\n")
    # 7 gpm: 9.63 ft/s, over the 8 for metal at all; 5 gpm: 6.88, and hot 3.44, under the 5
    for gpm, fast, speed in ((7, True, 9.63), (5, False, 3.44), (7.5, True, 10.3)):
        asked = house(small.replace("7 gpm", f"{gpm} gpm"))
        found = next(each for each in speeds(asked) if each.stretch.id == "shower.hot")
        assert found.too_fast is fast, gpm
        assert found.speed == pytest.approx(speed, abs=0.02)


def test_a_fixture_that_fills_with_hot_alone_is_held_to_the_hot_limit_at_all_of_its_flow():
    """NSPC 10.14.2: 5 ft/s in hot copper; 5 gpm in this pipe run at 6.88 ft/s."""
    tub = "kind: bathtub\n    delivers: 5 gpm at 20 psi\n"
    asked = house(WITH_HEATER.replace("kind: shower\n", tub))
    found = next(each for each in speeds(asked) if each.stretch.id == "shower.hot")
    assert (found.too_fast, found.limit.ft_s) == (True, 5)
    assert found.speed == pytest.approx(6.88, abs=0.02)


def test_a_hot_pipe_to_several_is_too_fast_by_its_whole_demand():
    found = {each.stretch.id: each for each in speeds(house(WITH_HEATER))}
    assert found["T2"].limit.ft_s == 5
    assert found["T2"].speed == pytest.approx(flow(house(WITH_HEATER)).runs["T2"].velocity_ft_s)


def outcomes(*changes: tuple[str, str]):
    return list(water_too_fast.look(house(WITH_HEATER, *changes)))


def test_the_rule_waits_for_the_setting_where_the_limit_hangs_on_it():
    sink = ("kind: lavatory\n", "kind: lavatory\n    delivers: 3 gpm at 20 psi\n")
    # all of its 3 gpm hot: 0.4085 x 3 / 0.545^2 = 4.13 ft/s, between 3 and 5
    found = outcomes((SETTING, ""), sink)
    assert CannotTell(facts.HEATER_SETTING, "lav") in found


def test_the_rule_needs_no_setting_for_what_is_over_either_limit():
    # T2, 4 gpm for the sink and the shower together: 0.4085 x 4 / 0.545^2 = 5.5 ft/s
    found = next(o for o in outcomes((SETTING, "")) if isinstance(o, Broken))
    assert found.thing == "T2"
    assert found.message.endswith("5 ft/s is the most")
