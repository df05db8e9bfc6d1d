"""Ties lead back to the recorded point, from corners that can be seen, named and forgiving.

Geometry is checked by intersecting the two arcs again (law of cosines, written here on its own)
and by shapely, a general-purpose geometry library.
"""

import json
from collections.abc import Sequence
from itertools import combinations
from math import acos, atan2, cos, degrees, dist, hypot, pi, radians, sin
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from handbook import assets, load
from handbook.answers.finding.corners import corners, room_frame
from handbook.answers.finding.sight import sees
from handbook.answers.finding.taped import JUTS
from handbook.answers.not_asked import NoSuchThingError
from handbook.answers.ties import Tie, Ties, ties
from handbook.cli import main
from handbook.house.house import House, build
from handbook.output.told_ties import ties_text
from handbook.pages.parts.ties import tie_blocks
from handbook.record.grammar.record import Record

EXAMPLE = assets.example_house()
FT = 12.0
XY = tuple[float, float]

PLAIN = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0)]
BENT = [(0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (20.0, 20.0), (20.0, 30.0), (0.0, 30.0)]


def points(outline: Sequence[XY]) -> list[list[str]]:
    return [[f"{x} ft", f"{y} ft"] for x, y in outline]


def valve(*at: float, **place: Any) -> dict[str, Any]:
    where = {"level": "outside", "at": points([at])[0], "depth": "2 ft"} | place  # type: ignore[list-item]
    seen = {"on": "2026-04-21", "by": "plumber", "how": "walked"}
    return {"id": "W1", "name": "Buried valve", "kind": "ball", "place": where, "seen": seen}


def house(
    *valves: dict[str, Any],
    outline: Sequence[XY] | None = PLAIN,
    units: str = "US",
    equipment: Sequence[dict[str, Any]] = (),
    **site: Any,
) -> House:
    built = {} if outline is None else {"building": points(outline)}
    record = {
        "format": "1",
        "house": {"name": "Test house", "units": units},
        "site": {**built, **site},
        "levels": [
            {
                "id": "main",
                "name": "Main level",
                "rooms": [
                    {
                        "id": "bath",
                        "name": "Bath",
                        "outline": points([(0, 0), (8, 0), (8, 6), (0, 6)]),
                    },
                    {"id": "attic", "name": "Attic"},
                ],
            }
        ],
        "water": {"valves": list(valves), "equipment": list(equipment)},
    }
    return build(Record.model_validate(record), Path())


def only(answer: Ties) -> Tie:
    (tie,) = answer.ties
    return tie


def met(a: XY, b: XY, ra: float, rb: float) -> tuple[XY, XY]:
    """Intersect two circles: where the tapes meet, on either side of the line between."""
    base = dist(a, b)
    along = (ra**2 - rb**2 + base**2) / (2 * base)
    out = max(0.0, ra**2 - along**2) ** 0.5
    ux, uy = (b[0] - a[0]) / base, (b[1] - a[1]) / base
    middle = (a[0] + along * ux, a[1] + along * uy)
    return (
        (middle[0] - out * uy, middle[1] + out * ux),
        (middle[0] + out * uy, middle[1] - out * ux),
    )


@pytest.fixture(scope="module")
def example() -> House:
    return load(EXAMPLE).house


# --- they lead back to the recorded point


def recorded(of: House, thing: str) -> XY:
    place = of.items[thing].place
    assert place
    assert place.at
    return place.at.x, place.at.y


def test_each_tie_of_the_example_meets_again_at_the_recorded_point(example: House) -> None:
    answer = ties(example)
    assert len(answer.ties) > 40
    for tie in answer.ties:
        two = met(tie.a.xy, tie.b.xy, tie.distance_a.inches, tie.distance_b.inches)
        assert min(dist(p, recorded(example, tie.thing)) for p in two) < 0.01, tie.thing


COMPASS = {
    "north": (0, 1), "northeast": (1, 1), "east": (1, 0), "southeast": (1, -1),
    "south": (0, -1), "southwest": (-1, -1), "west": (-1, 0), "northwest": (-1, 1),
}  # fmt: skip


def test_of_the_two_meeting_points_the_side_named_is_that_of_the_recorded_one(
    example: House,
) -> None:
    """The street is at the foot of the example's plan, and north, but for 8 degrees, at its top."""
    step = {
        "toward the street": (0, -1),
        "away from the street": (0, 1),
        "to the right": (1, 0),
        "to the left": (-1, 0),
    }
    step |= {f"toward the {way}": at for way, at in COMPASS.items()}
    for tie in ties(example).ties:
        at = recorded(example, tie.thing)
        two = met(tie.a.xy, tie.b.xy, tie.distance_a.inches, tie.distance_b.inches)
        right, wrong = sorted(two, key=lambda p: dist(p, at))
        for words in tie.side.split(" and "):
            dx, dy = step[words]
            assert (right[0] - wrong[0]) * dx + (right[1] - wrong[1]) * dy > 0, tie.thing


def test_taped_to_the_half_inch_the_point_is_found_to_an_inch(example: House) -> None:
    """Two roundings of at most 1/4 in each, at the worst crossing allowed: 2 * 0.25 * 2 = 1 in."""
    for tie in ties(example).ties:
        ra, rb = (round(2 * d.inches) / 2 for d in (tie.distance_a, tie.distance_b))
        if rb and ra:
            two = met(tie.a.xy, tie.b.xy, ra, rb)
            assert min(dist(p, recorded(example, tie.thing)) for p in two) <= 1.0, tie.thing


def test_an_inch_of_slip_moves_the_point_by_what_is_said(example: House) -> None:
    """Lengthen one tape by an inch, meet again, measure: 1/sin(angle) but for the arcs' bend."""
    long = [t for t in ties(example).ties if min(t.distance_a, t.distance_b).feet > 6]
    assert long
    for tie in long:
        ra, rb = tie.distance_a.inches, tie.distance_b.inches
        for slipped in ((ra + 1, rb), (ra, rb + 1)):
            moved = min(
                dist(p, recorded(example, tie.thing)) for p in met(tie.a.xy, tie.b.xy, *slipped)
            )
            assert moved == pytest.approx(tie.slip_in, rel=0.03), tie.thing


def test_the_tapes_cross_between_30_and_150_degrees(example: House) -> None:
    """Common practice, no source."""
    for tie in ties(example).ties:
        base = dist(tie.a.xy, tie.b.xy)
        ra, rb = tie.distance_a.inches, tie.distance_b.inches
        # law of cosines: base^2 = ra^2 + rb^2 - 2 ra rb cos(angle)
        angle = degrees(acos((ra**2 + rb**2 - base**2) / (2 * ra * rb)))
        assert angle == pytest.approx(tie.angle_deg, abs=0.01)
        assert 30 <= angle <= 150
        assert tie.slip_in == pytest.approx(1 / sin(radians(angle)))


def test_a_right_angle_forgives_an_inch_with_an_inch() -> None:
    # 10 ft before the middle of a 20 ft front, both corners are seen at 45 degrees off square
    square = [(0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0)]
    tie = only(ties(house(valve(10, -10), outline=square)))
    assert tie.angle_deg == pytest.approx(90)
    assert tie.slip_in == pytest.approx(1)
    assert tie.distance_a.feet == pytest.approx(hypot(10, 10))


# --- the line of sight


@st.composite
def stars(draw: st.DrawFn) -> list[XY]:
    """Draw a simple polygon: corners at rising angles round the middle."""
    count = draw(st.integers(4, 9))
    radii = draw(st.lists(st.integers(60, 400), min_size=count, max_size=count))
    return [(r * cos(2 * pi * i / count), r * sin(2 * pi * i / count)) for i, r in enumerate(radii)]


COORDINATE = st.integers(-500, 500).map(float)


@settings(max_examples=300, deadline=None)
@given(stars(), COORDINATE, COORDINATE, st.integers(0, 8))
def test_a_tape_goes_where_shapely_says_that_it_stays_on_its_side(
    outline: list[XY], x: float, y: float, index: int
) -> None:
    corner = outline[index % len(outline)]
    assume(dist(corner, (x, y)) > 1)
    shape, tape = Polygon(outline), LineString([corner, (x, y)])
    bare = tape.difference(Point(corner).buffer(2))  # at its own corner it touches the walls
    for indoors in (True, False):
        sure = {
            shape.buffer(grown).covers(bare)
            if indoors
            else not shape.buffer(-grown).intersects(bare)
            for grown in (-0.6, 0.6)
        }
        if len(sure) == 1:
            assert sees(outline, corner, (x, y), indoors=indoors) == sure.pop()


def test_no_tape_of_the_example_passes_through_the_building(example: House) -> None:
    site = example.record.site
    assert site
    inner = Polygon([(p.x, p.y) for p in site.building or ()]).buffer(-1)
    outdoors = [t for t in ties(example).ties if "of the house" in t.a.name]
    assert len(outdoors) >= 10
    for tie in outdoors:
        for corner in (tie.a, tie.b):
            assert not inner.intersects(LineString([corner.xy, recorded(example, tie.thing)]))


@settings(max_examples=60, deadline=None)
@given(st.integers(-60, 100).map(float), st.integers(-60, 90).map(float))
def test_no_other_pair_of_visible_corners_would_forgive_clearly_more(x: float, y: float) -> None:
    shape = Polygon(BENT)
    assume(shape.distance(Point(x, y)) > 1)
    seen = [c for c in BENT if not shape.buffer(-0.05).intersects(LineString([c, (x, y)]))]
    seen = [c for c in seen if dist(c, (x, y)) <= 100]
    slips = []
    for a, b in combinations(seen, 2):
        turn = atan2(a[1] - y, a[0] - x) - atan2(b[1] - y, b[0] - x)
        if 30 <= degrees(acos(max(-1.0, min(1.0, cos(turn))))) <= 150:
            slips.append(1 / abs(sin(turn)))
    answer = ties(house(valve(x, y), outline=BENT))
    if slips:
        assert only(answer).slip_in <= min(slips) + 0.25
    elif answer.ties:
        assert only(answer).b.name.startswith("mark on the wall")


# --- close before a wall, and what is never taped from


def test_close_before_a_long_wall_one_tape_starts_from_a_mark_on_it() -> None:
    # 3 ft before the front wall, 10 ft from its left end: both front corners are seen at
    # 180 - atan(3/10) - atan(3/30) = 157.6 degrees, too flat
    tie = only(ties(house(valve(10, -3), street=["20 ft", "-40 ft"])))
    assert tie.b.name == (
        "mark on the wall, 10 ft from the front left corner of the house "
        "toward the front right corner"
    )
    assert tie.b.xy == pytest.approx((10 * FT, 0))
    assert tie.distance_b.feet == pytest.approx(3)
    assert tie.distance_a.feet == pytest.approx(hypot(10, 3))


def feature(name: str, *at: float) -> dict[str, Any]:
    return {
        "id": name.replace(" ", "-"),
        "name": name,
        "place": {"level": "outside", "at": points([at])[0]},
    }  # type: ignore[list-item]


def test_a_deck_or_a_driveway_is_never_taped_from_and_a_hydrant_only_in_need() -> None:
    # 90 ft before a 40 ft front the corners are seen at no more than 2 atan(20/90) = 25 degrees
    far = valve(20, -90)
    movable = [feature("Deck", 60, -80), feature("Driveway", -20, -85)]
    without = ties(house(far, features=movable))
    assert without.ties == ()
    assert "W1" in without.missing[0]
    with_hydrant = only(ties(house(far, features=[*movable, feature("Fire hydrant", 60, -80)])))
    assert with_hydrant.b.name == "middle of the fire hydrant"
    near = only(ties(house(valve(20, -25), features=[feature("Fire hydrant", 20, -60)])))
    assert "corner of the house" in near.a.name
    assert "corner of the house" in near.b.name


def test_no_tape_is_longer_than_a_hundred_feet() -> None:
    """Common practice, no source."""
    assert ties(house(valve(20, -101))).ties == ()


def test_a_thing_at_the_wall_needs_no_two_tapes() -> None:
    answer = ties(house(valve(10, -0.1)))
    assert answer.ties == ()
    assert "stands at the wall" in answer.missing[0]


# --- names that a stranger finds


def corner_names(of: House) -> set[str]:
    tie = only(ties(of))
    return {tie.a.name, tie.b.name}


@pytest.mark.parametrize(
    ("street", "expected"),
    [
        # the thing lies 20 ft below the foot of the plan; left and right as one faces the house
        ((20, -40), {"front left", "front right"}),
        ((20, 80), {"back left", "back right"}),
        ((90, 15), {"front left", "back left"}),  # facing left on the plan: its foot is the left
        ((-50, 15), {"front right", "back right"}),
    ],
)
def test_front_is_where_the_street_is(street: XY, expected: set[str]) -> None:
    of = house(valve(20, -20), street=points([street])[0])
    assert corner_names(of) == {f"{name} corner of the house" for name in expected}


def test_without_a_street_corners_go_by_the_compass_and_without_north_by_the_plan() -> None:
    by_compass = house(valve(20, -20), north="0")
    assert corner_names(by_compass) == {
        f"{w} corner of the house" for w in ("southwest", "southeast")
    }
    # north to the right of the plan: its foot is then the east side, its left the south
    turned = house(valve(20, -20), north="90")
    assert corner_names(turned) == {f"{w} corner of the house" for w in ("southeast", "northeast")}
    by_plan = house(valve(20, -20))
    assert corner_names(by_plan) == {f"lower {w} corner of the house" for w in ("left", "right")}


def test_a_mirrored_house_has_left_and_right_changed() -> None:
    plain = only(ties(house(valve(5, -20), street=["20 ft", "-40 ft"])))
    mirror = [(-x, y) for x, y in reversed(PLAIN)]
    other = only(ties(house(valve(-5, -20), outline=mirror, street=["-20 ft", "-40 ft"])))
    swap = {"left": "right", "right": "left"}
    expected = {
        " ".join(swap.get(word, word) for word in c.name.split()): dist(c.xy, (60, -240))
        for c in (plain.a, plain.b)
    }
    found = {c.name: dist(c.xy, (-60, -240)) for c in (other.a, other.b)}
    assert found == pytest.approx(expected)


def test_each_corner_of_a_bent_house_has_its_own_name() -> None:
    # every corner is reached by some point just off it, on its open side
    off = [(-6, -6), (46, -6), (46, 26), (24, 24), (26, 36), (-6, 36)]
    names = set()
    for at in off:
        answer = ties(house(valve(*at), outline=BENT, street=["20 ft", "-40 ft"]))
        for tie in answer.ties:
            names |= {c.name for c in (tie.a, tie.b) if not c.name.startswith("mark")}
    assert {
        "front left corner of the house",
        "front right corner of the house",
        "back left corner of the house",
        "corner 20 ft to the right from the back left corner of the house",
        "corner 20 ft away from the street from the front right corner of the house",
    } <= names


def test_indoors_the_room_is_taped_and_the_wall_thickness_is_owned_up_to() -> None:
    hidden = valve(3, 6, level="main", room="bath", depth="unknown", behind="tile")
    answer = ties(house(hidden, street=["20 ft", "-40 ft"]))
    tie = only(answer)
    assert {tie.a.name, tie.b.name} <= {
        f"{a} {b} corner of the bath" for a in ("front", "back") for b in ("left", "right")
    }
    assert len(answer.assumed) == 1


def test_a_rooms_corner_that_juts_out_is_named_by_its_way_from_another_one() -> None:
    """8 ft by 6 ft, but for 3 ft by 2 ft that a closet takes at the upper right; north is up, the
    street at the foot. The closet's corner (5, 4) is sqrt(3^2 + 4^2) = 5 ft from the nearest of the
    outermost corners, (8, 0)."""
    room = [(x * FT, y * FT) for x, y in ((0, 0), (8, 0), (8, 4), (5, 4), (5, 6), (0, 6))]
    site = house(north="0", street=["20 ft", "-40 ft"]).record.site
    axes = room_frame(site, [(x * FT, y * FT) for x, y in PLAIN])
    named = {(c.x / FT, c.y / FT): c.name for c in corners(room, axes, "the bath", JUTS, "US")}
    assert named[0, 6] == "northwest corner of the bath"
    assert named[5, 4] == f"{JUTS}, 4 ft north and 3 ft west from the southeast corner of the bath"
    assert named[8, 4] == "corner 4 ft north from the southeast corner of the bath"
    assert axes.said.endswith("the street is on the south side of the house")


# --- holes


@pytest.mark.parametrize(
    ("of", "needs"),
    [
        (lambda: house(valve(20, -20), outline=None), "`site: building`"),
        (lambda: house(valve(20, -20, at="unknown")), "`place: at`"),
        (lambda: house(valve(20, -20, level="unknown")), "`place: level`"),
        (lambda: house(valve(3, 3, level="main")), None),  # the bath's outline holds it
        (lambda: house(valve(30, 3, level="main")), "`place: room`"),
        (lambda: house(valve(3, 3, level="main", room="attic")), "`levels: rooms: outline`"),
        (lambda: house(valve(20, 15)), "inside the building"),
        (lambda: house(valve(30, 3, level="main", room="bath")), "outside the bath"),
    ],
)
def test_what_is_not_recorded_is_asked_for(of: Any, needs: str | None) -> None:
    answer = ties(of())
    if needs is None:
        assert len(answer.ties) == 1
    else:
        assert answer.ties == ()
        assert needs in answer.missing[0]


def test_what_stands_in_plain_view_is_left_out_unless_asked_for() -> None:
    plain = valve(20, -20, depth="unknown")
    assert ties(house(plain)) == Ties((), (), (), ())
    assert only(ties(house(plain), "W1")).thing == "W1"


def test_an_unknown_thing_is_refused_with_the_nearest_id() -> None:
    with pytest.raises(NoSuchThingError, match="W1"):
        ties(house(valve(20, -20)), "W11")


# --- said


def test_distances_are_said_to_the_half_inch_or_the_centimetre() -> None:
    # from (0, 0) to (20, -20) ft: 28.284 ft = 28 ft 3.41 in, or 8.621 m
    us = ties_text(ties(house(valve(20, -20))), "US")
    assert "28 ft 3 1/2 in from the lower left corner of the house" in us
    metric = ties_text(ties(house(valve(20, -20), units="metric")), "metric")
    assert "8.62 m from the lower left corner of the house" in metric


def test_a_place_that_was_only_told_is_given_about() -> None:
    told = valve(20, -20) | {"seen": {"how": "told", "by": "water utility"}}
    us = ties_text(ties(house(told)), "US")
    assert "about 28 ft from the lower left corner of the house" in us
    metric = ties_text(ties(house(told, units="metric")), "metric")
    assert "about 8.5 m from the lower left corner of the house" in metric
    assert only(ties(house(told))).told


def test_the_command_gives_the_same_answer_as_python(example: House) -> None:
    done = CliRunner().invoke(main, ["ties", str(EXAMPLE), "C1", "--json"])
    said = json.loads(done.output)
    tie = only(ties(example, "C1"))
    assert done.exit_code == 0
    assert said["ties"][0]["distance_a_in"] == round(tie.distance_a.inches, 2)
    assert said["ties"][0]["a"] == {"name": tie.a.name, "x_in": tie.a.x, "y_in": tie.a.y}
    assert set(said) == {"ties", "corners", "assumed", "missing"}
    assert CliRunner().invoke(main, ["ties", str(EXAMPLE), "nothing"]).exit_code == 2


# --- what stands in the way of a tape


def test_a_tape_is_not_pulled_through_equipment_where_another_corner_will_do() -> None:
    # 15 ft along a 40 ft front and 3 ft out, either corner does with a mark on the wall; the left
    # one is nearer. What stands halfway to it leaves the right one.
    thing = valve(15, -3)
    free = only(ties(house(thing)))
    assert free.a.name == "lower left corner of the house"
    in_the_way = {"id": "BP9", "name": "Backflow preventer", "kind": "backflow preventer"} | {
        "place": {"level": "outside", "at": ["7 ft 6 in", "-1 ft 6 in"], "height": "1 ft"}
    }
    told = house(thing, equipment=[in_the_way])
    assert only(ties(told, thing["id"])).a.name == "lower right corner of the house"


def test_a_place_that_nobody_is_said_to_have_seen_is_no_finer_than_told() -> None:
    unsaid = {key: value for key, value in valve(20, -20).items() if key != "seen"}
    assert "about 28 ft from" in ties_text(ties(house(unsaid)), "US")
    blocks = tie_blocks(house(unsaid), house(unsaid).items["W1"])
    assert any("recorded, not said to be seen" in str(block) for block in blocks)


def test_a_place_read_off_a_drawing_is_given_about_too() -> None:
    drawn = valve(20, -20) | {"seen": {"how": "drawing"}}
    assert "about 28 ft" in ties_text(ties(house(drawn)), "US")
