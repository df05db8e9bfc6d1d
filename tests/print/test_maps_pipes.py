"""A symbol of a map stands on its own pipe, and touches none that it is no part of: measured on
the example and on a hundred random houses. Shapes are read back from the drawing with shapely."""

from __future__ import annotations

from functools import cache

import map_houses
import pytest
from map_reading import Drawn, read
from shapely import Point

from handbook.house.house import House
from handbook.output.drawing.draw import draw
from handbook.output.drawing.sheet import PAPER, PHONE, Sheet
from handbook.pages.content import Map
from handbook.pages.maps import maps
from handbook.pages.plan.layers import CLEANOUTS, GAS, LEAKS
from handbook.pages.plan.shapes import GROUND, Plan
from handbook.pages.site_plan import site_plan

INK = 0.01
"""Square units of overlap below which two shapes only touch (coordinates have two decimals)."""


def shown(house: House) -> list[Map]:
    blocks = [block for layer in (CLEANOUTS, GAS, LEAKS) for block in maps(house, layer)]
    return [block for block in (*blocks, *site_plan(house)) if isinstance(block, Map)]


def on_others(plan: Plan, drawn: Drawn) -> list[str]:
    """Symbols that touch a pipe which is neither theirs nor meets theirs where pipes divide."""
    lines = zip(plan.pipes, drawn.lines.get("m-pipe", []), strict=True)
    pipes = [(pipe, line) for pipe, line in lines if pipe.kind not in GROUND]
    marked = {one for mark in plan.marks for one in mark.ids}
    found = []
    for ids, shape, _, _ in drawn.marks:
        own = [pipe for pipe, _ in pipes if {*ids} & {*pipe.ends, *pipe.on}]
        joints = {end for pipe in own for end in pipe.ends} - marked
        found += [
            f"{ids} on {pipe.ends}"
            for pipe, line in pipes
            if ids and pipe not in own and not joints & {*pipe.ends}
            if shape.intersection(line).area > INK
        ]
    return found


def off_own(plan: Plan, drawn: Drawn) -> list[str]:
    """Symbols that the pipe which ends at their thing's place does not reach."""
    lines = zip(plan.pipes, drawn.lines.get("m-pipe", []), strict=True)
    return [
        f"{ids} off {pipe.ends}"
        for pipe, line in lines
        for ids, _, at, _ in drawn.marks
        if any({*ids} & {*mark.ids} & {*pipe.ends} for mark in plan.marks if mark.at in pipe.points)
        if line.distance(Point(at)) > 0.1
    ]


@pytest.mark.parametrize("sheet", [PAPER, PHONE], ids=["paper", "phone"])
def test_every_symbol_of_the_example_stands_on_its_own_pipe_and_on_no_others(sheet: Sheet) -> None:
    for one in shown(map_houses.example()):
        drawn = read(draw(one.plan, sheet))
        assert (one.title, on_others(one.plan, drawn)) == (one.title, [])
        assert (one.title, off_own(one.plan, drawn)) == (one.title, [])


@cache
def random_maps(seed: int) -> tuple[tuple[Map, Drawn], ...]:
    """The maps of a random house as they are drawn, on paper or for a phone."""
    shown_maps = shown(map_houses.random_house(seed))
    return tuple((one, read(draw(one.plan, (PAPER, PHONE)[seed % 2]))) for one in shown_maps)


@map_houses.seeds(100)
def test_every_pipe_of_a_random_house_reaches_the_symbols_at_its_ends(seed: int) -> None:
    for one, drawn in random_maps(seed):
        assert (one.title, off_own(one.plan, drawn)) == (one.title, [])


@map_houses.seeds(100)
def test_no_symbol_of_a_random_house_stands_on_a_pipe_of_others(seed: int) -> None:
    for one, drawn in random_maps(seed):
        assert (one.title, on_others(one.plan, drawn)) == (one.title, [])


@pytest.mark.parametrize("turned", [False, True], ids=["as built", "mirrored"])
def test_the_meter_stands_on_the_straight_line_from_the_street_to_the_main(turned: bool) -> None:
    """W1, the meter and W2 lie on one line (4 ft from the house's corner, 31, 28 and 27 ft out):
    moved apart so that they do not touch, they are drawn on one line still."""
    data = map_houses.example_data()
    house = map_houses.house_of(map_houses.mirrored(data, 480) if turned else data)
    (site,) = [block for block in site_plan(house) if isinstance(block, Map)]
    at = {one: spot for ids, _, spot, _ in read(draw(site.plan, PAPER)).marks for one in ids}
    assert at["W1"][0] == pytest.approx(at["WM"][0], abs=0.5)
    assert at["WM"][0] == pytest.approx(at["W2"][0], abs=0.5)
    assert at["W1"][1] > at["WM"][1] > at["W2"][1]


def test_pipes_into_a_stacks_next_part_run_to_the_part_that_the_level_shows() -> None:
    """Powder room and kitchen (D11, D12) run into stack B's lower part, D13, at its head, where
    the upper part, D9, ends: the main level shows D9 alone, on the very point."""
    house = map_houses.house_of(map_houses.example_data())
    (main,) = (one for one in shown(house) if one.title == "Main level: cleanouts and drains")
    assert {("D11", "D9"), ("D12", "D9")} <= {pipe.ends for pipe in main.plan.pipes}
    drawn = read(draw(main.plan, PAPER))
    (stack,) = (Point(at) for ids, _, at, _ in drawn.marks if ids == ("D9",))
    assert all(stack.distance(Point(spot)) > 20 for spot in drawn.spots)  # no line to its place


def test_a_shutoff_between_two_things_is_on_the_line_that_is_drawn_through_it() -> None:
    """W4 is the lawn's own shutoff, between the backflow preventer BP1 and the valve box IRR."""
    house = map_houses.example()
    (site,) = [block for block in site_plan(house) if isinstance(block, Map)]
    assert {("W3", "BP1"), ("BP1", "W4"), ("W4", "IRR")} <= {pipe.ends for pipe in site.plan.pipes}
