"""A way down read part by part says what the answer to the same signs says."""

from typing import Any

from drain_houses import RANCH, drain_trees, house, house_of
from hypothesis import given
from hypothesis import strategies as st

from handbook.answers.draining.one_sign import Part, WayDown, noticed_first, way_down
from handbook.answers.stoppage import stoppage


def read(way: WayDown, also: set[str], clear: set[str]) -> tuple[str, ...]:
    """As the book says to read it: begin where the last of the others that back up comes in, and
    go on up to the first part above which something comes in that runs clear."""
    if not also <= {fixture for part in way.parts for fixture in part.joins}:
        return ()
    left: list[str] = []
    for part in way.parts:
        if clear & set(part.joins):
            break
        left += part.legs
        if also & set(part.joins):
            also = also - set(part.joins)
            left = list(part.legs)
    return () if also else tuple(left)


def test_by_hand_the_toilet_of_the_ranch() -> None:
    # wc and lav meet in B1, the tub comes in at M1, the sink at M2.
    assert way_down(house(RANCH).drains, "wc").parts == (
        Part((), ("wc",)),
        Part(("lav",), ("B1",)),
        Part(("tub",), ("M1",)),
        Part(("sink",), ("M2", "S1")),
    )


def test_the_fixtures_at_which_it_is_noticed_are_told_in_walking_order() -> None:
    assert [way.fixture for way in noticed_first(house(RANCH))] == ["wc", "tub", "sink"]


@given(drain_trees(), st.data())
def test_a_way_down_answers_any_signs(record: dict[str, Any], data: st.DataObject) -> None:
    fixtures = [f["id"] for f in record["fixtures"]]
    slow = data.draw(st.lists(st.sampled_from(fixtures), min_size=1, unique=True))
    clear = data.draw(st.sets(st.sampled_from(fixtures))) - set(slow)
    subject = house_of(record)
    told = read(way_down(subject.drains, slow[0]), set(slow[1:]), clear)
    assert told == stoppage(subject, slow, sorted(clear)).stretches
