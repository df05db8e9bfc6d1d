"""A quotation mark that is not closed is told where it opens, not where the parser stumbles.

That a text may run on over lines deeper than its key: YAML 1.2.2, section 7.3.
"""

from pathlib import Path

import pytest

from handbook.record.problems import Problem, RecordError
from handbook.record.tree import tree_of

EXAMPLE = Path("example_house/house.yaml").read_text(encoding="utf-8")

NOTE = """\
house:
  name: Test
  note: "left of the door;
    tool: none, as it has a lever"
"""


def refused(text: str) -> Problem:
    with pytest.raises(RecordError) as caught:
        tree_of(text, "house.yaml")
    (found,) = caught.value.problems
    return found


@pytest.mark.parametrize("quote", ["'", '"'])
@pytest.mark.parametrize(
    "written",
    [
        "name: ^Kitchen shutoff, cold\n",
        "address: ^27 Kestrel Bend, Fernhollow\n",
        "- name: ^International Residential Code\n",
        "{id: family, name: ^Family room, outline: [[",
        "{what: ^Final plumbing and gas, number",
    ],
)
def test_it_is_told_where_it_opens(written: str, quote: str) -> None:
    before, after = EXAMPLE.split(written.replace("^", ""))
    found = refused(before + written.replace("^", quote) + after)
    opened = (before + written.partition("^")[0]).split("\n")
    assert (found.mark.line, found.mark.column) == (len(opened), len(opened[-1]) + 1)
    assert found.line_text.strip().endswith(written.strip().replace("^", quote)) or "{" in written
    assert found.message == "a quotation mark is opened here and not closed in its line"
    assert found.hint.startswith("close it")


def test_it_is_told_in_braces_that_take_several_lines() -> None:
    found = refused("rooms:\n  - {id: a, name: 'Den,\n     note: 'low, left'}\n")
    assert (found.mark.line, found.mark.column) == (2, 19)


def test_a_text_that_ends_in_its_own_line_where_the_next_begins_is_told() -> None:
    found = refused('rooms:\n  - {id: a, name: "Den, plan: A, note: "low", lot: \'B, 1\'}\n')
    assert (found.mark.line, found.mark.column) == (2, 19)


def test_it_is_told_among_the_items_of_a_list() -> None:
    found = refused('notes:\n  - "Trusses, open\n  - "No web was cut"\n')
    assert (found.mark.line, found.mark.column) == (2, 5)


def test_the_first_of_several_is_told() -> None:
    found = refused("house:\n  name: 'Test\n  lot: 'Lot 27\n  plan: 'Plan 2140\n  builder: Ann\n")
    assert (found.mark.line, found.mark.column) == (2, 9)


@pytest.mark.parametrize(
    ("mistake", "message"),
    [
        ("  lot: Lot 27: block 3\n", "a second colon in this line"),
        ("  lot: 'Lot 27' block 3\n", "the value ended before this"),
        ("  lot: 'Lot 27\n", "a quotation mark is opened here and never closed"),
        ("  lot\n  plan: A\n", "this line has no colon after its key"),
    ],
)
@pytest.mark.parametrize("quote", ["'", '"'])
def test_a_text_that_runs_on_as_it_may_is_not_blamed(
    mistake: str, message: str, quote: str
) -> None:
    text = NOTE.replace('"', quote)
    assert tree_of(text, "house.yaml")
    found = refused(text + mistake)
    assert (found.mark.line, found.message) == (5, message)
