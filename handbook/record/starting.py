"""Begin a record: a few commented lines that already check and build, and the schema."""

from pathlib import Path

from handbook import assets
from handbook.record.schema import SCHEMA_FILE, json_schema

RECORD_FILE = "house.yaml"


def begin(folder: Path) -> Path:
    """Write a starting record into `folder`, making the folder; return the record's path.

    Raises FileExistsError where a record stands already; it is never overwritten.
    """
    record = folder / RECORD_FILE
    if record.exists():
        raise FileExistsError(f"{record} is there already; it was left as it is")
    folder.mkdir(parents=True, exist_ok=True)
    record.write_text((assets.templates() / "new_house.yaml").read_text("utf-8"), "utf-8")
    (folder / SCHEMA_FILE).write_text(json_schema(), "utf-8")
    return record
