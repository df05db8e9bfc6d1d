"""No label of a map covers anything: measured on a hundred random houses.

Shapes are read back from the drawing with shapely, the ink of words with Pillow; neither took part
in placing them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations

import map_houses
import pytest
from map_reading import Drawn, read
from shapely import LineString, STRtree, box, unary_union
from shapely.geometry.base import BaseGeometry

from handbook.house.house import House
from handbook.output.drawing.draw import draw
from handbook.output.drawing.legend import NO_ROOM
from handbook.output.drawing.sheet import PAPER, PAPER_HALF, PAPER_SMALL, PHONE
from handbook.pages.content import Map
from handbook.pages.maps import maps
from handbook.pages.plan.layers import CLEANOUTS, GAS, LEAKS, SHUTOFFS
from handbook.pages.plan.shapes import Plan
from handbook.pages.site_plan import site_plan
from handbook.pages.way_maps import thing_map

LAYERS = (SHUTOFFS, CLEANOUTS, GAS, LEAKS)
SHEETS = (PAPER, PHONE, PAPER_HALF, PAPER_SMALL, PHONE)
INK = 0.01
"""Square units of overlap below which two shapes only touch (coordinates have two decimals)."""


def shown(house: House, seed: int) -> Iterator[Map]:
    """Some of the maps of a house, other ones for other seeds."""
    yield from (block for block in maps(house, LAYERS[seed % 4]) if isinstance(block, Map))
    yield from (block for block in thing_map(house, "W1") if isinstance(block, Map))
    if seed % 3 == 0:
        yield from (block for block in site_plan(house) if isinstance(block, Map))


def overlaps(drawn: Drawn) -> list[str]:
    """What covers what."""
    labels: list[tuple[str, BaseGeometry]] = [
        (text.words, text.ink) for label in drawn.labels for text in label
    ]
    labels += [("number", ring) for ring in drawn.numbers]
    own = {id(text.ink): n for n, label in enumerate(drawn.labels) for text in label}
    found = [
        f"{a} on {b}"
        for (a, one), (b, other) in combinations(labels, 2)
        if one.intersection(other).area > INK and own.get(id(one), -1) != own.get(id(other), -2)
    ]
    things: list[tuple[str, BaseGeometry]] = [("wall", wall) for wall in drawn.walls]
    things += [("symbol " + " ".join(ids), shape) for ids, shape, _, _ in drawn.marks]
    things += [(kind, shape) for kind, shapes in drawn.lines.items() for shape in shapes]
    things += [("leader line", line.buffer(0.25)) for line in drawn.leaders]
    tree = STRtree([shape for _, shape in things])
    for words, ink in labels:
        for n in tree.query(ink):
            if ink.intersection(things[n][1]).area > INK:
                found.append(f"{words} on {things[n][0]}")
    return found + [
        f"{a} on {b}"
        for (a, one, _, _), (b, other, _, _) in combinations(drawn.marks, 2)
        if one.intersection(other).area > INK
    ]


@cache
def random_maps(seed: int) -> tuple[tuple[Map, Drawn], ...]:
    """Some of the maps of a random house as they are drawn, each on another sheet."""
    maps_shown = enumerate(shown(map_houses.random_house(seed), seed), seed)
    return tuple((one, read(draw(one.plan, SHEETS[n % len(SHEETS)]))) for n, one in maps_shown)


@map_houses.seeds(100)
def test_nothing_on_the_maps_of_a_random_house_covers_anything_else(seed: int) -> None:
    for one, drawn in random_maps(seed):
        assert (one.title, overlaps(drawn)) == (one.title, [])


# --- whose a label is ----------------------------------------------------------------------------


def ambiguous(drawn: Drawn, plan: Plan) -> list[str]:
    """Labels of symbols that are nearer to another symbol than to their own, and not led to it."""
    says = {one: mark.tag or mark.words for mark in plan.marks for one in mark.ids}
    pipes = {part for pipe in plan.pipes for part in (pipe.label, pipe.label.split(" ")[0])}
    found = []
    for words, ink in named(drawn):
        own = [
            shape
            for ids, shape, *_ in drawn.marks
            if any(says_it(words, says.get(one, "")) for one in ids)
        ]
        others = [shape for _, shape, *_ in drawn.marks if not any(shape is one for one in own)]
        of_pipe = words.replace("\u00a0", " ") in pipes
        if of_pipe or not own or not others or led(drawn, ink, own):
            continue
        near = min(box(*ink.bounds).distance(shape) for shape in own)
        foreign = min(box(*ink.bounds).distance(shape) for shape in others)
        if foreign <= near:
            found.append(f"{words}: {near:.1f} from its own, {foreign:.1f} from another")
    return found


def says_it(words: str, name: str) -> bool:
    return bool(name) and re.search(rf"\b{re.escape(name)}(?!\w)", words) is not None


def named(drawn: Drawn) -> Iterator[tuple[str, BaseGeometry]]:
    """Every label with its ink, and every number with the words it has in the list."""
    for label in drawn.labels:
        yield " ".join(text.words for text in label), unary_union([text.ink for text in label])
    said = {re.sub(r"<[^>]+>", "", sample): words for sample, words in drawn.keys}
    for number, ring in zip(drawn.counted, drawn.numbers, strict=True):
        yield said[number], ring


def led(drawn: Drawn, ink: BaseGeometry, own: list[BaseGeometry]) -> bool:
    """Whether a leader line runs from one of these symbols to a label."""
    return any(
        line.distance(box(*ink.bounds)) < 4.5 and line.distance(shape) < 8
        for line in drawn.leaders
        for shape in own
    )


def run_over(drawn: Drawn) -> list[str]:
    """Labels that a leader line runs through."""
    return [
        f"a leader line over {words}"
        for words, ink in named(drawn)
        for line in drawn.leaders
        if line.crosses(ink)
    ]


@map_houses.seeds(100)
def test_every_label_of_a_random_house_is_nearest_its_own_symbol_or_led_to_it(seed: int) -> None:
    for one, drawn in random_maps(seed):
        assert (one.title, ambiguous(drawn, one.plan), run_over(drawn)) == (one.title, [], [])


@pytest.mark.parametrize("sheet", [PAPER, PHONE], ids=["paper", "phone"])
def test_every_label_of_the_example_is_nearest_its_own_symbol_or_led_to_it(sheet: object) -> None:
    for one in maps_of_example():
        drawn = read(draw(one.plan, sheet))
        assert (one.title, ambiguous(drawn, one.plan), run_over(drawn)) == (one.title, [], [])


@pytest.mark.parametrize("sheet", [PAPER, PAPER_HALF, PHONE], ids=["paper", "half", "phone"])
def test_a_leader_line_from_a_tag_ends_at_the_ink_of_its_symbol(sheet: object) -> None:
    """Not at the square round it: a drop leaves the corners of its square empty. A valve is two
    triangles, tip to tip: between them a line ends up to 2.6 units off."""
    found = 0
    for one in maps_of_example():
        drawn = read(draw(one.plan, sheet))
        marks = {ids[0]: shape for ids, shape, _, _ in drawn.marks if len(ids) == 1}
        for words, ink in named(drawn):
            shape = marks.get(words.split()[0])
            near = [line for line in drawn.leaders if line.distance(box(*ink.bounds)) < 1.5]
            near = [line for line in near if shape is not None and line.distance(shape) < 8]
            if near:
                found += 1
                assert min(line.distance(shape) for line in near) < 2.6, (one.title, words)
    assert found > 4


def test_a_label_nearer_to_another_symbol_would_be_found() -> None:
    one = maps_of_example()[0]
    drawn = read(draw(one.plan, PAPER))
    assert ambiguous(drawn, one.plan) == []
    ink = next(ink for words, ink in named(drawn) if words == "W43")
    drawn.marks.append((("X",), ink.buffer(0.5), (0.0, 0.0), ""))
    assert ambiguous(drawn, one.plan) != []


def test_an_overlap_would_be_found() -> None:
    """The measure is awake: a label drawn twice, a wall, a line and a symbol under a label."""
    plan = maps_of_example()[0].plan
    label = read(draw(plan, PAPER)).labels[0]
    ink = label[0].ink

    def spoilt(change: Callable[[Drawn], object]) -> list[str]:
        drawn = read(draw(plan, PAPER))
        assert overlaps(drawn) == []
        change(drawn)
        return overlaps(drawn)

    assert spoilt(lambda it: it.labels.append([replace(label[0], ink=ink.buffer(0.1))]))
    assert spoilt(lambda it: it.walls.append(ink.buffer(1)))
    assert spoilt(lambda it: it.lines.setdefault("m-pipe", []).append(ink.boundary.buffer(0.2)))
    assert spoilt(lambda it: it.marks.append((("X",), ink, (0.0, 0.0), "")))
    assert spoilt(lambda it: it.leaders.append(LineString([ink.bounds[:2], ink.bounds[2:]])))


def maps_of_example() -> list[Map]:
    house = map_houses.example()
    return [block for layer in LAYERS for block in maps(house, layer) if isinstance(block, Map)]


@pytest.mark.parametrize("sheet", [PAPER, PHONE], ids=["paper", "phone"])
def test_nothing_on_the_maps_of_the_example_covers_anything_else(sheet: object) -> None:
    found = {one.title: overlaps(read(draw(one.plan, sheet))) for one in maps_of_example()}
    assert {title: said for title, said in found.items() if said} == {}


# --- too crowded ---------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def crowded() -> tuple[Plan, Drawn]:
    """The site plan of the example on a strip of paper that cannot hold all its labels."""
    house = map_houses.example()
    one = next(block for block in site_plan(house) if isinstance(block, Map))
    return one.plan, read(draw(one.plan, replace(PAPER_SMALL, wide=90.0)))


@pytest.mark.xdist_group("crowded map")
def test_labels_that_find_no_place_on_a_small_sheet_are_named_at_its_foot(
    crowded: tuple[Plan, Drawn],
) -> None:
    plan, drawn = crowded
    on_map = [text.words for label in drawn.labels for text in label]
    foot = [words for _, words in drawn.keys]
    assert any(NO_ROOM in words for words in foot)
    printed = " ".join([*on_map, *foot, *(sample for sample, _ in drawn.keys)])
    for pipe in plan.pipes:
        assert pipe.label.split(" ")[0] in printed
    for mark in plan.marks:
        assert mark.tag in printed


@pytest.mark.xdist_group("crowded map")
def test_on_a_crowded_sheet_nothing_covers_anything_either(crowded: tuple[Plan, Drawn]) -> None:
    assert overlaps(crowded[1]) == []


@map_houses.seeds(3)
def test_a_crowded_random_house_is_drawn_on_a_strip_of_paper(seed: int) -> None:
    house = map_houses.random_house(seed)
    for one in shown(house, seed):
        drawn = read(draw(one.plan, replace(PAPER_SMALL, wide=70.0)))
        assert (one.title, overlaps(drawn)) == (one.title, [])
