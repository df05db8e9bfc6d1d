"""The finished corners of rooms, by hand on the example's plan: walls between rooms are 4 1/2 in
thick, outside walls 8 in on the lower level (invented for the demo); all in inches on the plan."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook import assets, load
from handbook.answers.finding.faces import faces
from handbook.house.house import House, build
from handbook.record.grammar.record import Record


@pytest.fixture(scope="module")
def home() -> House:
    return load(assets.example_house()).house


def test_a_room_amid_others_loses_half_a_wall_on_every_side(home: House) -> None:
    # laundry: 16 to 23 ft, 19 ft 6 in to 25 ft 6 in; every line is shared with another room
    found = faces(home, "laundry")
    assert sorted(found.outline) == [
        (194.25, 236.25),
        (194.25, 303.75),
        (273.75, 236.25),
        (273.75, 303.75),
    ]
    assert (found.known, found.unknown) == (("inside",), ())


def test_an_outside_wall_is_taken_off_whole(home: House) -> None:
    # utility room: 0 to 16 ft, 0 to 14 ft; the street side and the left side are the building's
    assert sorted(faces(home, "utility").outline) == [
        (8.0, 8.0),
        (8.0, 165.75),
        (189.75, 8.0),
        (189.75, 165.75),
    ]


def test_a_corner_that_juts_into_the_room_comes_farther_in(home: House) -> None:
    # the linen closet is cut out of the hall bath at 13 ft 6 in, 10 ft 6 in
    assert (159.75, 128.25) in faces(home, "hall-bath").outline


def rooms(level: dict[str, object], *outlines: list[tuple[float, float]]) -> House:
    """Rooms `r0`, `r1`, ... on one level of a building without an outline of its own."""
    record = {
        "format": "1",
        "house": {"name": "Rooms"},
        "levels": [
            {
                "id": "only",
                "name": "Only level",
                **level,
                "rooms": [
                    {
                        "id": f"r{n}",
                        "name": f"Room {n}",
                        "outline": [[f"{x} in", f"{y} in"] for x, y in outline],
                    }
                    for n, outline in enumerate(outlines)
                ],
            }
        ],
    }
    return build(Record.model_validate(record), Path())


SQUARE = [(0.0, 0.0), (120.0, 0.0), (120.0, 120.0), (0.0, 120.0)]


def test_what_is_not_recorded_is_not_taken_off_but_named() -> None:
    beside = [(x + 120, y) for x, y in SQUARE]
    found = faces(rooms({}, SQUARE, beside), "r0")
    assert sorted(found.outline) == sorted(SQUARE)
    assert found.unknown == ("inside",)


def test_an_outline_that_touches_no_other_is_the_finished_face() -> None:
    beside = [(x + 124.5, y) for x, y in SQUARE]
    level: dict[str, object] = {"wall_thickness": {"inside": "4-1/2 in", "outside": "8 in"}}
    found = faces(rooms(level, SQUARE, beside), "r0")
    assert sorted(found.outline) == sorted(SQUARE)
    assert (found.known, found.unknown) == ((), ())


@given(st.permutations(range(4)), st.booleans())
def test_it_does_not_matter_where_an_outline_begins_or_which_way_it_goes(
    order: list[int], back: bool
) -> None:
    start = order[0]
    ring = [*SQUARE[start:], *SQUARE[:start]]
    beside = [(x + 120, y) for x, y in SQUARE]
    level: dict[str, object] = {"wall_thickness": {"inside": "4 in"}}
    found = faces(rooms(level, ring[::-1] if back else ring, beside), "r0")
    assert sorted(found.outline) == [(0.0, 0.0), (0.0, 120.0), (118.0, 0.0), (118.0, 120.0)]
