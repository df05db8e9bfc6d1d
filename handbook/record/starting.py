"""Begin a record: a few commented lines that already check and build, and the schema."""

import re
from pathlib import Path

from handbook import assets
from handbook.record.grammar.common import each
from handbook.record.grammar.record import Record
from handbook.record.grammar.water import Water
from handbook.record.notation import PhoneNumber
from handbook.record.reading import read_text
from handbook.record.schema import SCHEMA_FILE, json_schema

RECORD_FILE = "house.yaml"

TO_WRITE = "(to be written here"
"""Begins the words that stand in a shown line for those that only somebody on the spot has."""


def begin(folder: Path) -> Path:
    """Write a starting record into `folder`, making the folder; return the record's path.

    Raises FileExistsError where a record stands already; it is never overwritten.
    """
    record = folder / RECORD_FILE
    if record.exists():
        raise FileExistsError(f"{record} is there already; it was left as it is")
    if any(place.exists() and not place.is_dir() for place in (folder, *folder.parents)):
        raise FileExistsError(f"{folder}: a file is in the way; name another folder")
    folder.mkdir(parents=True, exist_ok=True)
    record.write_text(_starting(), "utf-8")
    (folder / SCHEMA_FILE).write_text(json_schema(), "utf-8")
    return record


def _starting() -> str:
    return (assets.templates() / "new_house.yaml").read_text("utf-8")


def left_to_write(text: str) -> bool:
    """Whether a text still stands as it was shown; the starting record's own is asked for apart."""
    return text.startswith(TO_WRITE) and text not in _starting()


def made_up(phone: PhoneNumber) -> bool:
    """Whether a number is of noughts alone, as a starting record holds a real one's place."""
    return not re.sub(r"\D", "", phone.text).strip("0")


def as_begun(record: Record) -> bool:
    """Whether a place or a day that the starting record made up stands there still."""
    begun = read_text(_starting(), RECORD_FILE, Record)
    first_ones = each((begun.water or Water()).valves)
    valves = each((record.water or Water()).valves)
    return any(
        valve.id == first.id and (valve.place == first.place or valve.seen == first.seen)
        for first in first_ones
        for valve in valves
    )
