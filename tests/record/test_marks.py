"""A house file's YAML: every scalar is text, every part knows its place, the rest is refused.

What YAML means is checked against PyYAML's own BaseLoader, which builds plain texts, lists and
dictionaries independently of this project.
"""

import contextlib

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from marked_text import as_faults, unmark

from handbook.record import tree as tree_module
from handbook.record.marks import MarkedDict, MarkedList, MarkedStr, Tree
from handbook.record.problems import Mark, RecordError, explain
from handbook.record.source import MOST_BYTES, clean
from handbook.record.tree import MOST_ALIASES, MOST_DEPTH, tree_of

FILE = "house.yaml"
RELAXED = settings(deadline=None)  # a busy machine is not a fault


def tree(text: str | bytes) -> Tree:
    return tree_of(clean(text, FILE), FILE)


def refusal(text: str | bytes) -> RecordError:
    with pytest.raises(RecordError) as refused:
        tree(text)
    return refused.value


def plain(node: Tree) -> object:
    if isinstance(node, MarkedDict):
        return {str(key): plain(value) for key, value in node.items()}
    return [plain(item) for item in node] if isinstance(node, MarkedList) else str(node)


@pytest.mark.parametrize("text", ["12:30", "no", "2026-04-10", "0x1F", "1e3", "~", "null", "007"])
def test_a_scalar_stays_the_text_that_it_is(text):
    assert tree(f"key: {text}\n") == {"key": text}


def test_every_part_has_its_place():
    record = tree("valves:\n  - id: W1\n    at: [3 ft, 'x']\n")
    assert isinstance(record, MarkedDict)
    valves = record["valves"]
    assert record.key_marks["valves"] == Mark(FILE, 1, 1, width=6)
    assert isinstance(valves, MarkedList)
    valve = valves[0]
    assert isinstance(valve, MarkedDict)
    assert valve.mark == Mark(FILE, 2, 5, width=2)  # a group is shown by its first key
    assert valve.value_marks["id"] == Mark(FILE, 2, 9, width=2)
    assert isinstance(valve["at"], MarkedList)
    assert [item.mark for item in valve["at"]] == [Mark(FILE, 3, 10, 4), Mark(FILE, 3, 16, 3)]


def test_an_empty_value_is_empty_text_at_its_key():
    record = tree("house:\n  name:\n")
    assert plain(record) == {"house": {"name": ""}}
    assert record["house"].value_marks["name"] == Mark(FILE, 2, 3, width=4)


def test_an_anchor_may_be_used_again():
    assert plain(tree("a: &x {b: c}\nd: *x\n")) == {"a": {"b": "c"}, "d": {"b": "c"}}


def test_windows_line_ends_and_a_byte_order_mark_change_nothing():
    assert tree("\ufeffa: b\r\nc: d\r\n".encode()) == {"a": "b", "c": "d"}


WRONG = {
    "the first place of a key is named": """
house:
  name: Lot 14
  name: Lot 15
  ^^^^ the key `name` stands twice in the same group
""",
    "several faults are reported at once": """
house: !lot
       ^ the tag `!lot` is not used in a house file
  name: a
  <<: b
  ^^ the merge key `<<` is not used in a house file
  ? [x]
    ^ a key must be a word, not a list or a group of keys
  : y
  "": z
  ^^ there is no key before this colon
  note: *star
        ^^^^^ nothing above is marked `&star`
  *star : x
  ^^^^^ a key must be a word, not an alias
""",
    "text after a number sign is not lost": """
house:
  lot: Lot #14
           ^^^ everything from this `#` on would be taken as a remark and lost
  name: ours # a remark
""",
    "an alias inside its own anchor": """
a: &x [b, *x]
          ^^ `*x` stands inside what it stands for
""",
    "an anchor twice": """
a: &x b
c: &x d
   ^^^^ `&x` is marked twice
""",
    "a second document": """
a: b
---
^^^ a second document starts here
c: d
""",
    "a missing space after a colon": """
id: W1
name:Main
^^^^^^^^^ there is no space after this colon
kind: ball
""",
    "a missing colon": """
id: W1
name
^^^^ this line has no colon after its key
kind: ball
""",
    "a second colon": """
name: Main: inside
          ^ a second colon in this line
""",
    "a key too deep": """
id: W1
  name: Main
  ^^^^ this key is indented deeper than the lines it belongs with
""",
    "a key between two levels": """
valves:
  - id: W1
    kind: ball
   from: METER
   ^^^^^^^^^^^ this line does not line up with the list that starts at line 2
""",
    "a missing space after a dash": """
valves:
- W1
-W2
^^^ there is no space after this dash
""",
    "a list in the line of its key": """
watches: - W1
         ^ a list cannot start in the line of its key
""",
    "an open bracket": """
at: [3 ft, 1 ft
    ^ this bracket is not closed before line 2, or a comma is missing
height: 4 ft
""",
    "an open quotation mark": """
name: 'Main
      ^ a quotation mark is opened here and never closed
kind: ball
""",
    "text after a quoted text": """
name: 'the owner's'
                 ^ the value ended before this
""",
    "text that starts with a sign": """
note: @home
      ^ text cannot start with `@`
""",
    "a backslash in double quotes": r"""
name: "C:\houses"
         ^ a backslash inside double quotes means something else
""",
    "something after the end": """
a: b
...
c: d
^^^^ this stands after the end of the record
""",
}


@pytest.mark.parametrize("marked", WRONG.values(), ids=WRONG.keys())
def test_a_fault_is_named_at_its_place(marked):
    text, faults = unmark(marked)
    problems = refusal(text).problems
    assert as_faults(problems) == faults
    assert all(problem.hint for problem in problems)


def test_a_problem_prints_its_place_its_line_and_a_hint():
    assert explain(refusal("house:\n  name: a\n  name: b\n").problems) == (
        "house.yaml:3:3: the key `name` stands twice in the same group\n"
        "      name: b\n"
        "      ^^^^\n"
        "  hint: it stands first at line 2, column 3; "
        "keep one, and put what is under the other there"
    )


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("valves:\n  - id: W1\n    kind: ball\n\n    id: W2\n", True),
        ("valves: [{id: W1, id: W2}]\n", False),
        ("valves:\n  - {id: W1, id: W2}\n", False),
        ("valves:\n  - id: W1\n    place:\n      room: a\n      room: b\n", False),
        ("house:\n  name: a\n  name: b\n", False),
    ],
)
def test_a_key_that_comes_again_in_a_thing_of_a_list_may_lack_its_dash(text, asks):
    (problem,) = refusal(text).problems
    said = "if another thing of the list begins here, begin it with `- `; if not: it stands first"
    assert problem.hint.startswith(said) is asks
    assert "it stands first at line" in problem.hint


@pytest.mark.parametrize(
    ("data", "place", "message"),
    [
        ("", (1, 1), "nothing is written in this file"),
        ("# only a remark\n", (1, 1), "nothing is written in this file"),
        ("a:\n\t- b\n\t- c\n", (2, 1), "this line is indented with a tab, and 1 more line is"),
        (b"a: b\xff\n", (1, 5), "a byte here (0xFF) is not UTF-8 text"),
        ("a: b\n".encode("utf-16"), (1, 1), "the file is saved as UTF-16"),
        ("a: b\nc: \0d\0\n", (2, 4), "a character that cannot be printed (U+0000) stands here"),
        ("a: b\u2028c\n", (1, 5), "a character that cannot be printed (U+2028) stands here"),
        ("a: \ud800\n", (1, 4), "a character that cannot be printed (U+D800) stands here"),
        (b"a: b\n" * (MOST_BYTES // 5 + 1), (1, 1), "the file is larger than 2 MB"),
    ],
)
def test_bytes_that_are_no_clean_text_are_refused(data, place, message):
    problem = refusal(data).problems[0]
    assert (problem.mark.line, problem.mark.column) == place
    assert problem.message.startswith(message)


def test_depth_is_limited_without_recursion():
    deepest = "[" * MOST_DEPTH + "]" * MOST_DEPTH
    assert isinstance(tree(deepest), MarkedList)
    (problem,) = refusal(f"[{deepest}]").problems
    assert (problem.mark.column, problem.message) == (
        31,
        "things are nested more than 30 deep here",
    )
    refusal("[" * 100_000)


def test_aliases_are_limited_in_number():
    enough = "a: &x b\nc: [" + ", ".join(["*x"] * MOST_ALIASES)
    assert len(tree(enough + "]\n")["c"]) == MOST_ALIASES
    (problem,) = refusal(enough + ", *x]\n").problems
    assert problem.message == "there are more than 1,000 aliases"


def test_aliases_of_aliases_cannot_grow_without_bound():
    # ten of ten of ten ...: 10^6 texts written out of 60 aliases
    lines = ["a0: &x0 [" + ", ".join(["b"] * 10) + "]"]
    lines += [f"a{i}: &x{i} [" + ", ".join([f"*x{i - 1}"] * 10) + "]" for i in range(1, 7)]
    (problem,) = refusal("\n".join(lines)).problems
    assert problem.message.startswith("the file says more than 100,000 things")


def test_the_parser_in_python_gives_the_same_tree_where_that_in_c_is_missing(monkeypatch):
    text = 'valves:\n- id: W1\n  name:\n  at: [3 ft, "x"]\n'
    fast = tree(text)
    monkeypatch.setattr(tree_module, "Parser", yaml.SafeLoader)
    slow = tree(text)
    assert slow == fast
    assert slow["valves"][0].key_marks == fast["valves"][0].key_marks
    assert slow["valves"][0].value_marks == fast["valves"][0].value_marks


TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=12)
DOCUMENTS = st.recursive(
    TEXTS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXTS, inner, max_size=4),
    max_leaves=20,
)
SIGNS = [
    "a",
    "b: ",
    ": ",
    "- ",
    "[",
    "]",
    "{",
    "}",
    ", ",
    "'",
    '"',
    "#",
    "&x ",
    "*x",
    "!t ",
    "? ",
    ">",
    "%",
    "@",
    "<<: ",
    "é",
]
BREAKS = ["\n", "\n  ", "\n    ", "---\n", "...\n", "\t", "\r\n", "| "]
SCRAPS = st.lists(st.sampled_from(SIGNS + BREAKS), max_size=25).map("".join)


@given(document=DOCUMENTS, flow=st.booleans())
@RELAXED
def test_a_document_means_what_it_means_to_an_independent_reader(document, flow):
    written = yaml.safe_dump(document, default_flow_style=flow, allow_unicode=True)
    try:
        read = plain(tree(written))
    except RecordError:
        return  # empty keys, merge keys and the like; the next test bounds what may be refused
    assert read == yaml.load(written, Loader=yaml.BaseLoader)


PLAIN_WORDS = st.from_regex(r"[a-z][a-z0-9 ]{0,8}[a-z0-9]", fullmatch=True)
PLAIN_DOCUMENTS = st.recursive(
    PLAIN_WORDS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(PLAIN_WORDS, inner, max_size=4),
    max_leaves=20,
)


@given(document=PLAIN_DOCUMENTS, flow=st.booleans())
@RELAXED
def test_a_plain_document_is_never_refused(document, flow):
    assert plain(tree(yaml.safe_dump(document, default_flow_style=flow))) == document


@given(text=SCRAPS | st.text(max_size=60))
@RELAXED
def test_any_text_gives_a_tree_or_problems_inside_the_file(text):
    try:
        read = tree(text)
    except RecordError as refused:
        found = refused.problems
    else:
        # by the same parser, since the one in Python is stricter about tabs, but built on its own
        assert plain(read) == yaml.load(text.removeprefix("\ufeff"), Loader=yaml.CBaseLoader)
        return
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    assert found
    for problem in found:
        assert 1 <= problem.mark.line <= len(lines)
        assert 1 <= problem.mark.column <= len(lines[problem.mark.line - 1]) + 1
    assert explain(found)


@given(data=st.binary(max_size=40))
@RELAXED
def test_any_bytes_give_a_tree_or_problems(data):
    with contextlib.suppress(RecordError):
        assert isinstance(tree(data), MarkedDict | MarkedList | MarkedStr)


def test_an_alias_that_is_misspelt_is_told_with_the_nearest() -> None:
    with pytest.raises(RecordError) as refused:
        tree_of("a: &tried {b: c}\nd: *triedd\n", "house.yaml")
    (problem,) = refused.value.problems
    assert problem.mark.line == 2
    assert "did you mean `*tried`?" in problem.hint
