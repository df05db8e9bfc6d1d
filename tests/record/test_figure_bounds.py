"""Figures: what no house can have is refused at its place, and what was meant is asked."""

from collections.abc import Callable
from math import atan, degrees
from typing import get_args

import pytest
from pydantic.fields import FieldInfo

from handbook.measures import parse_slope
from handbook.record import shapes
from handbook.record.bounds import Within, bounds, size
from handbook.record.figures import figures
from handbook.record.grammar.fixtures import FixtureKind
from handbook.record.grammar.record import Record
from handbook.record.problems import RecordError
from handbook.record.reading import read_text
from handbook.record.reads import Reads
from handbook.record.sense import check_ids, check_sense
from handbook.tables import table

HEAD = "format: 1\nhouse: {name: Test}\n"
BADGE = "write what was measured or what its badge says, with the unit"


def sole(text: str) -> tuple[str, str, str]:
    """Return message, hint and the words under the carets of the only problem."""
    with pytest.raises(RecordError) as caught:
        read_text(HEAD + text, "house.yaml", Record, (check_ids, check_sense))
    (found,) = caught.value.problems
    at = found.mark.column - 1
    return found.message, found.hint, found.line_text[at : at + found.width]


@pytest.mark.parametrize(
    ("heater", "said", "under"),
    [
        ("setting: 20 F", "the `setting` of `WH` cannot be 20 F: ", "20 F"),
        ("setting: 120 C", "the `setting` of `WH` cannot be 120 C: ", "120 C"),
        ("capacity: 0 gal", "the `capacity` of `WH` cannot be 0 gal: ", "0 gal"),
        (
            "expansion_tank: {id: ET, size: 0 L}",
            "the `size` of `ET` cannot be 0 L: ",
            "0 L",
        ),
    ],
)
def test_a_figure_that_no_heater_can_have_is_refused(heater: str, said: str, under: str) -> None:
    message, hint, at = sole(f"heaters: [{{id: WH, {heater}}}]\n")
    assert message.startswith(said)
    assert at == under
    assert hint == ("did you mean `120 F`?" if "120 C" in heater else BADGE)


@pytest.mark.parametrize(
    ("text", "said", "under", "meant"),
    [
        ("levels: [{id: m, name: M, ceiling: 8 in}]", "`ceiling` of `m`", "8 in", "8 ft"),
        (
            "levels: [{id: m, name: M, rooms: [{id: a, name: A}], "
            "doors: [{between: [a, outside], width: 36 ft}]}]",
            "`doors: width` of `m`",
            "36 ft",
            "36 in",
        ),
        (
            "water: {static_pressure: {value: 620 psi}}",
            "`water: static_pressure: value`",
            "620 psi",
            "620 kPa",
        ),
        (
            "drains: {stretches: [{id: D1, slope: 20 in per ft}]}",
            "`slope` of `D1`",
            "20 in per ft",
            "2 in per ft",
        ),
        (
            "drains: {stretches: [{id: D1, by: 9 ft of 30 in PVC}]}",
            "`by: size` of `D1`",
            "9 ft of 30 in PVC",
            "3 in",
        ),
        ("heaters: [{id: WH, capacity: 5000 gal}]", "`capacity` of `WH`", "5000 gal", "50 gal"),
        (
            "heaters: [{id: WH, gas: {input: 400 Btu/h}}]",
            "`gas: input` of `WH`",
            "400 Btu/h",
            "400 MBH",
        ),
        (
            "fixtures: [{id: s, kind: shower, cold: {by: 22000 ft of 3/4 in PEX}}]",
            "`cold: by: length` of `s`",
            "22000 ft of 3/4 in PEX",
            "220 ft",
        ),
    ],
)
def test_a_figure_that_no_house_can_have_is_refused_and_what_was_meant_is_asked(
    text: str, said: str, under: str, meant: str
) -> None:
    message, hint, at = sole(text + "\n")
    assert message.startswith(f"the {said} cannot be ")
    assert at == under
    assert f"`{meant}`" in hint


TABLE = table("figure_bounds").values


def _fields() -> dict[str, set[Callable[[str], object]]]:
    """For the name of each bounds, how the fields that have them read their text."""
    found: dict[str, set[Callable[[str], object]]] = {}
    for model in shapes.kinds(Record):
        for field in model.model_fields.values():
            parts = tuple(shapes.parts_of(field))
            names = [part.name for part in parts if isinstance(part, Within)]
            reads = [part.parse for part in parts if isinstance(part, Reads)]
            for name in names:
                found.setdefault(name, set()).update(reads)
    return found


def test_each_field_with_bounds_finds_them_and_no_bounds_are_left_over() -> None:
    assert set(_fields()) == set(TABLE)


@pytest.mark.parametrize("name", TABLE)
def test_bounds_hold_what_is_usual_and_more(name: str) -> None:
    for parse in _fields()[name]:
        own = bounds(name, parse)
        low, high = map(size, own.usual)
        assert size(own.least) <= low < high < size(own.most)
        assert own.why


KINDS = [(name, kind) for name, row in TABLE.items() for kind in row.get("kinds", ())]


@pytest.mark.parametrize(("name", "kind"), KINDS)
def test_the_bounds_of_a_kind_lie_within_those_of_all(name: str, kind: str) -> None:
    assert kind in get_args(FixtureKind)
    for parse in _fields()[name]:
        every, own = bounds(name, parse), bounds(name, parse, kind)
        low, high = map(size, own.usual)
        assert size(every.least) <= size(own.least) <= low < high < size(own.most)
        assert size(own.most) <= size(every.most)


@pytest.mark.parametrize(
    ("kind", "rim", "refused"),
    [("floor drain", "40 in", True), ("floor drain", "2 in", False), ("lavatory", "40 in", False)],
)
def test_a_rim_is_held_against_its_kind_of_fixture(kind: str, rim: str, refused: bool) -> None:
    text = f"{HEAD}fixtures: [{{id: f, kind: {kind}, rim: {rim}}}]\n"
    if refused:
        message, hint, _ = sole(text.removeprefix(HEAD))
        assert message == f"the `rim` of `f` cannot be {rim}: a floor drain lies in the floor"
        assert hint == "it is at most 24 in here: measure again, and look that `kind` is right"
    else:
        read_text(text, "house.yaml", Record, (check_ids, check_sense))


@pytest.mark.parametrize(("rim", "usual"), [("6 in", True), ("10 in", False)])
def test_an_unusual_rim_of_a_floor_drain_is_asked_about(rim: str, usual: bool) -> None:
    said = f"{HEAD}fixtures: [{{id: f, kind: floor drain, rim: {rim}}}]\n"
    (figure,) = figures(read_text(said, "house.yaml", Record))
    assert figure.bounds.are_usual(figure.value) is usual
    assert usual or not figure.meant


def test_a_rim_that_no_fixture_has_is_still_asked_about_as_a_slip() -> None:
    _, hint, _ = sole("fixtures: [{id: f, kind: lavatory, rim: 340 in}]\n")
    assert hint == "did you mean `34 in`?"


def test_every_measured_field_of_a_record_has_bounds() -> None:
    """A point on the plan has none: what it is measured from is up to whoever draws the plan."""
    bare = [
        (model.__name__, name)
        for model in shapes.kinds(Record)
        for name, field in model.model_fields.items()
        if _is_measured(field) and not any(isinstance(p, Within) for p in shapes.parts_of(field))
    ]
    assert bare == []


def _is_measured(field: FieldInfo) -> bool:
    parts = shapes.parts_of(field)
    return any(isinstance(part, Reads) and part.kind in shapes.MEASURES for part in parts)


def test_the_steepest_slope_is_that_of_a_pipe_that_is_not_yet_vertical() -> None:
    """IPC chapter 2: a horizontal pipe makes less than 45 degrees with the horizontal."""
    most = size(bounds("slope", parse_slope).most)
    assert degrees(atan(most / 12)) == pytest.approx(45)
