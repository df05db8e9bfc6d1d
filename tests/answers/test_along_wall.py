"""How far along a wall a pipe ends: from the left corner, as somebody in the room faces the wall.

By hand on two rooms side by side, and on the same plan turned and mirrored.
"""

from pathlib import Path
from typing import Any

import pytest

from handbook import assets, load
from handbook.answers.behind import behind
from handbook.answers.finding.along_wall import along
from handbook.answers.finding.which_wall import wall_of
from handbook.house.house import House, build
from handbook.record.grammar.record import Record

WALL = "up inside the wall between bath and hall"


def house(at: tuple[float, float], *, mirrored: bool = False, level: str = "only") -> House:
    """A bath of 8 x 6 ft; the hall lies above it on the plan. A valve in the wall between."""

    def xy(x: float, y: float) -> list[str]:
        return [f"{20 - x if mirrored else x} ft", f"{y} ft"]

    record: dict[str, Any] = {
        "format": "1",
        "house": {"name": "Two rooms"},
        "levels": [
            {
                "id": "only",
                "name": "Only level",
                "rooms": [
                    {
                        "id": "bath",
                        "name": "Bath",
                        # a corner on a straight wall is none: the wall to the hall runs from 0 to 8
                        "outline": [xy(0, 0), xy(8, 0), xy(8, 6), xy(3, 6), xy(0, 6)],
                    },
                    {
                        "id": "hall",
                        "name": "Hall",
                        "outline": [xy(0, 6.25), xy(12, 6.25), xy(12, 10), xy(0, 10)],
                    },
                ],
            },
            {"id": "upper", "name": "Upper", "rooms": [{"id": "attic", "name": "Attic"}]},
        ],
        "water": {
            "valves": [
                {"id": "W1", "main": "yes", "from": "street", "place": {"room": "hall"}},
                {
                    "id": "W2",
                    "from": "W1",
                    "by": {"size": "1/2 in", "way": WALL, "through": ["bath", "hall"]},
                    "place": {"room": "bath" if level == "only" else "attic", "at": xy(*at)},
                },
            ]
        },
    }
    return build(Record.model_validate(record), Path())


def feet(subject: House, room: str) -> float | None:
    (pipe,) = [pipe for pipe in behind(subject, room).in_walls if pipe.thing == "W2"]
    wall = wall_of(subject, pipe, room)
    assert wall.startswith("wall toward the ")
    inches = along(subject, pipe, room, wall)
    return None if inches is None else inches / 12


def test_it_is_counted_from_the_left_corner_as_one_faces_the_wall() -> None:
    subject = house((2, 5.9))
    assert feet(subject, "bath") == pytest.approx(2)  # facing up the plan, left is x = 0
    assert feet(subject, "hall") == pytest.approx(10)  # facing down, left is x = 12


def test_on_a_mirrored_plan_left_is_the_other_end() -> None:
    subject = house((2, 5.9), mirrored=True)
    assert feet(subject, "bath") == pytest.approx(6)
    assert feet(subject, "hall") == pytest.approx(2)


def test_a_supply_ends_at_its_stop_not_at_what_it_serves() -> None:
    subject = load(assets.example_house()).house
    (pipe,) = [p for p in behind(subject, "laundry").in_walls if p.system == "gas"]
    found = along(subject, pipe, "laundry", wall_of(subject, pipe, "laundry"))
    # G7 is recorded at y = 24 ft in the west wall: faced from inside, y grows to the right; the
    # room begins at 19 ft 6 in, its finished corner half a wall of 4 1/2 in farther
    assert found == pytest.approx(24 * 12 - (19.5 * 12 + 2.25))


def test_a_vent_stands_at_one_place_of_a_wall_from_either_side() -> None:
    """V1 is recorded at x = 10 ft in the wall between the baths, at y = 14 ft. From the hall bath,
    whose left corner is at 4 ft and half a wall of 4 1/2 in: 10 ft - 4 ft 2 1/4 in; from the
    primary bath, whose left corner is at 13 ft: 13 ft - 2 1/4 in - 10 ft."""
    subject = load(assets.example_house()).house
    found = []
    for room in ("hall-bath", "primary-bath"):
        (vent,) = [pipe for pipe in behind(subject, room).in_walls if pipe.thing == "V1"]
        found.append(along(subject, vent, room, wall_of(subject, vent, room)))
    assert found == pytest.approx([6 * 12 - 2.25, 3 * 12 - 2.25])


def test_what_stands_far_from_that_wall_has_no_place_along_it() -> None:
    assert feet(house((2, 1)), "bath") is None


def test_a_point_on_another_level_says_nothing_of_this_ones_wall() -> None:
    assert feet(house((2, 5.9), level="upper"), "bath") is None
