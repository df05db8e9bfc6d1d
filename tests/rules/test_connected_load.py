"""The permit's connected load against what the recorded inputs add up to.

The base house burns 65,000 (range), 40,000 (heater) and 80,000 (furnace): 185,000 Btu/h in all.
"""

from pathlib import Path

import pytest
import rule_houses as houses

from handbook.rules import facts
from handbook.rules.gas_sizes import connected_load_disagrees
from handbook.rules.rule import Broken, CannotTell, Clear, Outcome

NO_INPUT = "appliances: [{id: FU, kind: furnace, gas: {from: GT}}]"


def outcomes(gas: str, folder: Path) -> list[Outcome]:
    tree = houses.laid_over(houses.base(), houses.tree_of(f"gas: {{{gas}}}"))
    found = connected_load_disagrees.look(houses.house_of(tree, folder))
    return [outcome for outcome in found if not isinstance(outcome, Clear)]


@pytest.mark.parametrize("stated", ["185000 Btu/h", "54.2 kW", "none"])
def test_a_load_that_agrees_or_is_not_stated_is_clear(stated: str, folder: Path) -> None:
    assert outcomes(f"connected: {stated}", folder) == []  # 185,000 / 3,412 = 54.2


@pytest.mark.parametrize("stated", ["137000 Btu/h", "285000 Btu/h"])
def test_more_and_less_than_what_burns_are_both_found(stated: str, folder: Path) -> None:
    (found,) = outcomes(f"connected: {stated}", folder)
    assert isinstance(found, Broken)
    assert found.message.endswith("the recorded inputs add up to 185,000 Btu/h")


def test_without_an_input_only_too_much_is_sure(folder: Path) -> None:
    """Without the furnace's 80,000 there are 105,000: more can only be added."""
    (found,) = outcomes(f"connected: 90000 Btu/h, {NO_INPUT}", folder)
    assert isinstance(found, Broken)
    assert found.message.endswith("add up to 105,000 Btu/h already")
    waits = outcomes(f"connected: 185000 Btu/h, {NO_INPUT}", folder)
    assert waits == [CannotTell(facts.GAS_CONNECTED)]
