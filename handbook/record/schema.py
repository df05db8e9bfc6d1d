"""The JSON Schema of a house file, for editors: written from the grammar's models."""

import json

from handbook.record.grammar.record import Record

SCHEMA_FILE = "record.schema.json"
"""The name under which the schema lies beside a record; its first line points there."""


def json_schema() -> str:
    """Return the schema (JSON Schema 2020-12) as text, ending in a newline."""
    schema = Record.model_json_schema(by_alias=True)
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A house, as it was built",
    }
    return json.dumps({**schema, **head}, indent=1, ensure_ascii=False, sort_keys=True) + "\n"
