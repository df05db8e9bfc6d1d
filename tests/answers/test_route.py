"""Routes: words, left and right, distances and times, and what happens where facts are missing.

Distances are worked out beside each check from the example's plan; the shortest-path search is
checked against a general library in `tests/house`.
"""

import re
from itertools import pairwise
from math import hypot

import pytest
from plan_houses import (
    Data,
    box,
    example,
    in_metres,
    made,
    mirrored,
    rotated,
    two_rooms,
    without,
)

from handbook.answers.finding.heights import said_height
from handbook.answers.from_stairs import from_stairs
from handbook.answers.route import NoSuchPlaceError, Route, pace, route, said_walk
from handbook.house.house import House
from handbook.tables import table

EXAMPLE = example()
HOUSE = made(EXAMPLE)
WORDLESS = example(wordless=True)
ASKED = [
    (room, goal)
    for room in HOUSE.places.rooms
    for goal in ("W5", "W2", "W30", "W16", "G2", "C6", "C1", "W22", "G8")
]


def whole(house: House) -> list[Route]:
    return [route(house, room, goal) for room, goal in ASKED]


# --- words ------------------------------------------------------------------------------------


def test_from_the_hall_bath_down_two_flights_to_the_main() -> None:
    # Drawn on the plan: the bath's door faces east, so north along the hall is left; the stairs
    # go down facing south, from which west is right; the utility room's door faces west.
    assert route(HOUSE, "hall-bath", "W5").way == (
        "Out of the hall bath, left along the upper hall, around the corner to the right, right, "
        "down the stairs to the main level (16 steps), right along the entry hall, around the "
        "corner to the right, and again to the right, right, down the stairs to the lower level "
        "(15 steps), right along the lower hall, around the corner to the right, left into the "
        "utility room."
    )


def test_where_the_thing_is_comes_with_side_cover_words_and_height() -> None:
    # The closet's door is at (16 ft, 9 ft 3 in) and faces west; W30 is at (13 ft 9 in, 8 ft 9 in).
    place = HOUSE.items["W30"].place
    assert place is not None
    assert route(HOUSE, "hall-bath", "W30").there == (
        f"straight ahead, 2 ft in; behind {place.behind}; {place.where}; chest high (4 ft)"
    )


def test_out_of_the_front_door_the_meter_box_is_ahead_on_the_right() -> None:
    # The door faces south (to the street); the box lies 14 ft to the west of the steps' foot.
    answer = route(HOUSE, "dining", "W2")
    assert answer.way == (
        "Out of the dining room to the entry hall, right along it, out of the door, "
        "down the 8 steps."
    )
    # hypot(18 - 4, 27 - 9) = 22.8 ft from the foot of the steps
    assert answer.there.startswith("ahead on your right, 23 ft away; under ")


def test_the_curb_stop_is_farther_out_the_same_way() -> None:
    # hypot(14, 31 - 9) = 26.1 ft from the foot of the steps
    assert route(HOUSE, "dining", "W1").there.startswith("ahead on your right, 26 ft away; ")


def test_the_gas_meter_is_around_the_corner_of_the_house_to_the_right() -> None:
    way = route(HOUSE, "entry", "GM").way
    assert way == (
        "Out of the entry hall by its outer door, down the 8 steps, right, "
        "around the corner of the house to the right."
    )


def test_the_back_cleanout_is_reached_over_the_deck_and_lies_behind_at_its_foot() -> None:
    # The deck's steps lead down facing north; C6 lies south and east of their foot.
    answer = route(HOUSE, "kitchen", "C6")
    assert answer.way == ("Out of the kitchen by its outer door, straight on and down the 8 steps.")
    assert answer.there.startswith("behind you on your right, 16 ft away; ")


def test_what_is_on_the_deck_is_reached_without_its_steps() -> None:
    assert route(HOUSE, "kitchen", "G8").way == "Out of the kitchen by its outer door."


def test_coming_in_from_outdoors_begins_at_the_steps() -> None:
    assert route(HOUSE, "HB1", "W10").way.startswith(
        "To the steps at the outer door of the entry hall, up the 8 steps, in by the door, "
        "along the entry hall, around the corner to the right, right, down the stairs"
    )


def test_in_the_same_room_only_the_place_is_said() -> None:
    answer = route(HOUSE, "hall-wc", "W36")
    assert answer.way == ""
    place = HOUSE.items["W36"].place
    assert place is not None
    assert answer.words.lower() == f"{place.where}; low (8 in)."


# --- left and right ---------------------------------------------------------------------------


def swapped(words: str) -> str:
    return re.sub(
        r"\b(left|right)\b", lambda found: {"left": "right", "right": "left"}[found[0]], words
    )


def test_a_mirrored_plan_flips_every_left_and_right_and_nothing_else() -> None:
    plain, flipped = whole(made(WORDLESS)), whole(made(mirrored(WORDLESS)))
    assert any("left" in answer.words for answer in plain)
    for before, after in zip(plain, flipped, strict=True):
        assert after.words == swapped(before.words)
        assert after.distance_ft == pytest.approx(before.distance_ft, abs=1e-3)


@pytest.mark.parametrize("degrees", [37, 90, 200])
def test_a_rotated_plan_changes_nothing(degrees: float) -> None:
    for before, after in zip(whole(HOUSE), whole(made(rotated(EXAMPLE, degrees))), strict=True):
        assert after.words == before.words
        assert after.distance_ft == pytest.approx(before.distance_ft, abs=1e-3)


def turned_house(x: float, y: float) -> House:
    """A hall 4 ft wide northward from a den's door, with a room at its left or right."""
    rooms = [
        {"id": "den", "name": "Den", "outline": box(0, -10, 10, 0)},
        {"id": "hall", "name": "Hall", "outline": box(3, 0, 7, 20)},
        {"id": "bath", "name": "Bath", "outline": box(x, y, x + 3, y + 6)},
    ]
    doors = [
        {"between": ["den", "hall"], "at": ["5 ft", "0 ft"]},
        {"between": ["hall", "bath"], "at": [f"{7 if x == 7 else 3} ft", f"{y + 3} ft"]},
    ]
    level = {"id": "main", "name": "Main", "rooms": rooms, "doors": doors}
    return made({"format": "1", "house": {"name": "Turned"}, "levels": [level]})


def test_a_room_east_of_a_hall_walked_northward_is_on_the_right() -> None:
    assert route(turned_house(7, 10), "den", "bath").way.endswith("right into the bath.")
    assert route(turned_house(0, 10), "den", "bath").way.endswith("left into the bath.")


# --- distance and time ------------------------------------------------------------------------


def test_the_distance_is_the_taut_string_through_doors_and_down_the_steps() -> None:
    # Dining room's middle (8, 7) to its opening (16, 7): 8 ft. To the front door (18, 0):
    # hypot(2, 7) = 7.28. Stoop: 3. Steps: hypot(6, 5) = 7.81. To W2: hypot(14, 18) = 22.80.
    feet = 8 + hypot(2, 7) + 3 + hypot(6, 5) + hypot(14, 18)
    assert route(HOUSE, "dining", "W2").distance_ft == pytest.approx(feet)


def test_times_are_at_the_published_speeds_on_the_level_and_on_stairs() -> None:
    # Level: MUTCD (2009) 4E.06, 3.5 ft/s. Down: Fruin as quoted in PD 7974-6, 0.595 m/s.
    level, steps = 8 + hypot(2, 7) + 3 + hypot(14, 18), hypot(6, 5)
    seconds = level / 3.5 + steps * 0.3048 / 0.595
    answer = route(HOUSE, "dining", "W2")
    assert answer.seconds == pytest.approx(seconds)
    assert said_walk(answer, "US") == "49 ft, about 20 seconds"  # 15.7 s, in fives rounded up
    # Up again at 0.485 m/s.
    up = route(HOUSE, "W2", "dining").seconds or 0
    back = route(HOUSE, "W2", "dining").distance_ft or 0
    assert up == pytest.approx((back - steps) / 3.5 + steps * 0.3048 / 0.485)


def test_the_walking_speeds_are_those_of_their_sources() -> None:
    known = table("walking").values
    assert known == {"level_ft_s": 3.5, "down_m_s": 0.595, "up_m_s": 0.485}
    assert pace("US") == "walking at 3.5 ft/s, 2 ft/s down and 1.6 ft/s up stairs"


def test_flights_are_counted_each_way() -> None:
    assert said_walk(route(HOUSE, "hall-bath", "W5"), "US") == (
        "83 ft, two flights down, about 35 seconds"
    )
    back = route(HOUSE, "W5", "hall-bath")
    assert (back.up, back.down) == (2, 0)


def test_a_house_recorded_in_metres_is_as_far_and_is_told_in_metres() -> None:
    metric = made(in_metres(EXAMPLE))
    ours, theirs = route(HOUSE, "dining", "W2"), route(metric, "dining", "W2")
    assert theirs.distance_ft == pytest.approx(ours.distance_ft, abs=1e-3)
    assert said_walk(theirs, "metric") == "15 m, about 20 seconds"  # 48.9 ft x 0.3048 = 14.9 m
    assert "7 m away" in theirs.there  # 22.8 ft x 0.3048 = 6.95 m


def test_the_line_to_draw_is_as_long_as_the_way_less_doors_and_flights() -> None:
    answer = route(HOUSE, "dining", "W2")
    drawn = sum(
        hypot(b[0] - a[0], b[1] - a[1]) for _, points in answer.path for a, b in pairwise(points)
    )
    assert [level for level, _ in answer.path] == ["main", "main", "main", "outside"]
    assert drawn / 12 == pytest.approx((answer.distance_ft or 0) - hypot(6, 5))


# --- heights ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("height", "said"),
    [
        ("0 ft", "at the floor"),
        ("20 in", "knee high (1 ft 8 in)"),
        ("3 ft", "waist high (3 ft)"),
        ("5 ft 6 in", "head high (5 ft 6 in)"),
        ("7 ft", "near the ceiling (7 ft)"),  # of 8 ft
    ],
)
def test_heights_are_said_as_people_say_them_with_the_number(height: str, said: str) -> None:
    data = two_rooms()
    data["levels"][0]["ceiling"] = "8 ft"
    data["fixtures"] = [{"id": "tap", "kind": "other", "place": {"room": "den", "height": height}}]
    home = made(data)
    assert said_height(home, home.items["tap"].place) == said


def test_outdoors_heights_are_above_the_ground_and_depths_below_it() -> None:
    assert said_height(HOUSE, HOUSE.items["HB1"].place) == "knee high (1 ft 6 in)"
    assert said_height(HOUSE, HOUSE.items["C1"].place) == "at the ground"
    assert said_height(HOUSE, HOUSE.items["W1"].place) == "4 ft below the ground"


# --- what is not recorded ---------------------------------------------------------------------


def with_tap(data: Data, **place: object) -> House:
    data["fixtures"] = [
        {"id": "tap", "name": "Tap", "kind": "other", "place": {"room": "yard-room", **place}}
    ]
    return made(data)


def test_without_outlines_the_rooms_are_told_without_left_right_or_distance() -> None:
    answer = route(made(without(EXAMPLE, "outline")), "hall-bath", "W5")
    assert answer.way == (
        "Out of the hall bath, through the upper hall, down the stairs to the main level "
        "(16 steps), through the entry hall, down the stairs to the lower level (15 steps), "
        "through the lower hall, into the utility room."
    )
    assert (answer.distance_ft, answer.seconds) == (None, None)
    assert "The outline of upper-hall is not recorded." in answer.missing
    assert said_walk(answer, "US") == ""


def test_a_door_without_its_point_still_joins_its_rooms() -> None:
    answer = route(with_tap(two_rooms(at="unknown"), at=["18 ft", "5 ft"]), "den", "tap")
    assert answer.way == "Out of the den, into the garden room."
    assert answer.distance_ft is None
    assert answer.missing == ("Where the door between den and yard-room is has not been recorded.",)


def test_a_thing_without_its_point_is_reached_as_far_as_its_door() -> None:
    answer = route(with_tap(two_rooms()), "den", "tap")
    assert answer.distance_ft == pytest.approx(5)  # the den's middle (5, 5) to the door (10, 5)
    assert answer.missing == ("Where in yard-room tap is has not been recorded.",)
    assert answer.there == ""


def test_a_door_recorded_far_from_its_wall_is_not_believed() -> None:
    data = two_rooms()
    data["levels"][0]["doors"][0]["at"] = ["4 ft", "5 ft"]  # 6 ft from the garden room
    answer = route(with_tap(data, at=["18 ft", "5 ft"]), "den", "tap")
    assert answer.distance_ft is None


def test_rooms_that_nothing_joins_have_no_way() -> None:
    data = two_rooms()
    del data["levels"][0]["doors"]
    answer = route(made(data), "den", "yard-room")
    assert answer.words == ""
    assert answer.missing == ("No doors or stairs that join den with yard-room are recorded.",)


def test_a_thing_without_a_room_says_so() -> None:
    data = {**two_rooms(), "fixtures": [{"id": "tap", "kind": "other"}]}
    answer = route(made(data), "den", "tap")
    assert answer.distance_ft is None
    assert answer.missing == ("Which room tap is in has not been recorded.",)


def test_an_unknown_name_is_refused_with_the_nearest() -> None:
    with pytest.raises(NoSuchPlaceError, match="did you mean `hall-bath`"):
        route(HOUSE, "hal-bath", "W5")


def upstairs(**stair: object) -> House:
    """A den below, an attic above; the flight's ends lie 3 ft apart on the plan, 9 ft in height."""
    low = {"id": "low", "name": "Lower level", "elevation": "0 ft"}
    high = {"id": "high", "name": "Upper level", "elevation": "9 ft"}
    rooms = [
        {"id": "den", "name": "Den", "outline": box(0, 0, 12, 12)},
        {"id": "loft", "name": "Loft", "outline": box(0, 0, 12, 12)},
        {"id": "bath", "name": "Bath", "outline": box(12, 0, 18, 12)},
    ]
    flight = {
        "id": "flight",
        "foot": {"room": "den", "at": ["2 ft", "2 ft"]},
        "head": {"room": "loft", "at": ["5 ft", "2 ft"]},
        **stair,
    }
    levels = [
        {**low, "rooms": rooms[:1]},
        {
            **high,
            "rooms": rooms[1:],
            "doors": [{"between": ["loft", "bath"], "at": ["12 ft", "10 ft"]}],
        },
    ]
    return made({"format": "1", "house": {"name": "Up"}, "levels": levels, "stairs": [flight]})


def test_after_a_flight_that_must_turn_nobody_is_told_which_way_to_turn() -> None:
    way = route(upstairs(), "den", "bath").way
    assert way.startswith("Out of the den, up the stairs to the upper level, through the loft, ")


def test_a_flight_whose_turns_are_recorded_says_left_and_right_again() -> None:
    # Up eastward, over a landing, back westward to (5, 2): facing west, the bath's door at
    # (12, 10) lies behind on the right: north is right of west.
    way = route(upstairs(turns=[["8 ft", "5 ft"], ["8 ft", "2 ft"]]), "den", "bath").way
    assert ", back to the right through the loft, " in way or ", sharp right through" in way


def test_outdoor_steps_are_said_only_where_they_are_recorded() -> None:
    answer = route(made(without(EXAMPLE, "starts", "ends")), "dining", "W2")
    assert "down the 8 steps" in answer.way
    bare = example()
    for door in bare["levels"][1]["doors"]:
        door.pop("steps", None)
    told = route(made(bare), "dining", "W2")
    assert "steps" not in told.way
    assert told.missing == (
        "The steps outside the door between entry and outside are not recorded.",
    )


def test_without_the_buildings_outline_its_rooms_stand_for_it_and_that_is_said() -> None:
    answer = route(made(without(EXAMPLE, "building")), "entry", "GM")
    assert answer.distance_ft == pytest.approx(route(HOUSE, "entry", "GM").distance_ft, abs=0.2)
    assert "The building is taken to end where its rooms do." in answer.assumed


# --- from the stairs ----------------------------------------------------------------------------


def test_from_the_foot_of_the_stairs_to_the_main() -> None:
    # Drawn on the plan: the flight comes down facing south, the hall lies west of it, which is
    # right; the utility room's door is on the hall's west end, south of the corner.
    assert from_stairs(HOUSE, "W5") == (
        "right along the lower hall, around the corner to the right, left into the utility room"
    )
    assert from_stairs(made(mirrored(EXAMPLE)), "W5") == (
        "left along the lower hall, around the corner to the left, right into the utility room"
    )


def test_a_thing_on_the_level_of_the_outer_door_is_reached_without_stairs() -> None:
    assert from_stairs(HOUSE, "W2") == from_stairs(HOUSE, "W26") == ""


def test_two_flights_to_a_level_leave_open_from_which_one_comes() -> None:
    second = example()
    flight = second["stairs"][0]
    second["stairs"].append(flight | {"id": "stair-3"})
    assert from_stairs(made(second), "W5") == ""
