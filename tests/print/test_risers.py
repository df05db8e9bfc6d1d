"""Riser diagrams: nothing that carries water or waste is dropped or drawn twice, no words cover
anything.

What must be on them is taken from the record's own lists, not from the networks they are drawn
from; what covers what is measured on the drawing, with shapely and Pillow, which drew none of it.
"""

import os
import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from riser_houses import random_house
from riser_reading import Read, mistaken, overlaps, read
from shapely.affinity import translate

from handbook import assets, load
from handbook.house.house import House
from handbook.output.drawing.iso_bodies import bodies
from handbook.output.drawing.risers import sheets
from handbook.pages.content import Block
from handbook.pages.riser.content import Riser, RiserMark
from handbook.pages.risers import drain_diagram, water_diagram
from handbook.record.grammar.common import each, given

Show = Callable[[House], tuple[Block, ...]]

EXAMPLE = pytest.mark.xdist_group("risers of the example")
"""What looks at its drawn diagrams goes to one worker, which draws them once."""


@pytest.fixture(scope="module")
def house() -> House:
    return load(assets.example_house()).house


@pytest.fixture(scope="module")
def example(house: House) -> list[str]:
    """Each sheet of the example's two diagrams."""
    return [
        sheet for show in (water_diagram, drain_diagram) for sheet in sheets(riser(show(house)))
    ]


def riser(blocks: tuple[Block, ...]) -> Riser:
    (found,) = blocks
    assert isinstance(found, Riser)
    return found


def drawn(diagram: Riser) -> Counter[str]:
    """How often each thing stands on a diagram, as a point or as a mark on a pipe."""
    things: Counter[str] = Counter()
    for point in diagram.points:
        things.update(point.things)
    for pipe in diagram.pipes:
        for item in pipe.items:
            if isinstance(item, RiserMark):
                things.update(item.things)
    return things


def water_things(house: House) -> Iterator[str]:
    water = house.record.water
    assert water is not None
    for listed in (water.sources, water.valves, water.manifolds, water.equipment, water.softeners):
        yield from (thing.id for thing in each(listed))
    for fixture in each(house.record.fixtures):
        for side in (given(fixture.cold), given(fixture.hot)):
            if side and (stop := given(side.stop)):
                yield stop.id
    yield from (heater.id for heater in each(house.record.heaters))


def test_every_valve_stop_and_piece_of_equipment_stands_once_on_the_water_riser(
    house: House,
) -> None:
    found = drawn(riser(water_diagram(house)))
    assert {thing: found[thing] for thing in water_things(house)} == dict.fromkeys(
        water_things(house), 1
    )


def test_every_fixture_with_water_is_on_the_water_riser(house: House) -> None:
    found = drawn(riser(water_diagram(house)))
    assert all(found[owner] == 1 for owner in house.water.own)


def test_every_cleanout_vent_and_drained_fixture_stands_once_on_the_drain_riser(
    house: House,
) -> None:
    found = drawn(riser(drain_diagram(house)))
    drains = house.record.drains
    assert drains is not None
    ending = [vent for vent in each(drains.vents) if vent.to is None]
    wanted = [thing.id for thing in (*each(drains.cleanouts), *ending)]
    wanted += [f.id for f in each(house.record.fixtures) if given(f.drain)]
    assert {thing: found[thing] for thing in wanted} == dict.fromkeys(wanted, 1)


def test_a_vent_that_joins_another_is_a_pipe_to_it_and_does_not_pass_the_roof(
    house: House,
) -> None:
    diagram, drains = riser(drain_diagram(house)), house.record.drains
    assert drains is not None
    joining = {vent.id: vent.to for vent in each(drains.vents) if vent.to}
    runs = [(run, pipe.b) for pipe in diagram.pipes for run in pipe.items if run.things]
    named = {run.things[0]: end for run, end in runs if run.things[0] in joining}
    assert named == joining == {"V3": "V2", "V4": "V1", "V5": "V2"}
    through_roof = [point.id for point in diagram.points if point.symbol == "vent end"]
    assert through_roof == ["V1", "V2"]


def test_what_drains_by_a_hose_into_a_sink_is_drawn_into_the_sink_above_its_trap(
    house: House,
) -> None:
    diagram = riser(drain_diagram(house))
    (hose,) = [pipe for pipe in diagram.pipes if pipe.a == "dishwasher"]
    assert hose.b == "kitchen-sink"
    assert not any(isinstance(item, RiserMark) for item in hose.items)
    sink = next(body for body in bodies(diagram) if body.point.id == "kitchen-sink")
    number = diagram.pipes.index(hose)
    assert number not in {stub.pipe for stub in sink.stubs}
    assert not sink.ports[number].at_foot


SAID = """
import hashlib, riser_houses
from handbook.output.drawing.risers import sheets
from handbook.pages.risers import drain_diagram, water_diagram
house = riser_houses.random_house(7)
drawn = [sheets(*diagram(house)) for diagram in (water_diagram, drain_diagram)]
print(hashlib.sha256(repr(drawn).encode()).hexdigest())
"""


def test_the_same_record_gives_the_same_drawing_in_another_run() -> None:
    said = {
        subprocess.run(
            [sys.executable, "-c", SAID],
            cwd=Path(__file__).parent,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(said) == 1


@EXAMPLE
def test_nothing_on_the_risers_of_the_example_covers_anything_else(example: list[str]) -> None:
    assert [overlaps(read(sheet)) for sheet in example] == [[], []]


def seeds(count: int) -> pytest.MarkDecorator:
    """Ask a test of so many random houses; all that is asked of one goes to one worker, which
    draws its diagrams once."""
    group = pytest.mark.xdist_group
    shared = [pytest.param(n, marks=group(f"risers of random house {n}")) for n in range(count)]
    return pytest.mark.parametrize("seed", shared)


@cache
def random_sheets(seed: int) -> tuple[str, ...]:
    """Each sheet of the diagrams of a random house."""
    house = random_house(seed)
    blocks = (*water_diagram(house), *drain_diagram(house))
    return tuple(sheet for block in blocks for sheet in sheets(riser((block,))))


@seeds(40)
def test_nothing_on_the_risers_of_a_random_house_covers_anything_else(seed: int) -> None:
    assert [said for sheet in random_sheets(seed) for said in overlaps(read(sheet))] == []


@EXAMPLE
def test_the_words_of_each_symbol_of_the_example_stand_nearest_to_it(example: list[str]) -> None:
    """Common practice, no source: words beside two symbols are read as the nearer one's."""
    assert [mistaken(read(sheet)) for sheet in example] == [[], []]


@seeds(40)
def test_the_words_of_each_symbol_of_a_random_house_stand_nearest_to_it(seed: int) -> None:
    assert [said for sheet in random_sheets(seed) for said in mistaken(read(sheet))] == []


@EXAMPLE
def test_what_leads_under_the_lowest_floor_stands_over_the_house_and_not_outdoors(
    house: House, example: list[str]
) -> None:
    """C2, in the utility room's floor, is joined to D16 under it: between the outer walls."""
    seen = next(s for s in map(read, example) if any(p.name == "C2" for p in s.pieces))
    walls = sorted(line.centroid.x for line in seen.lines if line.bounds[3] - line.bounds[1] > 20)
    assert len(walls) == 2
    for name in ("C2", "C4", "laundry-tub", "floor-drain"):
        piece = next(p for p in seen.pieces if p.name == name)
        assert walls[0] < piece.shape.centroid.x < walls[1], name


def strays(seen: Read) -> list[str]:
    """The sizes that are nearer to another pipe than to their own; but for a fork's two arms."""
    found = []
    for text, n in seen.sizes:
        own = seen.pipes[n].distance(text.ink)
        others = [pipe for pipe in seen.pipes if pipe.distance(seen.pipes[n]) > 1.0]
        near = min(pipe.distance(text.ink) for pipe in others)
        found += [f"{text.words}: {own:.1f}, {near:.1f}"] if near <= own else []
    return found


@EXAMPLE
def test_each_size_stands_nearest_to_its_own_pipe(example: list[str]) -> None:
    """Common practice, no source: a size beside two pipes is read as the nearer one's."""
    assert [strays(read(sheet)) for sheet in example] == [[], []]


@seeds(4)
def test_each_size_of_a_random_house_stands_nearest_to_its_own_pipe(seed: int) -> None:
    assert [said for sheet in random_sheets(seed) for said in strays(read(sheet))] == []


@EXAMPLE
def test_an_overlap_on_a_riser_would_be_found(example: list[str]) -> None:
    """The measure is awake: words, symbols and pipes put over one another or off the sheet."""
    svg = example[0]
    size = read(svg).sizes[0][0]
    for spoilt in ("words", "pipe", "symbol", "sheet"):
        found = read(svg)
        if spoilt == "words":
            found.titles.append(found.sizes[0][0])
        elif spoilt == "pipe":
            found.strokes.append(size.ink)
        elif spoilt == "symbol":
            found.pieces.append(found.pieces[0])
        else:
            found.sizes[0][0].ink = translate(size.ink, -2000, 0)
        assert overlaps(found), spoilt


def test_a_house_without_recorded_drains_has_no_drain_riser(house: House) -> None:
    bare = House(house.record.model_copy(update={"drains": None}), house.folder)
    assert drain_diagram(bare) == ()
