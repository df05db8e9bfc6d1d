"""Commands about water: what stops it, how it flows, where it comes through and where it goes."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from handbook.cli.shared import HOUSE, Examples, asking, read

if TYPE_CHECKING:
    from handbook.answers.through import Sign


@click.command(
    cls=Examples,
    epilog="handbook isolate example_house hall-wc\n"
    'handbook isolate example_house "pipe to W4"\n'
    "handbook isolate example_house house --json",
)
@HOUSE
@click.argument("thing")
@click.option("--json", "as_json", is_flag=True, help="All steps, for machines.")
def isolate(house: Path, thing: str, as_json: bool) -> None:
    """Say which valves stop THING, and what to do if they fail.

    THING is an id (a fixture, a valve, equipment), "pipe to ID", or "house" for all of it.
    """
    from handbook.output import told

    with asking():
        answer = read(house).isolate(thing)
    click.echo(told.isolation_json(answer) if as_json else told.isolation_text(answer))


@click.command(
    cls=Examples,
    epilog="handbook flow example_house\n"
    "handbook flow example_house --running laundry-box,kitchen-sink --json",
)
@HOUSE
@click.option("--running", default="", metavar="A,B", help="Fixtures that run at the same time.")
@click.option("--json", "as_json", is_flag=True, help="For machines, in psi and gpm.")
def flow(house: Path, running: str, as_json: bool) -> None:
    """Say what pressure and flow each fixture gets.

    Alone, with the --running ones, and at peak demand; and what each pipe takes from it.
    """
    from handbook.output.flow_json import flow_json
    from handbook.output.told_flow import flow_text

    asked = read(house)
    with asking():
        answer = asked.flow([each.strip() for each in running.split(",") if each.strip()])
    click.echo((flow_json if as_json else flow_text)(asked.house, answer))


@click.command(cls=Examples, epilog="handbook hot example_house\nhandbook hot example_house --json")
@HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines, in feet and gallons.")
def hot(house: Path, as_json: bool) -> None:
    """Say how long each outlet waits for hot water.

    And how much stands in the pipe, and runs to waste in a year under a use that is stated.
    """
    from handbook.output import told_hot_water as told

    asked = read(house)
    answer, units = asked.hot_water(), asked.house.record.house.units
    click.echo(told.hot_json(answer) if as_json else told.hot_text(answer, units))


@click.command(
    cls=Examples,
    epilog="handbook expansion example_house\nhandbook expansion example_house --json",
)
@HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines, in gallons and psi.")
def expansion(house: Path, as_json: bool) -> None:
    """Say where each heater's water swells to, and which tank takes it."""
    from handbook.output import told_hot_water as told

    asked = read(house)
    answers = asked.expansion()
    said = told.expansion_json(answers) if as_json else told.expansion_text(asked.house, answers)
    click.echo(said)


@click.command(
    cls=Examples,
    epilog="handbook through example_house dining --sign ceiling\n"
    "handbook through example_house kitchen --json",
)
@HOUSE
@click.argument("room")
@click.option("--sign", type=click.Choice(("ceiling", "wall", "floor", "fixture")))
@click.option("--json", "as_json", is_flag=True, help="All suspects and all steps, for machines.")
def through(house: Path, room: str, sign: Sign | None, as_json: bool) -> None:
    """Say what to close when water comes into ROOM.

    Names the valves that stop everything it can come from, how to walk to them, and where to look
    then. Without --sign it may come from anywhere.
    """
    from handbook.answers.through import left_running, walks
    from handbook.output import told_through

    asked = read(house)
    with asking():
        answer = asked.through(room, sign)
    ways = walks(asked.house, answer)
    if as_json:
        click.echo(told_through.through_json(answer, ways))
    else:
        running = left_running(asked.house, answer, answer.ladder[0]) if answer.ladder else ()
        units = asked.house.record.house.units
        click.echo(told_through.through_text(answer, ways, units, running))


@click.command(
    cls=Examples, epilog="handbook spill example_house hall-wc\nhandbook spill example_house WH1"
)
@HOUSE
@click.argument("thing")
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def spill(house: Path, thing: str, as_json: bool) -> None:
    """Say what a failed supply puts on the floor by the time each valve is reached."""
    from handbook.output import told_spill

    asked = read(house)
    with asking():
        answer = asked.spill(thing)
    units = asked.house.record.house.units
    click.echo(told_spill.as_json(answer) if as_json else told_spill.spill_text(answer, units))


@click.command(
    cls=Examples,
    epilog="handbook drain-down example_house hall-wc\nhandbook drain-down example_house",
)
@HOUSE
@click.argument("thing", required=False)
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def drain_down(house: Path, thing: str | None, as_json: bool) -> None:
    """Say what to drain before work on THING, or how to drain the whole house."""
    from handbook.output import told_spill

    asked = read(house)
    units = asked.house.record.house.units
    if thing is None:
        order = asked.shut_down()
        click.echo(
            told_spill.as_json(order) if as_json else told_spill.shut_down_text(order, units)
        )
        return
    with asking():
        answer = asked.drain_down(thing)
    click.echo(told_spill.as_json(answer) if as_json else told_spill.drain_text(answer, units))
