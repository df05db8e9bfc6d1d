"""What a room hides: by the record's own words, with nothing recorded left out."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from handbook import assets, load
from handbook.answers.behind import anywhere, behind, either
from handbook.answers.finding.hidden_pipes import Piped, supply_pipes
from handbook.answers.finding.way_words import read
from handbook.answers.finding.which_wall import wall_of
from handbook.answers.not_asked import NoSuchThingError
from handbook.cli import main
from handbook.house.house import House, build
from handbook.record import ids
from handbook.record.grammar.common import Run
from handbook.record.grammar.record import Record

EXAMPLE = assets.example_house()


@pytest.fixture(scope="module")
def example() -> House:
    return load(EXAMPLE).house


def house(*runs: dict[str, object]) -> House:
    """Two rooms; a main in the first, and a valve in the second behind each of these runs."""
    record = {
        "format": "1",
        "house": {"name": "Two rooms"},
        "levels": [
            {
                "id": "only",
                "name": "Only level",
                "rooms": [{"id": "bath", "name": "Bath"}, {"id": "hall", "name": "Hall"}],
            }
        ],
        "water": {
            "valves": [
                {"id": "W1", "main": True, "from": "street", "place": {"room": "hall"}},
                *(
                    {"id": f"W{n}", "from": "W1", "by": run, "place": {"room": "bath"}}
                    for n, run in enumerate(runs, 2)
                ),
            ]
        },
    }
    return build(Record.model_validate(record), Path())


def ends(pipes: object) -> list[str]:
    return [pipe.thing for pipe in pipes]  # type: ignore[attr-defined]


def test_a_vent_is_listed_in_the_rooms_that_its_record_names(example: House) -> None:
    for room in ("family", "powder", "kitchen"):
        found = behind(example, room)
        assert "V3" in ends((*found.in_walls, *found.in_floor_or_ceiling))


def test_a_pipe_lies_where_its_record_says() -> None:
    subject = house(
        {"size": "1/2 in", "way": "up inside the wall", "through": ["hall"]},
        {"size": "1/2 in", "way": "under the floor", "through": ["hall"]},
        {"size": "1/2 in", "through": ["hall"]},
    )
    for room in ("hall", "bath"):
        found = behind(subject, room)
        assert ends(found.in_walls)[-2:] == ["W2", "W4"]
        assert ends(found.in_floor_or_ceiling)[-2:] == ["W3", "W4"]
    assert [either(pipe) for pipe in behind(subject, "bath").in_walls] == [False, True]


FLOOR, WALL, BOTH, OPEN = "floor", "wall", "both", "open"


@pytest.mark.parametrize(
    ("way", "lies"),
    [
        ("under the storage room floor to the back wall", FLOOR),
        ("straight to the back wall in the family room ceiling", FLOOR),
        ("under the laundry wall", FLOOR),
        ("under the utility room floor and the front wall", FLOOR),
        ("in the floor along the back wall", FLOOR),
        ("between the joists, from the wall at the stairs to the island", FLOOR),
        ("in the study ceiling", FLOOR),  # a study is no stud
        ("down inside the wall between kitchen and powder room", WALL),
        ("up the wall from the floor to the ceiling", WALL),
        ("2 in from the corner, inside the wall", WALL),
        ("through the studs behind the tub", WALL),
        ("along the back wall", WALL),
        ("inside the wall and under the powder room floor", BOTH),
        ("family room ceiling, then up inside the wall between kitchen and powder room", BOTH),
        ("through the side wall and along the utility room ceiling", BOTH),
        ("under the floor to the back wall, then up to the sink", BOTH),
        ("up the wall to the ceiling, across to the bath", BOTH),
        ("straight to the back wall", OPEN),
        ("past the island", OPEN),
        ("", OPEN),
    ],
)
def test_what_a_pipe_only_goes_to_does_not_hide_it(way: str, lies: str) -> None:
    """Read by hand, in favor of more places than fewer where the words leave it open."""
    said = read(way)
    found = {(True, False): FLOOR, (False, True): WALL, (True, True): BOTH, (False, False): OPEN}
    assert found[said.flat, said.upright] == lies


def test_a_pipe_between_two_rooms_with_no_way_recorded_may_be_behind_any_wall() -> None:
    subject = house({"size": "1/2 in"})
    assert ends(anywhere(subject)) == ["W2"]
    assert ends(behind(subject, "bath").in_walls) == []


def test_no_room_of_the_house_is_refused_with_the_nearest(example: House) -> None:
    with pytest.raises(NoSuchThingError) as error:
        behind(example, "hall-bat")
    assert error.value.near == "hall-bath"


def test_every_room_that_a_run_of_the_example_names_has_it(example: House) -> None:
    named = [run for run in ids.entries(example.record) if isinstance(run, Run) and run.through]
    assert len(named) > 30
    for run in named:
        for room in run.through or ():
            found = behind(example, room)
            pipes = (*found.in_walls, *found.in_floor_or_ceiling)
            # a pan's or a coil's drain is no pipe of the three systems
            assert type(run).__name__ == "EndingRun" or any(pipe.run is run for pipe in pipes)


def test_a_wall_is_its_two_rooms(example: House) -> None:
    """The refrigerator stands at the dining room's wall: its pipe comes up in that wall."""
    assert "ice-maker" in ends(behind(example, "kitchen").in_walls)
    assert "ice-maker" in ends(behind(example, "dining").in_walls)
    # but not in the dining room's floor or ceiling, and not in a room that shares no wall with it
    assert "ice-maker" not in ends(behind(example, "dining").in_floor_or_ceiling)
    assert "ice-maker" not in ends(behind(example, "living").in_walls)


def test_rooms_that_meet_at_a_corner_have_no_wall_between_them(example: House) -> None:
    """Bedroom 3 ends at x = 4 ft, y = 14 ft, where the primary bath begins; its shower stands
    within 3 ft of that corner."""
    assert "primary-shower" in ends(behind(example, "hall-bath").in_walls)
    assert "primary-shower" not in ends(behind(example, "bedroom-3").in_walls)


def test_a_vent_in_a_wall_is_there_too(example: House) -> None:
    assert "V1" in ends(behind(example, "hall-bath").in_walls)
    assert "V1" not in ends(behind(example, "hall-bath").in_floor_or_ceiling)


@pytest.mark.parametrize(
    ("vent", "walls"),
    [
        ("V1", {"hall-bath": "the primary bath", "primary-bath": "the hall bath"}),
        ("V2", {"laundry": "the primary bedroom", "primary": "the laundry room"}),
        ("V4", {"utility": "the lower hall", "lower-hall": "the utility room"}),
        ("V5", {"powder": "the kitchen", "kitchen": "the powder room"}),
    ],
)
def test_a_vent_that_rises_in_a_named_wall_is_in_the_walls_of_both_its_rooms(
    example: House, vent: str, walls: dict[str, str]
) -> None:
    """By their records: `inside the wall between the two baths`, and in the other rooms `inside the
    wall toward` the one beside; the first two do not say which other rooms they pass."""
    named = {}
    for room in example.places.rooms:
        for pipe in behind(example, room).in_walls:
            if pipe.thing == vent and (wall := wall_of(example, pipe, room)):
                named[room] = wall
    assert named == {room: f"wall toward {other}" for room, other in walls.items()}


def test_the_command_says_what_python_says(example: House) -> None:
    done = CliRunner().invoke(main, ["behind", str(EXAMPLE), "hall-bath", "--json"])
    said = json.loads(done.output)
    found = behind(example, "hall-bath")
    assert done.exit_code == 0
    assert len(said["in_walls"]) == len(found.in_walls)
    assert said["photos"] == [photo.file for photo in found.photos]
    text = CliRunner().invoke(main, ["behind", str(EXAMPLE), "hall-bath"]).output
    assert "In its walls:" in text
    assert "drain: D7 (" in text
    assert CliRunner().invoke(main, ["behind", str(EXAMPLE), "nowhere"]).exit_code == 2


def pipe(subject: House, end: str, way: str | None = None) -> Piped:
    """A supply pipe of the house, if asked with another way."""
    found = next(pipe for pipe in supply_pipes(subject) if pipe.end == end)
    if way is None:
        return found
    assert found.run
    return replace(found, run=found.run.model_copy(update={"way": way}))


@pytest.mark.parametrize(
    ("way", "room", "wall"),
    [
        ("up inside the wall between dining room and kitchen", "dining", "toward the kitchen"),
        ("inside the wall between the kitchen and the dining room", "kitchen", "toward the dining"),
        ("through the utility room's back wall", "utility", "back wall"),
        ("through the back wall of the utility room", "utility", "back wall"),
        ("through the back wall of the utility room", "dining", ""),
        ("under the wall between dining room and kitchen", "dining", ""),
        ("up inside the wall", "dining", "toward the kitchen"),  # it passes these two on the level
        ("up inside a wall, along the ceiling", "dining", ""),
        ("", "dining", ""),
    ],
)
def test_a_wall_is_named_where_the_way_or_the_rooms_tell(
    example: House, way: str, room: str, wall: str
) -> None:
    """The pipe passes utility room, dining room, kitchen and rooms above, as its record says."""
    found = wall_of(example, pipe(example, "RC1.in", way), room)
    assert wall in found if wall else found == ""


def test_the_wall_at_which_a_fixture_is_recorded_is_that_of_its_riser(example: House) -> None:
    """`up the wall behind the refrigerator`, which stands at the `wall toward the dining room`."""
    riser = pipe(example, "ice-maker.cold")
    walls = [wall_of(example, riser, room) for room in ("kitchen", "dining", "family")]
    assert walls == ["wall toward the dining room", "wall toward the kitchen", ""]


def test_the_wall_between_the_two_baths_is_theirs(example: House) -> None:
    tee = pipe(example, "T15.in")
    walls = [wall_of(example, tee, room) for room in ("hall-bath", "primary-bath")]
    assert walls == ["wall toward the primary bath", "wall toward the hall bath"]


def test_a_pipe_told_to_be_in_another_wall_is_not_in_this_one(example: House) -> None:
    """The tub stands at the wall to bedroom 3 too; its pipes are between the two baths."""
    assert "hall-tub.cold" not in [found.end for found in behind(example, "bedroom-3").in_walls]
    assert "hall-tub.cold" in [found.end for found in behind(example, "primary-bath").in_walls]


def test_a_photo_of_a_shared_wall_belongs_to_the_room_behind_it_too(example: House) -> None:
    """As the record's own captions say: the wall of the hall bath is that of the primary bath."""
    rooms = [behind(example, room) for room in ("hall-bath", "primary-bath", "kitchen", "dining")]
    shown = [[photo.id for photo in found.photos] for found in rooms]
    assert ["PH3" in photos for photos in shown] == [True, True, False, False]
    assert ["PH2" in photos for photos in shown] == [False, False, True, True]


def test_without_north_a_photo_belongs_to_its_own_room_alone(example: House) -> None:
    record = example.record
    assert record.site
    lost = record.model_copy(update={"site": record.site.model_copy(update={"north": None})})
    bare = build(lost, Path())
    assert [photo.id for photo in behind(bare, "hall-bath").photos] == ["PH3"]
    assert not behind(bare, "primary-bath").photos


def test_a_pipe_is_at_the_ceiling_of_the_room_whose_ceiling_is_named() -> None:
    way = "in the hall ceiling, then up inside the wall toward the bath"
    subject = house({"size": "1/2 in", "way": way, "through": ["hall"]})
    (pipe,) = [pipe for pipe in supply_pipes(subject) if pipe.thing == "W2"]
    assert pipe.high == {"hall"}
