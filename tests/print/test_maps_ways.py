"""Ways on maps: each emergency row has its map, and a way goes through doors, not through walls."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import map_houses
import pytest
from map_houses import example
from map_reading import read
from shapely import LineString, Point, Polygon, unary_union

from handbook.output.drawing.draw import draw
from handbook.output.drawing.sheet import PAPER_SMALL
from handbook.pages import by_room, through_pages
from handbook.pages.content import Map, MapRow, Para, plain
from handbook.pages.plan.ways import Leg, legs, nearest_way, off_corners
from handbook.pages.way_in import way_in
from handbook.pages.way_maps import thing_map, way_maps
from handbook.pages.way_pages import way_pages


@cache
def shown() -> dict[str, list[Map]]:
    """All maps of ways by the page that they are on."""
    return {
        page.id: [one for row in page.blocks if isinstance(row, MapRow) for one in row.maps]
        for page in way_pages(example())
    }


def valves_on(one: Map) -> set[str]:
    return {name for mark in one.plan.marks if mark.ringed for name in mark.ids}


def rows() -> list[tuple[str, str, tuple[str, ...]]]:
    house = example()
    found = []
    for level in house.places.levels:
        both = (*by_room.walks(house, level), *through_pages.walks(house, level))
        found += [(level, room, valves) for room, valves in both]
    return found


def test_every_row_of_the_emergency_pages_has_a_map_with_its_valves() -> None:
    assert len(rows()) > 20
    for level, room, valves in rows():
        reached = set().union(*(valves_on(one) for one in shown()[f"ways_{level}"]))
        assert set(valves) <= reached, room


def test_a_way_begins_in_the_rows_room() -> None:
    house = example()
    for level, room, valves in rows():
        here = Polygon([(p.x, p.y) for p in house.places.rooms[room][0].outline])
        starts = [
            mark.at for one in shown()[f"ways_{level}"] for mark in one.plan.marks
            if mark.kind == "start"
        ]  # fmt: skip
        assert any(here.contains(Point(at)) for at in starts), (room, valves)


def test_a_way_ends_at_its_valve() -> None:
    """W5 is recorded at (4 ft, 6 in) on the lower level."""
    last = way_maps(example(), ("hall-bath",), ("W5",))[-1]
    assert last.title == "Lower level"
    assert last.plan.ways[0][-1] == pytest.approx((48, 6), abs=1)


def test_a_way_over_two_flights_has_a_map_for_each_level() -> None:
    titles = [one.title for one in way_maps(example(), ("hall-bath",), ("W5",))]
    assert titles == ["Upper level", "Main level", "Lower level"]


def test_where_a_way_leaves_a_level_it_says_where_to() -> None:
    first = way_maps(example(), ("hall-bath",), ("W5",))[0]
    assert [m.words for m in first.plan.marks if m.kind == "climb"] == ["to: main level"]


@pytest.mark.parametrize("start", ["hall-bath", "primary", "kitchen", "dining", "family", "study"])
@pytest.mark.parametrize("goal", ["W5", "W30", "W22", "C8", "G7"])
def test_a_way_goes_through_doors_and_not_through_walls(start: str, goal: str) -> None:
    """But for its last foot and a half: a thing may stand at, or in, a wall."""
    for one in way_maps(example(), (start,), (goal,)):
        walls = unary_union([Polygon(wall) for wall in one.plan.walls]).buffer(-0.1)
        for way in one.plan.ways:
            line = LineString(way)
            free = line.difference(Point(way[-1]).buffer(18))
            assert free.intersection(walls).length < 3, (one.title, way)


def test_parts_of_a_way_on_one_level_are_one_line() -> None:
    walked = (
        ("upper", ((0.0, 0.0), (10.0, 0.0))),
        ("upper", ((10.0, 0.0), (20.0, 5.0))),
        ("lower", ((20.0, 9.0), (0.0, 9.0))),
    )
    assert legs(walked) == (
        Leg("upper", ((0.0, 0.0), (10.0, 0.0), (20.0, 5.0))),
        Leg("lower", ((20.0, 9.0), (0.0, 9.0))),
    )


def test_a_bend_at_a_corner_is_drawn_off_the_corner_and_its_ends_stay() -> None:
    """The way turns round the corner at (100, 100) of an L-shaped room; 10 in off it."""
    from handbook.pages.plan.shapes import Room

    outline = (
        (0.0, 0.0),
        (200.0, 0.0),
        (200.0, 100.0),
        (100.0, 100.0),
        (100.0, 200.0),
        (0.0, 200.0),
    )
    way = off_corners(
        Leg("x", ((50.0, 190.0), (100.0, 100.0), (190.0, 50.0))), [Room("L", outline)]
    )
    assert (way[0], way[2]) == ((50.0, 190.0), (190.0, 50.0))
    assert Point(way[1]).distance(Point(100, 100)) == pytest.approx(10, abs=0.1)
    assert Polygon(outline).contains(LineString(way))


def test_every_arrowhead_lies_on_its_way_from_tip_to_back() -> None:
    """On a leg that is shorter than the head it would point back from behind the start."""
    for one in (one for found in shown().values() for one in found):
        drawn = read(draw(one.plan, PAPER_SMALL))
        way = unary_union(drawn.lines.get("m-way-line", [])).buffer(0.1)
        for head in drawn.lines.get("m-way-tip", []):
            tip, *back = head.exterior.coords[:3]
            middle = [sum(both) / 2 for both in zip(*back, strict=True)]
            assert way.contains(LineString([middle, tip])), one.title


def test_a_things_own_map_leads_from_the_nearest_stairs_or_outer_door() -> None:
    """W30 is upstairs, where one comes up at (21 ft 3 in, 16 ft), that is 255 in, 192 in."""
    way = nearest_way(example(), "W30")
    assert [leg.level for leg in way] == ["upper"]
    assert Point(way[0].points[0]).distance(Point(255, 192)) < 24
    one = thing_map(example(), "W30")[0]
    assert isinstance(one, Map)
    assert valves_on(one) == {"W30"}
    assert all(leg.points for leg in way)
    assert sum(Point(a).distance(Point(b)) for a, b in pairwise(way[0].points)) > 60


def test_a_thing_without_a_point_has_no_map() -> None:
    data = map_houses.example_data()
    valve = next(v for v in data["water"]["valves"] if v["id"] == "W30")
    del valve["place"]["at"]
    assert thing_map(map_houses.house_of(data), "W30") == ()


def test_the_plumbers_way_in_leads_from_the_outdoor_main_to_the_inside_one() -> None:
    words, row = way_in(example())
    assert isinstance(words, Para)
    assert isinstance(row, MapRow)
    assert [one.title for one in row.maps] == ["From: outside", "On: main level", "On: lower level"]
    assert valves_on(row.maps[-1]) == {"W5"}
    assert "There: ahead on your left, 14 ft in; far end of the wall" in plain(words.line)
