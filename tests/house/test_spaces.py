"""Shortest ways inside and around simple polygons, against a fine grid and a general library.

The reference is Dijkstra's algorithm of scipy (`scipy.sparse.csgraph.dijkstra`) on a grid of
3 in cells joined to 16 neighbours. A grid way can be walked, so ours is never longer; and sixteen
directions lengthen a straight way by 1/cos(13.28 deg) = 1.0275 at the most, to which each bend
adds a few cells.
"""

from itertools import pairwise
from math import dist, hypot
from random import Random

import numpy as np
import pytest
from grid_walk import CELL, Grid, rectilinear
from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.house.spaces import length_of, space

L_SHAPE = [(0, 0), (120, 0), (120, 48), (48, 48), (48, 120), (0, 120)]


def close_to_grid(ours: float, grids: float) -> bool:
    return ours <= grids + 1e-6 and grids <= 1.0275 * ours + 12 * CELL


def test_a_way_in_an_l_shaped_room_bends_at_its_inner_corner() -> None:
    room = space(L_SHAPE)
    assert room is not None
    assert room.way((96, 24), (24, 96)) == ((96, 24), (48, 48), (24, 96))
    # hypot(48, 24) twice: 53.67 x 2
    assert room.length((96, 24), (24, 96)) == pytest.approx(107.33, abs=0.01)


def test_a_way_along_a_wall_is_straight() -> None:
    room = space(L_SHAPE)
    assert room is not None
    assert room.way((0, 0), (120, 0)) == ((0, 0), (120, 0))


def test_around_a_building_the_shorter_side_is_taken() -> None:
    ground = space([(0, 0), (480, 0), (480, 384), (0, 384)], around=True)
    assert ground is not None
    # From the front wall at x = 96 to the back wall at x = 96: round the left side.
    assert ground.way((96, 0), (96, 384)) == ((96, 0), (0, 0), (0, 384), (96, 384))


def test_what_lies_in_the_wall_is_reached_at_the_wall() -> None:
    room = space(L_SHAPE)
    assert room is not None
    assert room.nearest((60, -5)) == (60, 0)
    assert room.nearest((60, 5)) == (60, 5)


def test_an_outline_that_crosses_itself_is_no_space() -> None:
    assert space([(0, 0), (10, 10), (10, 0), (0, 10)]) is None
    assert space([(0, 0), (10, 10)]) is None


@pytest.mark.parametrize("seed", range(12))
def test_ways_in_random_rooms_are_as_short_as_a_fine_grid_finds(seed: int) -> None:
    random = Random(seed)
    outline = rectilinear(random)
    room = space(outline)
    assert room is not None
    grid = Grid(room.outline)
    for _ in range(4):
        a, b = grid.some_cell(random), grid.some_cell(random)
        assert close_to_grid(room.length(a, b), grid.length(a, b)), (a, b)


@pytest.mark.parametrize("seed", range(4))
def test_ways_around_random_buildings_are_as_short_as_a_fine_grid_finds(seed: int) -> None:
    random = Random(100 + seed)
    ground = space(rectilinear(random), around=True)
    assert ground is not None
    grid = Grid(ground.outline, margin=60)
    for _ in range(3):
        a, b = grid.some_cell(random), grid.some_cell(random)
        assert close_to_grid(ground.length(a, b), grid.length(a, b)), (a, b)


@settings(max_examples=40, deadline=None)
@given(st.integers(5, 11), st.integers(0, 10**6))
def test_a_way_stays_inside_and_is_no_shorter_than_the_straight_line(n: int, seed: int) -> None:
    random = Random(seed)
    angles = sorted(random.uniform(0, 6.283) for _ in range(n))
    star = [(r * np.cos(a), r * np.sin(a)) for a in angles for r in [random.uniform(40, 200)]]
    room = space([(float(x), float(y)) for x, y in star])
    if room is None:
        return  # two angles fell together
    a, b = room.outline[0], room.outline[n // 2]
    way = room.way(a, b)
    assert all(room.sees(p, q) for p, q in pairwise(way))
    assert dist(a, b) - 1e-6 <= length_of(way) <= 2 * room.polygon.length
    assert length_of(way) == pytest.approx(length_of(room.way(b, a)), abs=1e-6)


def test_a_hall_is_narrow_and_a_room_is_not() -> None:
    hall, room = space([(0, 0), (300, 0), (300, 42), (0, 42)]), space([(0, 0), (0, 99), (99, 9)])
    assert hall is not None
    assert hall.narrow
    wide = space([(0, 0), (120, 0), (120, 120), (0, 120)])
    assert wide is not None
    assert not wide.narrow
    assert room is not None


def test_keeping_clear_of_the_walls_moves_each_wall_by_so_much() -> None:
    room = space([(0, 0), (120, 0), (120, 100), (0, 100)])
    assert room is not None
    clear = room.clear_of_walls(18)
    assert clear is not None
    assert clear.polygon.bounds == (18, 18, 102, 82)
    assert room.clear_of_walls(60) is None
    assert hypot(*room.facing((60, 0))[0]) == pytest.approx(1)
    assert room.facing((60, 0)) == ((0.0, 1.0),)
