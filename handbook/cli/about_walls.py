"""Commands about what is in the walls and floors: what is behind, its ties, a line for a pipe."""

from __future__ import annotations

from pathlib import Path

import click

from handbook.cli.shared import HOUSE, Examples, asking, read


@click.command(
    cls=Examples,
    epilog="handbook behind example_house hall-bath\n"
    "handbook behind example_house hall-bath --json",
)
@HOUSE
@click.argument("room")
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def behind(house: Path, room: str, as_json: bool) -> None:
    """Say what ROOM's walls, floor and ceiling hide, before anybody drills."""
    from handbook.output import told_behind

    asked = read(house)
    with asking():
        answer = asked.behind(room)
    said = told_behind.as_json if as_json else told_behind.as_text
    click.echo(said(asked.house, answer))


@click.command(
    cls=Examples,
    epilog="handbook ties example_house\nhandbook ties example_house C1 --json",
)
@HOUSE
@click.argument("thing", required=False)
@click.option("--json", "as_json", is_flag=True, help="For machines, in inches.")
def ties(house: Path, thing: str | None, as_json: bool) -> None:
    """Say where THING is, as two taped distances from fixed corners.

    Without THING: everything that is buried or hidden.
    """
    from handbook.output import told_ties

    asked = read(house)
    with asking():
        answer = asked.ties(thing)
    units = asked.house.record.house.units
    click.echo(told_ties.ties_json(answer) if as_json else told_ties.ties_text(answer, units))


@click.command(
    cls=Examples,
    epilog="handbook route example_house hall-bath W5\nhandbook route example_house W5 C1 --json",
)
@HOUSE
@click.argument("start", metavar="FROM")
@click.argument("goal", metavar="TO")
@click.option("--json", "as_json", is_flag=True, help="For machines, with the line to draw.")
def route(house: Path, start: str, goal: str, as_json: bool) -> None:
    """Say how to walk from FROM to TO.

    FROM and TO are ids of rooms or things. The way is told with its length and about how long it
    takes; where the record has no outlines it is told from room to room.
    """
    from handbook.output import told_route

    asked = read(house)
    with asking():
        answer = asked.route(start, goal)
    units = asked.house.record.house.units
    told = told_route.route_json if as_json else told_route.route_text
    click.echo(told(answer, units))
