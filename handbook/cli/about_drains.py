"""Commands about drains: where one is stopped up, how far a cable reaches, what they carry."""

from __future__ import annotations

from pathlib import Path

import click

from handbook.cli.shared import HOUSE, Examples, asking, read


class _Signs(Examples):
    """A command whose `--clear` takes every word up to the next option."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Write `--clear A B` as `--clear A --clear B`, which is what is parsed."""
        spread: list[str] = []
        clear = False
        for word in args:
            if clear and not word.startswith("-"):
                spread += [] if spread[-1] == "--clear" else ["--clear"]
            clear = word == "--clear" or (clear and not word.startswith("-"))
            spread.append(word)
        return super().parse_args(ctx, spread)


@click.command(
    cls=_Signs,
    epilog="handbook stoppage example_house hall-wc hall-tub --clear hall-lav kitchen-sink\n"
    "handbook stoppage example_house floor-drain --json",
)
@HOUSE
@click.argument("things", metavar="THING...", nargs=-1, required=True)
@click.option("--clear", metavar="THING...", multiple=True, help="What is known to run clear.")
@click.option("--json", "as_json", is_flag=True, help="All of it, for machines.")
def stoppage(house: Path, things: tuple[str, ...], clear: tuple[str, ...], as_json: bool) -> None:
    """Say which drain is blocked when THINGs back up.

    THING is a fixture that is slow or backs up, or a cleanout in which waste stands (after
    --clear: one found empty). Put --clear last.
    """
    from handbook.output import told_drains

    loaded = read(house)
    with asking():
        answer = loaded.stoppage(things, clear)
    told = told_drains.stoppage_json if as_json else told_drains.stoppage_text
    click.echo(told(loaded.house, answer))


@click.command(
    cls=Examples, epilog="handbook reach example_house C1\nhandbook reach example_house --json"
)
@HOUSE
@click.argument("cleanout", required=False)
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def reach(house: Path, cleanout: str | None, as_json: bool) -> None:
    """Say what a cable from CLEANOUT reaches, and how far.

    Without CLEANOUT: from each of them, and what none of them reaches.
    """
    from handbook.output import told_reach as told

    loaded = read(house)
    if cleanout is None:
        click.echo((told.all_reach_json if as_json else told.all_reach_text)(loaded.house))
        return
    with asking():
        answer = loaded.reach(cleanout)
    click.echo((told.reach_json if as_json else told.reach_text)(loaded.house, answer))


@click.command(
    cls=Examples, epilog="handbook drains example_house\nhandbook drains example_house --json"
)
@HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines, in inches and feet.")
def drains(house: Path, as_json: bool) -> None:
    """Say what each drain carries, and how traps are vented.

    Drainage fixture units against what size and fall may carry, by the code that the record names.
    """
    from handbook.output import told_drain_loading as told

    asked = read(house)
    answer = asked.drain_loading()
    click.echo(told.loading_json(answer) if as_json else told.loading_text(asked.house, answer))
