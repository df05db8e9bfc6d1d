"""How much may stand above a cleanout, by hand on the ranch and the split house.

Waste runs over at the lowest rim above the stoppage (trade pages on drain diagnosis); the volume
of a pipe is a cylinder's, 231 cubic inches to the gallon.
"""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook import assets, load
from handbook.answers.draining.standing_waste import standing_waste, standing_words
from tests.answers.drain_houses import RANCH, SPLIT, drain_trees, house, house_of

INVERTS = {"S1": -30, "M2": -28, "M1": -26, "B1": -20, "B2": -18, "K1": -14}


def with_inverts(text: str) -> str:
    for name, inches in INVERTS.items():
        text = text.replace(f"{{id: {name}, ", f"{{id: {name}, invert: {inches} in, ")
    return text


def test_at_a_floor_cleanout_it_stands_up_to_the_lowest_rim_that_drains_past_it() -> None:
    found = standing_waste(house(RANCH).drains, "C2")
    assert found is not None
    # C2 opens at 0 in; of all that drains past M2 the tub's rim, 14 in, is the lowest
    assert (found.head_in, found.up_to) == (14, "tub")


def test_what_stands_above_it_is_the_pipe_between_opening_and_rim() -> None:
    # C3 opens 10 in below the ground at -12 in, at -22 in; M1, M2 and S1 lie below that
    text = with_inverts(RANCH).replace(
        "size: 4 in, place: {level: outside, height: 0 in}",
        "size: 4 in, place: {level: outside, depth: 10 in}",
    )
    found = standing_waste(house(text).drains, "C3")
    assert found is not None
    assert found.head_in == 36  # from -22 in up to the tub's 14 in
    # B1: 3 ft of 3 in from -20 to -26, a third of it above -22; B2: 4 ft of 2 in from -18 to -26,
    # half; K1: 12 ft of 2 in from -14 to -28, 8/14
    inches = 9 * 36 / 3 + 4 * 48 / 2 + 4 * 144 * 8 / 14
    assert found.gallons == pytest.approx(pi / 4 * inches / 231, rel=1e-6)


def test_a_drain_without_a_figure_leaves_the_gallons_untold() -> None:
    found = standing_waste(house(RANCH).drains, "C2")
    assert found is not None
    assert found.gallons is None
    assert "K1" in found.missing


@pytest.mark.parametrize(("where", "stands"), [("height: 12 in", None), ("depth: 10 in", 10)])
def test_behind_a_backwater_valve_it_is_reckoned_as_if_the_valve_failed(
    where: str, stands: float | None
) -> None:
    # behind BV the floor drain, level with the floor, lets it out before it stands a foot above
    at = f"place: {{room: cellar, {where}}}"
    cleanout = f"  cleanouts: [{{id: C1, kind: wall, on: L1, size: 3 in, {at}}}]\n  equipment:"
    tree = house(SPLIT.replace("  equipment:", cleanout)).drains
    found = standing_waste(tree, "C1")
    assert (found.head_in if found else None) == stands


def test_where_the_signs_leave_some_stretches_it_is_reckoned_for_those_alone() -> None:
    # by hand on the example: D7 alone backs up to the primary shower's rim, 10 ft 2 in above the
    # main floor; D20 lets it out at the powder toilet's, 15 in above it
    tree = load(assets.example_house()).house.drains
    for stretches, up_to in ((), "primary-shower"), (("D20", "D21"), "powder-wc"):
        found = standing_waste(tree, "C3", stretches)
        assert found is not None
        assert found.up_to == up_to


def test_above_every_rim_nothing_can_stand() -> None:
    high = RANCH.replace("place: {room: bath, height: 12 in}", "place: {room: bath, height: 60 in}")
    assert standing_waste(house(high).drains, "C1") is None
    assert standing_words(house(high), "C1") == ""


@given(drain_trees(), st.data())
def test_nothing_stands_higher_than_some_rim_that_drains_past_it(
    record: dict, data: st.DataObject
) -> None:
    stretches = [s["id"] for s in record["drains"]["stretches"]]
    on = data.draw(st.sampled_from(stretches))
    height = data.draw(st.integers(0, 30))
    place = {"level": "low", "height": f"{height} in"}
    record["drains"]["cleanouts"] = [{"id": "C", "on": on, "size": "4 in", "place": place}]
    tree = house_of(record).drains
    opening, found = tree.openings["C"], standing_waste(tree, "C")
    if found is None or opening is None:
        return
    past = [f for leg in tree.downhill(on) for f in tree.through(leg)]
    assert found.up_to in past
    rim = tree.rims[found.up_to].elevation
    assert rim is not None
    assert found.head_in == pytest.approx(rim.inches - opening.inches)
