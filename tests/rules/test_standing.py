"""Valves recorded as closed in ordinary use, and what they leave without water."""

from pathlib import Path

import pytest
import rule_houses as houses

from handbook.rules.rule import Broken
from handbook.rules.standing import closed_valve_keeps_water_off

HOT = """
water:
  valves: [{id: W19, name: Hot shutoff, kind: ball, from: WH, stands: closed}]
  tees: [{id: T2, from: W19}]
"""
STOP = """
fixtures:
  - id: wc
    kind: water closet
    place: {room: bath}
    cold: {from: W3, stop: {id: W5, name: Toilet stop, kind: angle stop, stands: closed}}
"""
HOSE = """
fixtures:
  - id: HB1
    kind: hose bibb
    place: {level: outside}
    cold: {from: VB, stop: {id: W8, kind: stop and waste, stands: closed}}
"""
BYPASS = """
water:
  softeners:
    - id: SOF
      from: W2
      bypass:
        inlet: {id: W4, kind: ball}
        outlet: {id: W16, kind: ball}
        across: {id: W17, kind: ball, stands: closed}
"""
MAIN = """
water:
  valves: [{id: W1, name: Main, main: yes, kind: ball, from: WM, stands: closed}]
"""


def found(over: str, folder: Path) -> list[Broken]:
    tree = houses.laid_over(houses.base(), houses.tree_of(over))
    outcomes = closed_valve_keeps_water_off.look(houses.house_of(tree, folder))
    return [outcome for outcome in outcomes if isinstance(outcome, Broken)]


def test_a_closed_valve_that_feeds_all_hot_water_says_so(folder: Path) -> None:
    (outcome,) = found(HOT, folder)
    assert outcome.thing == "W19"
    assert outcome.message.endswith("which leaves off: all hot water in the house")


def test_a_closed_stop_is_found_too(folder: Path) -> None:
    assert [outcome.thing for outcome in found(STOP, folder)] == ["W5"]


@pytest.mark.parametrize("over", [HOSE, BYPASS, MAIN], ids=["hose bibb", "bypass", "a main"])
def test_what_is_closed_in_good_order_or_found_by_another_rule_is_let_be(
    over: str, folder: Path
) -> None:
    """Hose bibbs are shut for the winter: common practice, no source."""
    assert found(over, folder) == []


def test_a_main_closed_too_hides_no_other_closed_valve(folder: Path) -> None:
    both = MAIN.replace("valves: [", "valves: [{id: W19, kind: ball, from: WH, stands: closed}, ")
    both += "  tees: [{id: T2, from: W19}]\n"
    assert [outcome.thing for outcome in found(both, folder)] == ["W19"]
