"""The signs a house can give: each place once, and an answer for whatever a form can ask."""

from typing import Any

from drain_houses import RANCH, drain_trees, house, house_of
from hypothesis import given
from hypothesis import strategies as st

from handbook.answers.draining.common_signs import (
    common_signs,
    every_answer,
    places,
    stacks_together,
)
from handbook.answers.stoppage import stoppage


def test_places_go_from_where_everything_leaves_the_house_upward() -> None:
    assert places(house(RANCH).drains) == (
        ("wc", "lav", "tub", "sink"),  # M2 and S1
        ("sink",),  # K1 and its trap
        ("wc", "lav", "tub"),  # M1
        ("wc", "lav"),  # B1
        ("wc",),
        ("lav",),
        ("tub",),  # B2 and its trap
    )


def test_when_just_those_on_it_back_up_a_place_is_what_is_blocked() -> None:
    told = {answer.backs_up: answer.stretches for answer in common_signs(house(RANCH))}
    assert told[("wc", "lav", "tub", "sink")] == ("M2", "S1")
    assert told[("wc", "lav")] == ("B1",)
    assert told[("sink",)] == ("sink", "K1")


STACKS = """
format: 1
house: {name: Three stacks}
fixtures:
  - {id: a, kind: lavatory, drain: {to: SA}}
  - {id: b, kind: lavatory, drain: {to: SB}}
  - {id: c, kind: lavatory, drain: {to: SC}}
  - {id: low, kind: lavatory, drain: {to: M2}}
drains:
  discharge: {id: END}
  stretches:
    - {id: SU, kind: stack, to: SA}
    - {id: SA, kind: stack, to: M1}
    - {id: SB, kind: stack, to: B1}
    - {id: B1, kind: branch, to: M1}
    - {id: SC, kind: stack, to: M2}
    - {id: M1, kind: building drain, to: M2}
    - {id: M2, kind: building sewer, to: END}
"""


def test_where_stacks_meet_two_of_them_point_below_it() -> None:
    """SA and SB meet at M1, SC comes in below; SU, which nothing drains into, is of SA."""
    found = {each.sides: each.answer.stretches for each in stacks_together(house(STACKS))}
    assert found == {(("SA",), ("SB",)): ("M1", "M2"), (("SC",), ("SA", "SB")): ("M2",)}
    assert stacks_together(house(RANCH)) == ()


@given(drain_trees(most=6), st.data())
def test_whatever_is_ticked_has_its_answer_beforehand(
    record: dict[str, Any], data: st.DataObject
) -> None:
    home = house_of(record)
    fixtures = list(home.drains.rims)
    backs_up = data.draw(st.sets(st.sampled_from(fixtures), min_size=1))
    clear = data.draw(st.sets(st.sampled_from(fixtures))) - backs_up
    left = {
        place for place in places(home.drains) if backs_up <= set(place) and not clear & set(place)
    }
    asked = stoppage(home, sorted(backs_up), sorted(clear))
    assert bool(asked.stretches) == bool(left)
    if left:
        (answer,) = [a for run, a in every_answer(home).items() if set(run) == left]
        assert answer.stretches == asked.stretches
        assert answer.do_not_use == asked.do_not_use
        assert answer.overflow.candidates == asked.overflow.candidates
        assert answer.cleanouts == asked.cleanouts
        assert answer.call == asked.call
