"""Commands about who does what: whom to call, what is due."""

from __future__ import annotations

from pathlib import Path

import click

from handbook.cli.shared import HOUSE, Examples, read


@click.command(cls=Examples, epilog="handbook whom example_house")
@HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def whom(house: Path, as_json: bool) -> None:
    """Say whom to call, and what an occupant may do."""
    answer = read(house).whom()
    from handbook.output import told

    click.echo(told.whom_json(answer) if as_json else told.whom_text(answer))


@click.command(cls=Examples, epilog="handbook care example_house")
@HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def care(house: Path, as_json: bool) -> None:
    """Say what is due, and how often."""
    answer = read(house).care()
    from handbook.output import told

    click.echo(told.care_json(answer) if as_json else told.care_text(answer))
