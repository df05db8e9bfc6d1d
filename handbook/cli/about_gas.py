"""The command about gas: whether its pipes carry what is asked of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from handbook.cli.shared import HOUSE, Examples, asking, read, stop


@click.command(
    cls=Examples,
    epilog="handbook gas example_house --add G9=40000 --json\n"
    "handbook gas example_house --replace WH1=199000",
)
@HOUSE
@click.option(
    "--add",
    "adding",
    multiple=True,
    metavar="OUTLET=BTUH",
    help="As if this burned there too, beside what burns there now.",
)
@click.option(
    "--replace",
    "replacing",
    multiple=True,
    metavar="OUTLET=BTUH",
    help="As if this burned there in the place of what burns there now.",
)
@click.option("--json", "as_json", is_flag=True, help="For machines, in Btu an hour and feet.")
def gas(house: Path, adding: tuple[str, ...], replacing: tuple[str, ...], as_json: bool) -> None:
    """Say what each gas pipe carries, and what could be added.

    For planning: all work on gas pipe is a licensed plumber's.
    """
    from handbook.output import told_gas

    asked = read(house)
    with asking():
        answer = asked.gas(dict(_rates("--add", adding)), dict(_rates("--replace", replacing)))
    units = asked.house.record.house.units
    click.echo(told_gas.gas_json(answer) if as_json else told_gas.gas_text(answer, units))


def _rates(option: str, given: Sequence[str]) -> Iterator[tuple[str, float]]:
    """Read `G9=40000` (Btu an hour) or `G9=12 kW`."""
    from handbook.measures import NotationError, parse_heat_rate

    for each in given:
        thing, _, amount = each.partition("=")
        plain = amount.strip().replace(",", "")
        try:
            rate = parse_heat_rate(f"{plain} Btu/h" if plain.isdecimal() else amount)
        except NotationError:
            stop(f"{option} {each}: write it like G9=40000, Btu an hour")
        yield thing.strip(), rate.btu_h
