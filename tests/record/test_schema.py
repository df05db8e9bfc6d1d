"""The JSON Schema: it matches the grammar, and an independent validator agrees with the reader.

The validator is the `jsonschema` library (JSON Schema 2020-12); YAML is loaded for it the way
editors do (YAML 1.2 core schema: no dates, no `yes` for true).
"""

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from handbook import assets
from handbook.record.grammar.record import Record
from handbook.record.reading import read
from handbook.record.schema import SCHEMA_FILE, json_schema
from handbook.record.starting import begin


class CoreLoader(yaml.SafeLoader):
    """PyYAML with YAML 1.2's core schema (YAML 1.2.2, section 10.3)."""


CoreLoader.yaml_implicit_resolvers = {}
for tag, pattern, first in (
    ("bool", r"true|True|TRUE|false|False|FALSE", "tTfF"),
    ("null", r"null|Null|NULL|~|", ["n", "N", "~", ""]),
    ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", "-+0123456789"),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", "-+.0123456789"),
):
    CoreLoader.add_implicit_resolver(
        f"tag:yaml.org,2002:{tag}", re.compile(f"^(?:{pattern})$"), list(first)
    )


def as_an_editor_sees_it(path: Path) -> Any:
    return yaml.load(path.read_text("utf-8"), Loader=CoreLoader)


def validator() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(json.loads(json_schema()))


def test_the_schema_is_itself_valid() -> None:
    jsonschema.Draft202012Validator.check_schema(json.loads(json_schema()))


def test_the_schema_beside_the_example_is_what_the_grammar_says_now() -> None:
    assert (assets.example_house() / SCHEMA_FILE).read_text("utf-8") == json_schema()


def test_the_example_begins_with_the_line_that_points_an_editor_to_the_schema() -> None:
    first = (assets.example_house() / "house.yaml").read_text("utf-8").splitlines()[0]
    assert first == f"# yaml-language-server: $schema={SCHEMA_FILE}"


def test_the_example_is_valid_to_an_independent_validator() -> None:
    seen = as_an_editor_sees_it(assets.example_house() / "house.yaml")
    assert [f"{e.json_path}: {e.message[:200]}" for e in validator().iter_errors(seen)] == []


def test_the_starting_record_is_valid_to_both(tmp_path: Path) -> None:
    path = begin(tmp_path / "house")
    assert list(validator().iter_errors(as_an_editor_sees_it(path))) == []
    assert read(path, Record).house.name == "The new house"


@pytest.mark.parametrize(
    ("was", "wrong"),
    [
        ("kind: ball", "kind: bal"),
        ("main: yes", "mian: yes"),
        ("on: 2026-01-15", "on: January"),
        ("format: 1", "format: 2"),
    ],
)
def test_an_editor_marks_what_the_reader_refuses(tmp_path: Path, was: str, wrong: str) -> None:
    path = begin(tmp_path / "house")
    path.write_text(path.read_text("utf-8").replace(was, wrong), "utf-8")
    assert list(validator().iter_errors(as_an_editor_sees_it(path)))
