"""What a room's walls are called: one name a wall, and no two walls of a room called the same.

By hand on a bath that its bedroom goes round on three sides, and on the words of the example.
"""

import re
from pathlib import Path
from typing import Any

import pytest

from handbook import assets, load
from handbook.answers.behind import behind
from handbook.answers.finding.along_wall import along
from handbook.answers.finding.surroundings import surroundings
from handbook.answers.finding.wall_names import toward
from handbook.answers.finding.which_wall import wall_at, wall_of
from handbook.house.house import House, build
from handbook.record.grammar.record import Record

FT = 12.0


def house(north: str | None = "0 deg", way: str = "inside the wall behind the sink") -> House:
    """A bath of 8 x 6 ft, the bedroom left of it, above it and right of it; a valve in the middle
    of the wall at its right."""

    def outline(*points: tuple[int, int]) -> list[list[str]]:
        return [[f"{x} ft", f"{y} ft"] for x, y in points]

    bath = outline((4, 0), (12, 0), (12, 6), (4, 6))
    bed = outline((0, 0), (4, 0), (4, 6), (12, 6), (12, 0), (16, 0), (16, 10), (0, 10))
    rooms = [
        {"id": "bath", "name": "Bath", "outline": bath},
        {"id": "bed", "name": "Bedroom", "outline": bed},
    ]
    run = {"size": "1/2 in", "way": way, "through": ["bath", "bed"]}
    valves: list[dict[str, Any]] = [
        {"id": "W1", "main": True, "from": "street", "place": {"room": "bed"}},
        {"id": "W2", "from": "W1", "by": run, "place": {"room": "bath", "at": ["12 ft", "2 ft"]}},
    ]
    record = {
        "format": "1",
        "house": {"name": "Bath in a bedroom"},
        "site": {"north": north} if north else {},
        "levels": [{"id": "only", "name": "Only level", "rooms": rooms}],
        "water": {"valves": valves},
    }
    return build(Record.model_validate(record), Path())


def found(subject: House, room: str) -> tuple[str, float | None]:
    (pipe,) = [pipe for pipe in behind(subject, room).in_walls if pipe.thing == "W2"]
    wall = wall_of(subject, pipe, room)
    return wall, along(subject, pipe, room, wall)


def test_the_compass_tells_walls_apart_that_lead_to_one_room() -> None:
    """North is up the plan: the wall at x = 12 ft is the bath's east wall, and west of who stands
    in the bedroom beyond. Facing it from the bath the left corner is its upper one, at y = 6 ft;
    from the bedroom its lower one, at y = 0."""
    assert found(house(), "bath") == ("east wall toward the bedroom", 4 * FT)
    assert found(house(), "bed") == ("west wall toward the bath", 2 * FT)


@pytest.mark.parametrize(("north", "side"), [("90 deg", "north"), ("180 deg", "west")])
def test_the_compass_turns_with_north(north: str, side: str) -> None:
    """North 90 deg clockwise from the top of the plan points right: to the wall at x = 12 ft."""
    assert found(house(north), "bath")[0] == f"{side} wall toward the bedroom"


def test_without_north_no_wall_of_several_is_named_and_no_length_given() -> None:
    assert found(house(None), "bath") == ("one of the walls toward the bedroom", None)


def test_words_that_tell_the_side_go_before_the_point() -> None:
    said = found(house(way="inside the north wall toward the bedroom"), "bath")
    assert said == ("north wall toward the bedroom", None)  # the point is not at that wall


def test_a_wall_that_leads_alone_to_a_room_needs_no_side() -> None:
    example = load(assets.example_house()).house
    assert toward(example, "hall-bath", "primary-bath") == "wall toward the primary bath"


def test_a_wall_told_by_what_stands_at_it_has_the_name_that_the_plan_gives_it() -> None:
    """The plates are recorded at the `wall behind the double sink`, the tee of the sinks in it."""
    example = load(assets.example_house()).house
    shield = next(s for s in behind(example, "primary-bath").shields if "T19" in (s.protects or ()))
    (tee,) = [p for p in behind(example, "primary-bath").in_walls if p.thing == "T19"]
    wall = wall_of(example, tee, "primary-bath")
    assert wall == wall_at(example, shield.place, "primary-bath")
    assert wall == wall_at(example, example.items["primary-lav-1"].place, "primary-bath")
    assert wall == "east wall toward the primary bedroom"


def test_every_wall_toward_a_room_in_the_examples_words_is_one_of_the_plan() -> None:
    """The street is no room; what the words call else must be a room that shares the wall."""
    example = load(assets.example_house()).house
    told = re.compile(r"\bwall toward (?!the street\b)")
    places = [each.place for each in example.items.values() if each.place and each.place.room]
    named = [place for place in places if place.where and told.search(place.where)]
    assert len(named) > 12
    for place in named:
        assert place.room
        beside = surroundings(example, place.room).beside or ()
        known = {toward(example, place.room, other, told=s) for other in beside for s in SIDES}
        assert wall_at(example, place, place.room) in known, place.where


SIDES = (None, "north", "east", "south", "west")
