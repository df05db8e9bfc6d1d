"""Everything with an id becomes one thing, and stops are called after what they serve."""

from pathlib import Path

from handbook import assets, load
from handbook.house.house import House, build
from handbook.record import ids
from handbook.record.grammar.record import Record
from handbook.record.grammar.walls import Photo


def small() -> House:
    return build(
        Record.model_validate(
            {
                "format": "1",
                "house": {"name": "Test"},
                "levels": [
                    {"id": "up", "name": "Upper level", "rooms": [{"id": "bath", "name": "Bath"}]}
                ],
                "fixtures": [
                    {
                        "id": "sink",
                        "name": "Sink",
                        "kind": "lavatory",
                        "place": {"room": "bath", "at": ["1 ft", "2 ft"]},
                        "cold": {"stop": {"id": "W9", "where": "left of the trap"}},
                    }
                ],
            }
        ),
        Path(),
    )


def test_every_id_of_the_example_is_a_thing_except_photos_and_stairs() -> None:
    house = load(assets.example_house()).house
    named = {
        name
        for name, entry, is_place in ids.declared(house.record)
        if not is_place and not isinstance(entry, Photo)
    }
    stairs = {stair.id for stair in house.record.stairs or ()}
    assert set(house.items) == named - stairs


def test_a_stop_without_a_name_is_called_after_its_fixture() -> None:
    assert small().items["W9"].name == "Cold valve, sink"


def test_a_stop_without_a_place_stands_in_its_fixtures_room() -> None:
    assert small().where("W9") == "Bath, upper level; left of the trap"


def test_a_stop_does_not_take_over_its_fixtures_measured_point() -> None:
    place = small().items["W9"].place
    assert place is not None
    assert place.at is None
