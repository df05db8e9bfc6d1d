"""Commands about the record itself: begin one, check it, what it may say, by what rules."""

from __future__ import annotations

import shlex
import sys
from pathlib import Path

import click

from handbook.cli.shared import HOUSE, Examples, read, stop


@click.command(cls=Examples, epilog="handbook new maple-court-7")
@click.argument("folder")
def new(folder: str) -> None:
    """Write a starting record into FOLDER.

    Its fifteen lines already check and build; `check` then says what to add next. Beside it stands
    record.schema.json, from which an editor knows the keys.
    """
    from handbook.record.schema import SCHEMA_FILE
    from handbook.record.starting import begin

    if not folder.strip():
        stop("FOLDER is empty", "name the house, like `handbook new maple-court-7`")
    try:
        written = begin(Path(folder))
    except OSError as error:
        stop(f"cannot write {folder}: {error.strerror}" if error.strerror else str(error))
    click.echo(f"Wrote {written}, and {SCHEMA_FILE} beside it: an editor knows the keys from it.")
    click.echo(f"Next: handbook check {shlex.quote(folder)}")


@click.command(
    cls=Examples, epilog="handbook check example_house\nhandbook check example_house --json"
)
@HOUSE
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text")
@click.option("--json", "form", flag_value="json", help="The same as --format json.")
def check(house: Path, form: str) -> None:
    """Say what is missing or not right.

    Looks for what the record lacks, and for what to put right while the wall is open.
    """
    report = read(house).check()
    from handbook.output import findings

    colour = sys.stdout.isatty()
    click.echo(findings.as_json(report) if form == "json" else findings.as_text(report, colour))
    sys.exit(1 if report.findings else 0)


@click.command()
def schema() -> None:
    """Print the JSON Schema of a record, for editors."""
    from handbook.record.schema import json_schema

    click.echo(json_schema(), nl=False)


@click.command()
def rules() -> None:
    """Print every rule and its source."""
    from handbook.rules import document

    click.echo(document(), nl=False)
