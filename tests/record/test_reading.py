"""Everything that is wrong with a record is said at once, at its place, in plain words."""

import contextlib
from collections.abc import Iterator
from pathlib import Path
from typing import Literal

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from marked_text import as_faults, unmark
from pydantic import Field

from handbook import measures
from handbook.record import fields
from handbook.record.entry import Entry
from handbook.record.fields import Known, Maybe
from handbook.record.problems import MOST_PROBLEMS, Mark, Problem, RecordError, explain
from handbook.record.reading import read, read_text

HERE = Path(__file__).parent


class Pipe(Entry):
    text_examples = ("22 ft of 3/4 in PEX",)

    length: Known[fields.Length] = None
    size: Known[fields.PipeSize] = None
    material: Known[Literal["PEX", "PVC"]] = None

    @classmethod
    def from_text(cls, text: str) -> dict[str, object]:
        run = measures.parse_run(text)
        return {"length": run.length, "size": run.size, "material": run.material}


class Place(Entry):
    level: Known[fields.Ref] = None
    room: Known[fields.Ref] = None


class Valve(Entry):
    id: fields.Id
    name: Known[fields.Text] = None
    kind: Known[Literal["ball", "gate", "globe"]] = None
    from_: Known[fields.Ref] = None
    by: Known[Pipe] = None
    at: Known[fields.Point] = None
    on: Known[fields.Day] = None
    static_pressure: Known[fields.Pressure] = None
    place: Known[Place] = None
    ways: Maybe[tuple[fields.Ref, ...]] = None
    corners: tuple[fields.Point, ...] = Field((), max_length=2)


class House(Entry):
    name: fields.Text


class Record(Entry):
    format: Literal["1"]
    house: House
    levels: Known[tuple[Place, ...]] = None
    valves: Known[tuple[Valve, ...]] = None


def refusal(text: str | bytes) -> tuple[Problem, ...]:
    with pytest.raises(RecordError) as refused:
        read_text(text, "house.yaml", Record)
    return refused.value.problems


def test_a_wrong_file_gives_exactly_the_text_beside_it():
    problems = refusal((HERE / "wrong_house.yaml").read_bytes())
    assert explain(problems) + "\n" == (HERE / "wrong_house.txt").read_text("utf-8")


WRONG = {
    "an unknown key is marked at the key": """
format: 1
house: {name: a, nam: b}
                 ^^^ `nam` is not a key here
""",
    "a missing key is marked at the key it is missing under": """
format: 1
house: {}
^^^^^ `name` is missing here
""",
    "a missing key of an item is marked at the item": """
format: 1
house: {name: a}
valves:
  - name: b
    ^^^^ `id` is missing here
""",
    "a wrong value is marked at the value": """
format: 1
house: {name: a}
valves:
  - id: 1W
        ^^ `id`: '1W' cannot be an id
    static_pressure: 68
                     ^^ `static_pressure`: '68' has no unit
    at: [3 ft, 4 psi]
               ^^^^^ `at`: '4 psi': the unit 'psi' is not known here
    ways: [a, 9]
              ^ `ways`: '9' cannot be an id
    by: {length: 3 psi}
                 ^^^^^ `length`: '3 psi': the unit 'psi' is not known here
""",
    "a wrong word inside a short text is marked at the text": """
format: 1
house: {name: a}
valves:
  - id: W1
    by: 22 ft of 3/4 in gold
        ^^^^^^^^^^^^^^^^^^^^ `material`: 'gold' is not known here
""",
    "an empty value is marked at its key": """
format: 1
house:
  name:
  ^^^^ `name`: nothing is written here
levels:
^^^^^^ `levels`: a list belongs here, but nothing is written
valves:
  - id: W1
    place:
    ^^^^^ `place`: a group of keys belongs here, but nothing is written
    kind:
    ^^^^ `kind`: nothing is written here
""",
    "a wrong shape is said in plain words": """
format: [1]
        ^ `format`: a list stands where one word belongs
house: a
       ^ `house`: a group of keys belongs here, but one text stands here
levels: {level: lower}
^^^^^^ `levels`: a list belongs here, but a group of keys stands here
valves:
  - W1
    ^^ `valves`: a group of keys belongs here, but one text stands here
  - id: {a: b}
        ^ `id`: a group of keys stands where a short text belongs
    at: 3 ft
        ^^^^ `at`: a point on the plan is two lengths
    place:
      - level: upper
      ^ `place`: a group of keys belongs here, but a list stands here
""",
    "too many of something": """
format: 1
house: {name: a}
valves:
  - id: W1
    corners: [[0, 0], [0, 0], [0, 0]]
             ^ `corners`: 3 stand here; at most 2 can
""",
    "a fault behind an alias is named once, where it is written": """
format: 1
house: {name: a}
valves:
  - {id: W1, place: &p {level: 9}}
                               ^ `level`: '9' cannot be an id
  - {id: W2, place: *p}
""",
}


@pytest.mark.parametrize("marked", WRONG.values(), ids=WRONG.keys())
def test_a_fault_is_named_at_its_place(marked):
    text, faults = unmark(marked)
    assert as_faults(refusal(text)) == faults


@pytest.mark.parametrize("text", ["- a\n", "lower\n"])
def test_a_file_that_is_no_group_of_keys_is_refused_at_its_start(text):
    (problem,) = refusal(text)
    assert problem.mark.line == problem.mark.column == 1
    assert problem.message.startswith("a group of keys belongs here")


def hint(valve: str) -> str:
    (problem,) = refusal(f"format: 1\nhouse: {{name: a}}\nvalves:\n  - {{id: W1, {valve}}}\n")
    return problem.hint


@pytest.mark.parametrize(
    ("valve", "expected"),
    [
        ("static-pressure: 68 psi", "did you mean `static_pressure`?"),
        ("static pressure: 68 psi", "did you mean `static_pressure`?"),
        ("from_: W2", "did you mean `from`?"),
        ("form: W2", "did you mean `from`?"),
        ("room: hall", "`room` belongs under `place`"),
        ("levels: a", "`levels` belongs further out: indent it less"),
        ("kind: bal", "did you mean `ball`? It is one of ball, gate, globe"),
        ("kind: Ball", "did you mean `ball`? It is one of ball, gate, globe"),
        ("kind: xyz", "one of ball, gate, globe"),
        ("ways: W2", "write `ways: [W2]`"),
        ("by: [a]", "or in short `22 ft of 3/4 in PEX`"),
        ("on: 10.4.2026", "year, month, day, like `2026-04-10`"),
    ],
)
def test_a_hint_says_how_to_put_it_right(valve, expected):
    assert hint(valve).endswith(expected)


def test_an_unknown_key_like_no_other_asks_about_its_indentation():
    assert hint("colour: red").startswith("is it indented under the right thing? Keys here are id,")


GOOD = "format: 1\nhouse: {name: a}\nvalves:\n  - {id: W1, from: W9}\n"


def test_a_good_file_becomes_a_record(tmp_path):
    path = tmp_path / "house.yaml"
    path.write_text(GOOD, "utf-8")
    record = read(path, Record)
    assert record.valves is not None
    assert record.valves[0].mark_of("from_") == Mark(str(path), 4, 20, width=2)


def test_a_file_that_is_not_there_is_a_problem_like_any_other(tmp_path):
    with pytest.raises(RecordError, match="this file cannot be opened: no such file"):
        read(tmp_path / "house.yaml", Record)
    with pytest.raises(RecordError, match="`handbook new FOLDER` begins one"):
        read(tmp_path / "house.yaml", Record)
    with pytest.raises(RecordError, match="this file cannot be opened: is a directory"):
        read(tmp_path, Record)


def test_a_later_check_sees_what_is_left_without_what_an_earlier_one_found():
    ran: list[str] = []

    def ids(record: Record) -> Iterator[Problem]:
        ran.append("ids")
        assert record.valves is not None
        yield Problem(record.valves[0].mark_of("from_"), "nothing has the id `W9`")

    def sense(record: Record) -> Iterator[Problem]:
        assert record.valves is not None
        ran.append(f"sense {record.valves[0].from_}")
        yield from ()

    assert read_text(GOOD, "house.yaml", Record, [sense]).format == "1"
    with pytest.raises(RecordError) as refused:
        read_text(GOOD, "house.yaml", Record, [ids, sense])
    assert ran == ["sense W9", "ids", "sense None"]
    assert refused.value.problems[0].line_text == "  - {id: W1, from: W9}"
    with pytest.raises(RecordError):
        read_text("a: [", "house.yaml", Record, [ids])
    assert ran == ["sense W9", "ids", "sense None"]


def test_a_flood_of_problems_is_cut_and_counted():
    keys = "".join(f"k{i}: x\n" for i in range(MOST_PROBLEMS + 10))
    problems = refusal(GOOD + keys)
    assert len(problems) == MOST_PROBLEMS + 1
    assert problems[-1].message == "and 10 more; put these right first"


KEYS = st.sampled_from(
    ["id", "name", "kind", "by", "at", "place", "ways", "on", "from", "x", "corners"]
)
VALUES = st.recursive(
    st.sampled_from(["W1", "3 ft", "68", "none", "unknown", "", "ball", "22 ft of 1 in PEX"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=12,
)


@given(valves=VALUES, house=VALUES, levels=VALUES)
@settings(deadline=None)
def test_any_record_is_read_or_refused_with_the_line_of_every_fault(valves, house, levels):
    given_record = {"format": "1", "house": house, "levels": levels, "valves": valves}
    text = yaml.safe_dump(given_record)
    problems: tuple[Problem, ...] = ()
    try:
        read_text(text, "house.yaml", Record)
    except RecordError as refused:
        problems = refused.problems
    lines = text.split("\n")
    for problem in problems:
        assert problem.line_text == lines[problem.mark.line - 1]
        assert problem.mark.column + problem.width - 1 <= len(problem.line_text)
        assert "Input should" not in problem.message


@given(text=st.text(max_size=80))
@settings(deadline=None)
def test_any_text_is_a_record_or_refused(text):
    with contextlib.suppress(RecordError):
        read_text(text, "house.yaml", Record)
