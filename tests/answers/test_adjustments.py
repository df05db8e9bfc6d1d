"""What the worst fixture has at peak before any pipe is changed."""

from math import floor
from pathlib import Path

import pytest
from flow_houses import ONE_TAP, house, treated

import handbook
from handbook.answers.flow import flow
from handbook.output.told_flow import flow_text
from handbook.pages.content import Table
from handbook.pages.parts.water_flow import water_flow

EXAMPLE = Path(handbook.__file__).parents[1] / "example_house"


@pytest.fixture(scope="module")
def example():
    return handbook.load(EXAMPLE).house


def adjusted(*changes: tuple[str, str]):
    return flow(house(treated(), *changes)).margins.adjustments


def set_higher(*changes: tuple[str, str]):
    return [(a.set_psi, a.bound) for a in adjusted(*changes) if a.thing == "PRV"]


def test_the_valve_set_higher_gives_what_the_house_so_recorded_has():
    before, (raised, _) = flow(house(treated())), adjusted()
    rebuilt = flow(house(treated(), ("set_to: 50 psi", "set_to: 80 psi")))
    assert (raised.thing, raised.set_psi, raised.bound) == ("PRV", 80, "limit")
    peak = rebuilt.fixtures[before.margins.worst].peak
    assert raised.pressure_psi == pytest.approx(peak.pressure_psi, abs=1e-6)
    assert raised.flow_gpm == pytest.approx(peak.flow_gpm, abs=1e-6)
    gained = peak.pressure_psi - before.margins.pressure_psi
    assert raised.gives_back_psi == pytest.approx(gained, abs=1e-6)


def test_the_bypass_gives_what_the_house_has_whose_softener_stands_on_it():
    _, bypassed = adjusted()
    piped = (
        ("inlet: {id: W7, kind: ball}", "inlet: {id: W7, kind: ball, stands: closed}"),
        ("outlet: {id: W8, kind: ball}", "outlet: {id: W8, kind: ball, stands: closed}"),
        ("across: {id: W9, kind: ball, stands: closed}", "across: {id: W9, kind: ball}"),
    )
    before, rebuilt = flow(house(treated())), flow(house(treated(), *piped))
    assert (bypassed.thing, bypassed.set_psi, bypassed.bound) == ("SOF", None, None)
    peak = rebuilt.fixtures[before.margins.worst].peak
    assert bypassed.pressure_psi == pytest.approx(peak.pressure_psi, abs=1e-6)
    assert bypassed.flow_gpm == pytest.approx(peak.flow_gpm, abs=1e-6)


def test_the_valve_is_set_no_higher_than_what_stands_ahead_of_it():
    # the gauge at the meter is level with the valve
    assert set_higher(("value: 100 psi", "value: 70 psi")) == [(pytest.approx(70), "ahead")]


def test_the_valve_is_set_no_higher_than_its_recorded_range():
    at = "set_to: 50 psi"
    assert set_higher((at, f"{at}\n      adjusts_up_to: 75 psi")) == [(75, "range")]


def test_a_valve_at_the_limit_is_not_told():
    assert set_higher(("set_to: 50 psi", "set_to: 80 psi")) == []


def test_what_stands_ahead_of_a_valve_is_not_known_from_a_gauge_behind_it():
    assert set_higher(("value: 100 psi, near: WM", "value: 50 psi, near: tub")) == []


def test_a_softener_without_a_bypass_is_not_told():
    first, last = treated().index("      bypass:"), treated().index("        across:")
    end = treated().index("\n", last)
    found = adjusted((treated()[first:end], "      bypass: none"))
    assert [a.thing for a in found] == ["PRV"]


def test_a_house_without_valve_and_softener_says_nothing_of_either():
    plain = house(ONE_TAP)
    answer = flow(plain)
    assert answer.margins.adjustments == ()
    assert "Before any pipe" not in flow_text(plain, answer)


def test_the_tanks_room_ends_a_setting_below_the_limit(example):
    # Boyle's law: a tank of 4.4 gal charged to p takes the swelling s up to 80 psi where
    # 1 - (p + 14.7) / (80 + 14.7) = s / 4.4. Water swells from 40 F to 120 F by its densities
    # 62.42 and 61.71 lb/ft3 (ASHRAE Fundamentals, water properties, from memory): 50 gal by 0.576.
    swells = 50 * (62.42 / 61.71 - 1)
    room = (80 + 14.7) * (1 - swells / 4.4) - 14.7
    found = [(a.set_psi, a.bound) for a in flow(example).margins.adjustments if a.set_psi]
    assert found == [(floor(room), "tank"), (80, "limit")]


def test_a_bathroom_more_is_told_with_each_change(example):
    found = flow(example).margins
    assert found.spare.pressure_psi == pytest.approx(18.8, abs=0.05)
    lower, _, bypassed = found.adjustments
    # ahead of the valve there is more than its setting: a psi more there is a psi more at the tap
    assert lower.bathroom_psi == pytest.approx(found.spare.pressure_psi + 67 - 60, abs=1e-6)
    # the softener's own 6 psi at 15 gpm, by the square, at the demand that a bathroom more makes
    assert bypassed.bathroom_psi > found.spare.pressure_psi + found.equipment.psi


def test_the_text_tells_limit_charge_and_hard_water(example):
    said = flow_text(example, flow(example))
    assert "nothing in the house may stand above 80 psi" in said
    assert "The air in ET1 has to be charged to the new setting" in said
    assert "hard water" in said
    assert said.index("Before any pipe is changed") < said.index(" instead of ")


def test_the_page_tells_it_before_the_larger_pipes(example):
    said = [block.caption for block in water_flow(example) if isinstance(block, Table)]
    assert said[0].startswith("Before any pipe is changed")
    assert said[1].startswith("One size more")
    plain = [block.caption for block in water_flow(house(ONE_TAP)) if isinstance(block, Table)]
    assert plain
    assert not any(caption.startswith("Before any pipe") for caption in plain)
