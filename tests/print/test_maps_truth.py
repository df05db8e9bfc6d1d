"""A map says what the record says: to scale, everything once, with the legend of what is on it."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations
from math import atan2, cos, hypot, pi, radians, sin

import map_houses
import pytest
from map_houses import example
from map_reading import Drawn, read
from shapely import LineString, Point, Polygon, unary_union

from handbook.answers.ties import Tie, hidden, ties
from handbook.house.house import House
from handbook.house.items import Item
from handbook.output.drawing.draw import draw
from handbook.output.drawing.sheet import PAPER, PAPER_HALF, PAPER_SMALL, PHONE, SHEETS, Frame
from handbook.output.drawing.symbols import SHAPES
from handbook.pages.content import Map, Para, plain
from handbook.pages.maps import maps
from handbook.pages.parts.ties import tie_table
from handbook.pages.plan.layers import CLEANOUTS, GAS, LEAKS, SHUTOFFS, Layer
from handbook.pages.plan.pipes import drains
from handbook.pages.plan.shapes import GROUND, Plan
from handbook.pages.site_plan import site_plan
from handbook.pages.way_maps import tie_map, tie_maps, way_maps
from handbook.record.grammar.drains import Stretch
from handbook.tables import table

LAYERS = {"shutoffs": SHUTOFFS, "cleanouts": CLEANOUTS, "gas": GAS, "leaks": LEAKS}
FEET, METRES = 12.0, 1000 / 25.4
Point2 = tuple[float, float]


@cache
def turned_over() -> House:
    """The example built the other way round, in metres."""
    data = map_houses.mirrored(map_houses.example_data(), 480)
    data["house"]["units"] = "metric"
    return map_houses.house_of(data)


def level_maps(house: House, layer: Layer) -> list[Map]:
    return [block for block in maps(house, layer) if isinstance(block, Map)]


def whole(house: House, layer: Layer) -> list[Map]:
    return [one for one in level_maps(house, layer) if "enlarged" not in one.title]


def every_map(house: House) -> Iterator[Map]:
    for layer in LAYERS.values():
        yield from level_maps(house, layer)
    yield from (block for block in site_plan(house) if isinstance(block, Map))
    yield from way_maps(house, ("hall-bath", "primary"), ("W5",))
    yield from (m for m in tie_maps(house, house.items["C1"]) if isinstance(m, Map))


# --- to scale ------------------------------------------------------------------------------------


@pytest.mark.parametrize("sheet", [PAPER, PHONE], ids=["paper", "phone"])
@pytest.mark.parametrize(("house", "unit"), [(example, FEET), (turned_over, METRES)])
def test_a_known_distance_measures_true_by_the_scale_bar(
    house: object, unit: float, sheet: object
) -> None:
    """The example's building is 40 ft by 32 ft (480 in by 384 in) over its outer faces."""
    drawn = read(draw(whole(house(), SHUTOFFS)[0].plan, sheet))
    left, top, right, bottom = unary_union(drawn.walls).bounds
    long, said = drawn.scale
    an_inch = long / (float(said.split()[0]) * unit)
    assert (right - left) / an_inch == pytest.approx(480, abs=0.5)
    assert (bottom - top) / an_inch == pytest.approx(384, abs=0.5)


def test_an_enlarged_room_is_drawn_much_larger_than_on_its_levels_map() -> None:
    """Measured by the scale bars, on the sheets that the two are printed on."""
    level, *others = level_maps(example(), SHUTOFFS)
    enlarged = [one for one in others if "enlarged" in one.title]
    for one in others:
        if one in enlarged:
            assert per_foot(one) > 1.8 * per_foot(level), one.title
        else:
            level = one
    assert len(enlarged) > 2


def per_foot(one: Map) -> float:
    """How long a foot is drawn on paper."""
    long, said = read(draw(one.plan, SHEETS["print", one.size])).scale
    return long / float(said.split()[0])


def test_the_scale_bar_speaks_the_houses_units() -> None:
    said = [read(draw(whole(h, GAS)[0].plan, PAPER)).scale[1] for h in (example(), turned_over())]
    assert [words.split()[1] for words in said] == ["ft", "m"]


def test_a_thing_stands_at_its_recorded_point() -> None:
    """W5 is recorded at (4 ft, 6 in): 48 in from the left face, 6 in from the lower one."""
    one = next(m for m in whole(example(), SHUTOFFS) if m.title.startswith("Lower"))
    drawn = read(draw(one.plan, PAPER))
    left, _, right, bottom = unary_union(drawn.walls).bounds
    x, y = next(at for ids, _, at, _ in drawn.marks if "W5" in ids)
    inch = (right - left) / 480
    assert (x - left) / inch == pytest.approx(48, abs=0.5)
    assert (bottom - y) / inch == pytest.approx(6, abs=0.5)


# --- everything once -----------------------------------------------------------------------------


@pytest.mark.parametrize("name", LAYERS)
@pytest.mark.parametrize("sheet", [PAPER, PHONE], ids=["paper", "phone"])
def test_everything_with_a_point_on_a_level_is_on_its_map_once(name: str, sheet: object) -> None:
    house, layer = example(), LAYERS[name]
    for one in whole(house, layer):
        level = next(lv.id for lv in levels(house) if one.title.startswith(lv.name))
        wanted = {i.id for i in house.items.values() if on(house, i, level) and layer.shows(i)}
        drawn = read(draw(one.plan, sheet))
        count = Counter(one_id for ids, *_ in drawn.marks for one_id in ids)
        assert wanted <= set(count)
        assert max(count.values()) == 1


def on(house: House, item: Item, level: str) -> bool:
    here = house.places.level_id(item.place) == level
    return here and item.place is not None and item.place.at is not None


def levels(house: House) -> list[object]:
    outside = type("Outside", (), {"id": "outside", "name": "Outside"})
    return [*house.places.levels.values(), outside]


def test_every_tag_on_the_map_can_be_read_on_it() -> None:
    one = next(m for m in whole(example(), SHUTOFFS) if m.title.startswith("Lower"))
    words = " ".join(text.words for text in read(draw(one.plan, PAPER)).texts)
    tags = {mark.tag for mark in one.plan.marks if mark.tag}
    assert len(tags) > 15
    assert {tag for tag in tags if not re.search(rf"\b{tag}\b", words)} == set()


def test_what_has_no_point_is_named_under_the_map_and_not_drawn() -> None:
    data = map_houses.example_data()
    valve = next(v for v in data["water"]["valves"] if v["id"] == "W16")
    del valve["place"]["at"]
    one = next(m for m in whole(map_houses.house_of(data), SHUTOFFS) if m.title.startswith("Lower"))
    assert not any("W16" in mark.ids for mark in one.plan.marks)
    assert any("W16" in note and "not" in note.lower() for note in one.notes)


def test_a_drain_without_a_point_is_named_and_not_guessed() -> None:
    """D18 runs from the floor drain to D19; without its own point neither end is known."""
    data = map_houses.example_data()
    stretch = next(s for s in data["drains"]["stretches"] if s["id"] == "D18")
    del stretch["place"]["at"]
    house = map_houses.house_of(data)
    one = next(m for m in whole(house, CLEANOUTS) if m.title.startswith("Lower"))
    assert not any(pipe.label.startswith("D18") for pipe in one.plan.pipes)
    assert any("D18" in note for note in one.notes)


def test_flow_arrows_point_the_way_the_record_points() -> None:
    house = example()
    for one in whole(house, CLEANOUTS):
        for pipe in one.plan.pipes:
            stretch = house.items.get(pipe.label.split(" ")[0])
            if stretch is None or not isinstance(stretch.entry, Stretch):
                continue
            start, end = stretch.place.at, house.items[stretch.entry.to].place.at
            assert pipe.flows
            assert pipe.points == ((start.x, start.y), (end.x, end.y))


# --- the legend ----------------------------------------------------------------------------------


@pytest.mark.parametrize("house", [example, turned_over], ids=["as built", "mirrored"])
def test_the_legend_shows_exactly_what_is_drawn(house: object) -> None:
    for one in every_map(house()):
        drawn = read(draw(one.plan, PAPER))
        symbols = {looks for *_, looks in drawn.marks}
        samples = {sample for sample, _ in drawn.legend if "m-sample" not in sample}
        assert symbols <= samples
        words = {s for s in samples if "<text" in s}
        assert {s for s in samples - symbols - words if s and "<circle" not in s} == set()
        assert "" not in samples, one.title
        assert drawn.looks == lines_of(drawn), one.title


def lines_of(drawn: Drawn) -> set[tuple[str, str, str]]:
    found = set()
    for sample, _ in drawn.legend:
        if "m-sample" in sample:
            parts = (re.search(rf' {n}="([^"]*)"', sample) for n in
                     ("stroke", "stroke-width", "stroke-dasharray"))  # fmt: skip
            a, b, c = (part[1] if part else "" for part in parts)
            found.add((a, b, c))
    return found


def test_no_two_things_are_told_apart_by_colour_alone() -> None:
    shapes = [looks["shape"] for looks in table("map_marks").values.values()]
    assert [shape for shape, count in Counter(shapes).items() if count > 1] == []
    assert len({str(SHAPES[shape]) for shape in shapes}) == len(shapes)
    lines = table("map_lines").values.values()
    looks = [(tuple(line["dash"]), line["width"]) for line in lines]
    assert len(set(looks)) == len(looks)


def test_no_abbreviation_is_one_that_the_trade_reads_in_two_ways() -> None:
    """PRV: pressure relief or reducing valve; SS: service sink or stainless; WH: water heater or
    wall hydrant. Common practice, no source."""
    used = [looks["short"] for looks in table("map_marks").values.values() if looks["short"]]
    assert {"PRV", "SS", "WH"} & set(used) == set()
    assert len(used) == len(set(used))
    assert {"CO", "WCO", "FCO", "HB", "FD"} <= set(used)


# --- print and phone -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sheet", "least"),
    [(PAPER, 7.0), (PAPER_HALF, 7.0), (PAPER_SMALL, 7.0), (PHONE, 10.0)],
    ids=["paper", "half", "small", "phone"],
)
def test_no_type_is_smaller_than_can_be_read(sheet: object, least: float) -> None:
    """7 pt on paper; 10 of the phone's own pixels."""
    sizes = {
        text.size for one in every_map(example()) for text in read(draw(one.plan, sheet)).texts
    }
    assert min(sizes) >= least


def test_a_map_is_no_wider_than_its_page_and_no_higher() -> None:
    """Between the margins a letter page is 6.9 in wide (496.8 pt) and 9.2 in high (662.4 pt), of
    which a map's title takes half an inch (36 pt)."""
    for one in every_map(example()):
        drawn = read(draw(one.plan, PAPER))
        assert drawn.width <= 496.8
        assert drawn.height <= 626.4, one.title


def test_all_colours_stand_out_from_white_without_colour() -> None:
    """WCAG 2.2, 1.4.3 and 1.4.11: 4.5 to 1 for words, 3 to 1 for what has to be seen."""
    for one in every_map(example()):
        for colour in read(draw(one.plan, PAPER)).colours - {"none", "#fff"}:
            assert contrast(colour) >= (3.0 if colour == "#8c8c8c" else 4.5), colour


def contrast(colour: str) -> float:
    """Contrast against white, by WCAG's relative luminance."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 1.05 / (0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2] + 0.05)


# --- the same again ------------------------------------------------------------------------------


def test_a_mirrored_house_has_the_mirrored_map_apart_from_its_words() -> None:
    for layer in LAYERS.values():
        ours = whole(example(), layer)
        theirs = whole(
            map_houses.house_of(map_houses.mirrored(map_houses.example_data(), 480)), layer
        )
        for one, other in zip(ours, theirs, strict=True):
            a, b = (read(draw(bare(m.plan), PAPER)) for m in (one, other))
            assert unmatched(spots(a, 1), spots(b, -1)) == [], one.title


def bare(plan: Plan) -> Plan:
    """The plan without north, whose arrow is another one on the other side."""
    return replace(plan, north=None)


Spot = tuple[str, float, float]


def spots(drawn: Drawn, side: int) -> list[Spot]:
    """Every shape by its kind and its middle, from the middle of the sheet."""
    parts = [("wall", wall) for wall in drawn.walls]
    parts += [(" ".join(sorted(ids)), Point(at)) for ids, _, at, _ in drawn.marks]
    parts += [(kind, line) for kind, found in drawn.lines.items() for line in found]
    found = []
    for kind, shape in parts:
        left, top, right, bottom = shape.bounds
        found.append((kind, ((left + right) - drawn.width) / 2 * side, (top + bottom) / 2))
    return found


def unmatched(ours: list[Spot], theirs: list[Spot]) -> list[Spot]:
    """What of ours is not within half a unit among theirs, each of theirs taken once."""
    left, lone = [*theirs], []
    for kind, x, y in ours:
        near = [
            spot for spot in left if spot[0] == kind and abs(spot[1] - x) + abs(spot[2] - y) < 0.5
        ]
        if near:
            left.remove(near[0])
        else:
            lone.append((kind, x, y))
    return lone + left


def test_the_same_house_gives_the_same_bytes_in_another_process() -> None:
    program = (
        "import hashlib, map_houses, test_maps_truth as t\n"
        "svgs = [t.draw(m.plan, t.PAPER) for m in t.every_map(t.example())]\n"
        "print(hashlib.sha256(''.join(svgs).encode()).hexdigest())"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", program],
            env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": os.path.dirname(__file__)},  # noqa: PTH120
            capture_output=True, text=True, check=True,
        ).stdout
        for seed in ("1", "2")
    }  # fmt: skip
    assert len(found) == 1


def test_symbols_of_different_rooms_are_never_one() -> None:
    """W36 and W39 stand back to back on the two sides of the wall between the baths."""
    one = next(m for m in whole(example(), SHUTOFFS) if m.title.startswith("Upper"))
    marks = read(draw(one.plan, PHONE)).marks
    for (a, *_), (b, *_) in combinations(marks, 2):
        assert not (set(a) & set(b))
    assert not any({"W36", "W39"} <= set(ids) for ids, *_ in marks)


# --- symbols on pipes, and what was only told ----------------------------------------------------


@pytest.mark.parametrize(("house", "side"), [(example, 1), (turned_over, -1)])
def test_a_backwater_valve_points_the_way_its_drain_flows(house: object, side: int) -> None:
    """BV1 sits on D19, which runs from (12 ft, 4 ft) toward the building drain on its left."""
    one = next(m for m in whole(house(), CLEANOUTS) if m.title.startswith("Lower"))
    mark = next(m for m in one.plan.marks if "BV1" in m.ids)
    (ax, ay), (bx, by) = next(p for p in one.plan.pipes if p.label.startswith("D19")).points
    assert (bx - ax) * side < 0
    assert cos(radians(mark.turn)) * (bx - ax) + sin(radians(mark.turn)) * (by - ay) == (
        pytest.approx(hypot(bx - ax, by - ay), rel=0.001)
    )


def test_a_flow_arrow_keeps_off_every_symbol() -> None:
    for one in every_map(example()):
        for sheet in (PAPER, PHONE):
            drawn = read(draw(one.plan, sheet))
            arrows = drawn.lines.get("m-flow", [])
            shapes = [shape for _, shape, *_ in drawn.marks]
            assert not any(arrow.intersects(shape) for arrow in arrows for shape in shapes)


def test_what_was_only_told_carries_its_sign_and_the_legend_explains_it() -> None:
    """The utility told where W1 is; W2 was turned on the walk."""
    one = next(m for m in whole(example(), SHUTOFFS) if m.title.startswith("Outside"))
    drawn = read(draw(one.plan, PAPER))
    words = [" ".join(text.words for text in label) for label in drawn.labels]
    assert any(said.replace("\u00a0", " ").startswith("W1 (?)") for said in words)
    assert not any("W2 (?)" in said for said in words)
    assert any("nobody saw it" in said for _, said in drawn.legend)


def test_gas_pipe_is_drawn_from_the_meter_with_its_branches_and_sizes() -> None:
    """One run has bends that nobody gave a point, the fireplace's: it is named. Three go up."""
    one = next(m for m in whole(example(), GAS) if m.title.startswith("Lower"))
    assert {pipe.label for pipe in one.plan.pipes} >= {"1-1/4 in", "1 in", "3/4 in", "1/2 in"}
    assert {i for m in one.plan.marks if m.kind == "pipe up" for i in m.ids} == {
        "range", "dryer", "G9",
    }  # fmt: skip
    assert any("G6" in note and "not drawn" in note for note in one.notes)
    assert any("G2" in mark.ids for mark in one.plan.marks)


def test_maps_say_how_pipes_are_drawn_once_and_those_without_pipes_do_not() -> None:
    for name, layer in LAYERS.items():
        above, *_ = maps(example(), layer)
        assert isinstance(above, Para)
        shown = level_maps(example(), layer)
        pipes = any(pipe.kind not in GROUND for one in shown for pipe in one.plan.pipes)
        assert plain(above.line).count("drawn straight") == int(pipes), name
        assert not any("drawn straight" in note for one in shown for note in one.notes), name


def test_each_part_of_a_stack_is_named_on_its_own_levels_alone() -> None:
    # Stack B of the example is D9 (upper and main level) and goes on as D13 (lower level).
    house = example()
    named = {
        (level, mark.ids[0])
        for level in ("upper", "main", "lower")
        for mark in drains(house, level).marks
        if mark.ids[0] in ("D9", "D13")
    }
    assert named == {("upper", "D9"), ("main", "D9"), ("lower", "D13")}


def test_every_tie_outdoors_is_drawn_on_the_site_plan_or_named_under_it() -> None:
    house = example()
    site = next(block for block in site_plan(house) if isinstance(block, Map))
    note = next(str(note) for note in site.notes if "Ties not drawn" in str(note))
    ends = {tie.to for tie in site.plan.ties}
    there = {mark.ids[0] for mark in site.plan.marks if mark.ids and mark.at in ends}
    for tie in ties(house).ties:
        if house.places.level_id(house.items[tie.thing].place) == "outside":
            assert (re.search(rf"\b{tie.thing}\b", note) is None) == (tie.thing in there)


@pytest.mark.parametrize("house", [example, turned_over], ids=["as built", "mirrored"])
def test_no_two_tapes_of_the_site_plan_run_side_by_side_from_a_corner(house: object) -> None:
    """Ten degrees: a fan of three lines can be told apart (common practice, no source)."""
    site = next(block for block in site_plan(house()) if isinstance(block, Map))
    assert len(site.plan.ties) >= 6
    for a, b in combinations(site.plan.ties, 2):
        if a.corner == b.corner:
            ahead = [(tie.to[0] - a.corner[0], tie.to[1] - a.corner[1]) for tie in (a, b)]
            (ax, ay), (bx, by) = ahead
            sine = abs(ax * by - ay * bx) / (hypot(ax, ay) * hypot(bx, by))
            assert sine >= 0.1736 or ax * bx + ay * by < 0


# --- how two tapes meet --------------------------------------------------------------------------


def sides(a: Point2, b: Point2, c: Point2) -> tuple[float, float, float]:
    """Two sides of a triangle as shares of the third, and the signed angle at its first corner."""
    long = hypot(b[0] - a[0], b[1] - a[1])
    turn = atan2(c[1] - a[1], c[0] - a[0]) - atan2(b[1] - a[1], b[0] - a[0])
    turn = (turn + pi) % (2 * pi) - pi
    return hypot(c[0] - a[0], c[1] - a[1]) / long, hypot(c[0] - b[0], c[1] - b[1]) / long, turn


def recorded(house: House, tie: Tie) -> tuple[float, float, float]:
    place = house.items[tie.thing].place
    assert place is not None
    assert place.at is not None
    return sides(tie.a.xy, tie.b.xy, (place.at.x, place.at.y))


@pytest.mark.parametrize("house", [example, turned_over], ids=["as built", "mirrored, metric"])
def test_the_tapes_of_every_thing_are_drawn_as_the_record_has_them(house: object) -> None:
    """Angles to two hundredths of a radian, lengths to a fiftieth of the distance between the two
    corners (the sheet rounds to a hundredth of a point); y runs down a sheet, up a plan."""
    seen = 0
    for tie in ties(house()).ties:
        for one in tie_map(house(), tie, "small"):
            drawn = read(draw(one.plan, PAPER_SMALL))
            a, b, thing = met(drawn.tapes)
            up = [(x, -y) for x, y in (a, b, thing)]
            near, far, turn = recorded(house(), tie)
            assert sides(*up) == pytest.approx((near, far, turn), abs=0.02), tie.thing
            seen += 1
    assert seen > 30


def met(tapes: list[LineString]) -> tuple[Point2, Point2, Point2]:
    """Where each of two tapes starts, and where they end together."""
    (a, one), (b, other) = ((line.coords[0], line.coords[-1]) for line in tapes)
    assert hypot(one[0] - other[0], one[1] - other[1]) < 0.05
    return a, b, one


@pytest.mark.parametrize("house", [example, turned_over], ids=["as built", "mirrored, metric"])
def test_the_tapes_of_a_thing_indoors_are_drawn_in_the_walls_of_its_room(house: object) -> None:
    """C10 is in the laundry room, 7 ft 6 in by 7 ft; its two corners are named on the drawing."""
    shown = [b for b in tie_table(house(), [house().items["C10"]]) if isinstance(b, Map)]
    (one,) = shown
    drawn = read(draw(one.plan, PAPER_SMALL))
    long, said = drawn.scale
    an_inch = long / (float(said.split()[0]) * (METRES if said.endswith("m") else FEET))
    room = house().places.rooms["laundry"][0].outline
    left, top, right, bottom = unary_union(drawn.walls).bounds
    assert (right - left) / an_inch >= max(p.x for p in room) - min(p.x for p in room)
    assert (bottom - top) / an_inch >= max(p.y for p in room) - min(p.y for p in room)
    words = " ".join(text.words for text in drawn.texts).replace("\u00a0", " ")
    tie = ties(house(), "C10").ties[0]
    assert {tie.a.brief(tie.of), tie.b.brief(tie.of)} <= {m.words for m in one.plan.marks}
    assert all(tape in words for tape in tie.tapes(house().record.house.units))


def test_each_table_of_ties_shows_how_two_tapes_meet_to_scale() -> None:
    house = example()
    items = [item for item in house.items.values() if hidden(item)]
    assert [one.size for one in tie_table(house, items) if isinstance(one, Map)] == ["small"]


# --- symbols that had to be moved ----------------------------------------------------------------


def homes(plan: Plan, drawn: Drawn, frame: Frame) -> list[tuple[Point2, Point2]]:
    """Where each symbol of one thing belongs, and where it stands."""
    true = {mark.ids: frame.at(mark.at) for mark in plan.marks if mark.ids}
    return [(true[ids], at) for ids, _, at, _ in drawn.marks if ids in true]


def frame_of(plan: Plan, drawn: Drawn) -> Frame:
    """The frame that a map came out with: the one whose walls lie where these do."""
    left, top, right, _ = unary_union(drawn.walls).bounds
    xs, ys = zip(*(p for wall in plan.walls for p in wall), strict=True)
    return Frame((right - left) / (max(xs) - min(xs)), min(xs), max(ys), left, top, drawn.height)


@pytest.mark.parametrize("sheet", [PAPER, PAPER_HALF, PHONE], ids=["paper", "half", "phone"])
@map_houses.seeds(25)
def test_a_moved_symbol_swaps_order_with_none_and_crosses_no_wall(seed: int, sheet: object) -> None:
    """Order: seen along the line between two things' places, the first symbol comes first."""
    house = map_houses.random_house(seed)
    for one in whole(house, list(LAYERS.values())[seed % 4]):
        drawn = read(draw(one.plan, sheet))
        frame = frame_of(one.plan, drawn)
        stands = homes(one.plan, drawn, frame)
        for (a, p), (b, q) in combinations(stands, 2):
            if hypot(a[0] - b[0], a[1] - b[1]) > 0.1:
                assert (p[0] - q[0]) * (a[0] - b[0]) + (p[1] - q[1]) * (a[1] - b[1]) > -0.05
        for room in one.plan.rooms:
            outline = Polygon(frame.line(room.outline))
            for home, at in stands:
                if outline.exterior.distance(Point(home)) > 0.5:
                    assert outline.contains(Point(home)) == outline.contains(Point(at)), one.title


@pytest.mark.parametrize("house", [example, turned_over], ids=["as built", "mirrored"])
@pytest.mark.parametrize("sheet", [PAPER, PAPER_HALF, PHONE], ids=["paper", "half", "phone"])
def test_the_valve_on_the_houses_side_of_the_meter_is_drawn_there(
    house: object, sheet: object
) -> None:
    """From the street: W1 (31 ft before the house), the meter (28 ft), W2 (27 ft); W1 is this side
    of the sidewalk, whose near edge is 32 ft before the house."""
    one = next(m for m in whole(house(), SHUTOFFS) if m.title.startswith("Outside"))
    drawn = read(draw(one.plan, sheet))
    down = {ids[0]: at[1] for ids, _, at, _ in drawn.marks}
    edge = frame_of(one.plan, drawn).at((0.0, -32 * 12.0))[1]
    assert edge > down["W1"] > down["WM"] > down["W2"]


def test_a_symbol_that_no_longer_covers_its_place_is_led_to_it() -> None:
    house = example()
    one = next(m for m in whole(house, SHUTOFFS) if m.title.startswith("Outside"))
    drawn = read(draw(one.plan, PAPER_HALF))
    away = [
        home for home, at in homes(one.plan, drawn, frame_of(one.plan, drawn))
        if max(abs(home[0] - at[0]), abs(home[1] - at[1])) > PAPER_HALF.mark / 2 + 0.1
    ]  # fmt: skip
    assert away
    for x, y in away:
        assert min(hypot(x - spot[0], y - spot[1]) for spot in drawn.spots) < 0.1
    assert any("the dot is where it is" in words for _, words in drawn.legend)
