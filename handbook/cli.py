"""The `handbook` command: thin, it reads, asks and prints; every answer comes from below.

Exit codes: 0 done (for `check`: nothing found), 1 findings, 2 the record cannot be read or the
question cannot be asked, 128 and a signal's number when it was told to stop.
"""

from __future__ import annotations

import shlex
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

if TYPE_CHECKING:
    from handbook.answers.through import Sign
    from handbook.loading import Asked

UNREADABLE = 2
PRODUCTS = ("book", "sheet", "tags", "pages")

_HOUSE = click.argument("house", type=click.Path(path_type=Path))


class _Examples(click.Command):
    """A command whose help ends with examples, set as written.

    One that is written wrong and asks for JSON is answered in JSON.
    """

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the command's words; say in JSON what is wrong with them, if that is asked for."""
        as_json = "--json" in args or ("--format" in args and "json" in args)
        try:
            return super().parse_args(ctx, args)
        except click.UsageError as error:
            if not as_json:
                raise
            _refuse(error.format_message(), ctx.get_usage(), as_json=True)

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the examples one to a line instead of as a flowing paragraph."""
        if self.epilog:
            with formatter.section("Examples"):
                for each in self.epilog.strip().splitlines():
                    formatter.write(f"{'':{formatter.current_indent}}{each.strip()}\n")


class _Signs(_Examples):
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


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="house-handbook")
@click.pass_context
def main(context: click.Context) -> None:
    """Turn the record of a house's plumbing into a checked, printed, QR-linked handbook.

    HOUSE is a record's folder (with house.yaml in it) or its file.

    Exit codes: 0 done, 1 `check` has findings, 2 the record cannot be read or the question cannot
    be asked; 130 stopped by Ctrl-C, 143 by `kill` (128 and the signal's number).
    """
    from handbook.output.stopping import in_good_order

    context.with_resource(in_good_order())


@main.command(cls=_Examples, epilog="handbook new maple-court-7")
@click.argument("folder")
def new(folder: str) -> None:
    """Write a starting record into FOLDER.

    Its fifteen lines already check and build; `check` then says what to add next. Beside it stands
    record.schema.json, from which an editor knows the keys.
    """
    from handbook.record.schema import SCHEMA_FILE
    from handbook.record.starting import begin

    if not folder.strip():
        _stop("FOLDER is empty", "name the house, like `handbook new maple-court-7`")
    try:
        written = begin(Path(folder))
    except OSError as error:
        _stop(f"cannot write {folder}: {error.strerror}" if error.strerror else str(error))
    click.echo(f"Wrote {written}, and {SCHEMA_FILE} beside it: an editor knows the keys from it.")
    click.echo(f"Next: handbook check {shlex.quote(folder)}")


@main.command(
    cls=_Examples, epilog="handbook check example_house\nhandbook check example_house --json"
)
@_HOUSE
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text")
@click.option("--json", "form", flag_value="json", help="The same as --format json.")
def check(house: Path, form: str) -> None:
    """Say what is missing or not right.

    Looks for what the record lacks, and for what to put right while the wall is open.
    """
    report = _load(house).check()
    from handbook.output import findings

    colour = sys.stdout.isatty()
    click.echo(findings.as_json(report) if form == "json" else findings.as_text(report, colour))
    sys.exit(1 if report.findings else 0)


@main.command(
    cls=_Examples,
    epilog="handbook isolate example_house hall-wc\n"
    'handbook isolate example_house "pipe to W4"\n'
    "handbook isolate example_house house --json",
)
@_HOUSE
@click.argument("thing")
@click.option("--json", "as_json", is_flag=True, help="All steps, for machines.")
def isolate(house: Path, thing: str, as_json: bool) -> None:
    """Say which valves stop THING, and what to do if they fail.

    THING is an id (a fixture, a valve, equipment), "pipe to ID", or "house" for all of it.
    """
    from handbook.output import told

    with _asking():
        answer = _load(house).isolate(thing)
    click.echo(told.isolation_json(answer) if as_json else told.isolation_text(answer))


@main.command(
    cls=_Examples,
    epilog="handbook behind example_house hall-bath\n"
    "handbook behind example_house hall-bath --json",
)
@_HOUSE
@click.argument("room")
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def behind(house: Path, room: str, as_json: bool) -> None:
    """Say what ROOM's walls, floor and ceiling hide, before anybody drills."""
    from handbook.output import told_behind

    asked = _load(house)
    with _asking():
        answer = asked.behind(room)
    said = told_behind.as_json if as_json else told_behind.as_text
    click.echo(said(asked.house, answer))


@main.command(
    cls=_Examples,
    epilog="handbook ties example_house\nhandbook ties example_house C1 --json",
)
@_HOUSE
@click.argument("thing", required=False)
@click.option("--json", "as_json", is_flag=True, help="For machines, in inches.")
def ties(house: Path, thing: str | None, as_json: bool) -> None:
    """Say where THING is, as two taped distances from fixed corners.

    Without THING: everything that is buried or hidden.
    """
    from handbook.output import told_ties

    asked = _load(house)
    with _asking():
        answer = asked.ties(thing)
    units = asked.house.record.house.units
    click.echo(told_ties.ties_json(answer) if as_json else told_ties.ties_text(answer, units))


@main.command(
    cls=_Examples,
    epilog="handbook route example_house hall-bath W5\nhandbook route example_house W5 C1 --json",
)
@_HOUSE
@click.argument("start", metavar="FROM")
@click.argument("goal", metavar="TO")
@click.option("--json", "as_json", is_flag=True, help="For machines, with the line to draw.")
def route(house: Path, start: str, goal: str, as_json: bool) -> None:
    """Say how to walk from FROM to TO.

    FROM and TO are ids of rooms or things. The way is told with its length and about how long it
    takes; where the record has no outlines it is told from room to room.
    """
    from handbook.output import told_route

    asked = _load(house)
    with _asking():
        answer = asked.route(start, goal)
    units = asked.house.record.house.units
    told = told_route.route_json if as_json else told_route.route_text
    click.echo(told(answer, units))


@main.command(
    cls=_Signs,
    epilog="handbook stoppage example_house hall-wc hall-tub --clear hall-lav kitchen-sink\n"
    "handbook stoppage example_house floor-drain --json",
)
@_HOUSE
@click.argument("things", metavar="THING...", nargs=-1, required=True)
@click.option("--clear", metavar="THING...", multiple=True, help="What is known to run clear.")
@click.option("--json", "as_json", is_flag=True, help="All of it, for machines.")
def stoppage(house: Path, things: tuple[str, ...], clear: tuple[str, ...], as_json: bool) -> None:
    """Say which drain is blocked when THINGs back up.

    THING is a fixture that is slow or backs up, or a cleanout in which waste stands (after
    --clear: one found empty). Put --clear last.
    """
    from handbook.output import told_drains

    loaded = _load(house)
    with _asking():
        answer = loaded.stoppage(things, clear)
    told = told_drains.stoppage_json if as_json else told_drains.stoppage_text
    click.echo(told(loaded.house, answer))


@main.command(
    cls=_Examples, epilog="handbook reach example_house C1\nhandbook reach example_house --json"
)
@_HOUSE
@click.argument("cleanout", required=False)
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def reach(house: Path, cleanout: str | None, as_json: bool) -> None:
    """Say what a cable from CLEANOUT reaches, and how far.

    Without CLEANOUT: from each of them, and what none of them reaches.
    """
    from handbook.output import told_drains as told

    loaded = _load(house)
    if cleanout is None:
        click.echo((told.all_reach_json if as_json else told.all_reach_text)(loaded.house))
        return
    with _asking():
        answer = loaded.reach(cleanout)
    click.echo((told.reach_json if as_json else told.reach_text)(loaded.house, answer))


@main.command(
    cls=_Examples,
    epilog="handbook flow example_house\n"
    "handbook flow example_house --running laundry-box,kitchen-sink --json",
)
@_HOUSE
@click.option("--running", default="", metavar="A,B", help="Fixtures that run at the same time.")
@click.option("--json", "as_json", is_flag=True, help="For machines, in psi and gpm.")
def flow(house: Path, running: str, as_json: bool) -> None:
    """Say what pressure and flow each fixture gets.

    Alone, with the --running ones, and at peak demand; and what each pipe takes from it.
    """
    from handbook.output.flow_json import flow_json
    from handbook.output.told_flow import flow_text

    asked = _load(house)
    with _asking():
        answer = asked.flow([each.strip() for each in running.split(",") if each.strip()])
    click.echo((flow_json if as_json else flow_text)(asked.house, answer))


@main.command(
    cls=_Examples,
    epilog="handbook gas example_house --add G9=40000 --json\n"
    "handbook gas example_house --replace WH1=199000",
)
@_HOUSE
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

    asked = _load(house)
    with _asking():
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
            _stop(f"{option} {each}: write it like G9=40000, Btu an hour")
        yield thing.strip(), rate.btu_h


@main.command(
    cls=_Examples, epilog="handbook drains example_house\nhandbook drains example_house --json"
)
@_HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines, in inches and feet.")
def drains(house: Path, as_json: bool) -> None:
    """Say what each drain carries, and how traps are vented.

    Drainage fixture units against what size and fall may carry, by the code that the record names.
    """
    from handbook.output import told_drain_loading as told

    asked = _load(house)
    answer = asked.drain_loading()
    click.echo(told.loading_json(answer) if as_json else told.loading_text(asked.house, answer))


@main.command(cls=_Examples, epilog="handbook hot example_house\nhandbook hot example_house --json")
@_HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines, in feet and gallons.")
def hot(house: Path, as_json: bool) -> None:
    """Say how long each outlet waits for hot water.

    And how much stands in the pipe, and runs to waste in a year under a use that is stated.
    """
    from handbook.output import told_hot_water as told

    asked = _load(house)
    answer, units = asked.hot_water(), asked.house.record.house.units
    click.echo(told.hot_json(answer) if as_json else told.hot_text(answer, units))


@main.command(
    cls=_Examples,
    epilog="handbook expansion example_house\nhandbook expansion example_house --json",
)
@_HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines, in gallons and psi.")
def expansion(house: Path, as_json: bool) -> None:
    """Say where each heater's water swells to, and which tank takes it."""
    from handbook.output import told_hot_water as told

    asked = _load(house)
    answers = asked.expansion()
    said = told.expansion_json(answers) if as_json else told.expansion_text(asked.house, answers)
    click.echo(said)


@main.command(
    cls=_Examples,
    epilog="handbook through example_house dining --sign ceiling\n"
    "handbook through example_house kitchen --json",
)
@_HOUSE
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

    asked = _load(house)
    with _asking():
        answer = asked.through(room, sign)
    ways = walks(asked.house, answer)
    if as_json:
        click.echo(told_through.through_json(answer, ways))
    else:
        running = left_running(asked.house, answer, answer.ladder[0]) if answer.ladder else ()
        units = asked.house.record.house.units
        click.echo(told_through.through_text(answer, ways, units, running))


@main.command(
    cls=_Examples, epilog="handbook spill example_house hall-wc\nhandbook spill example_house WH1"
)
@_HOUSE
@click.argument("thing")
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def spill(house: Path, thing: str, as_json: bool) -> None:
    """Say what a failed supply puts on the floor by the time each valve is reached."""
    from handbook.output import told_spill

    asked = _load(house)
    with _asking():
        answer = asked.spill(thing)
    units = asked.house.record.house.units
    click.echo(told_spill.as_json(answer) if as_json else told_spill.spill_text(answer, units))


@main.command(
    cls=_Examples,
    epilog="handbook drain-down example_house hall-wc\nhandbook drain-down example_house",
)
@_HOUSE
@click.argument("thing", required=False)
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def drain_down(house: Path, thing: str | None, as_json: bool) -> None:
    """Say what to drain before work on THING, or how to drain the whole house."""
    from handbook.output import told_spill

    asked = _load(house)
    units = asked.house.record.house.units
    if thing is None:
        order = asked.shut_down()
        click.echo(
            told_spill.as_json(order) if as_json else told_spill.shut_down_text(order, units)
        )
        return
    with _asking():
        answer = asked.drain_down(thing)
    click.echo(told_spill.as_json(answer) if as_json else told_spill.drain_text(answer, units))


@main.command(cls=_Examples, epilog="handbook whom example_house")
@_HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def whom(house: Path, as_json: bool) -> None:
    """Say whom to call, and what an occupant may do."""
    answer = _load(house).whom()
    from handbook.output import told

    click.echo(told.whom_json(answer) if as_json else told.whom_text(answer))


@main.command(cls=_Examples, epilog="handbook care example_house")
@_HOUSE
@click.option("--json", "as_json", is_flag=True, help="For machines.")
def care(house: Path, as_json: bool) -> None:
    """Say what is due, and how often."""
    answer = _load(house).care()
    from handbook.output import told

    click.echo(told.care_json(answer) if as_json else told.care_text(answer))


@main.command(
    cls=_Examples,
    epilog="handbook build example_house -o out\n"
    "handbook build example_house          (writes ./example_house-handbook)\n"
    "handbook build . --only tags --only sheet",
)
@_HOUSE
@click.option(
    "-o",
    "--out",
    type=click.Path(path_type=Path),
    help="Folder to write. Left out: HOUSE-handbook, in the folder that you are in.",
)
@click.option("--only", type=click.Choice(PRODUCTS), multiple=True, help="Write only these.")
def build(house: Path, out: Path | None, only: tuple[str, ...]) -> None:
    """Write the handbook.

    The book, the emergency sheet, the tags and the phone pages go into one folder.

    The folder appears whole or not at all; one that this command did not write is left alone.
    """
    loaded = _load(house).house
    from handbook.output.build import FILES
    from handbook.output.errors import OutputError
    from handbook.output.whole import write_whole

    target = out or Path(f"{loaded.folder.name}-handbook")
    wanted = only or PRODUCTS
    try:
        with _progress(wanted) as done:
            warnings = write_whole(loaded, target, wanted, done)
    except OutputError as error:
        _stop(str(error))
    for warning in warnings:
        click.echo(f"note: {warning}", err=True)
    for name in wanted:
        click.echo(target / FILES[name])


@main.command()
def schema() -> None:
    """Print the JSON Schema of a record, for editors."""
    from handbook.record.schema import json_schema

    click.echo(json_schema(), nl=False)


@main.command()
def rules() -> None:
    """Print every rule and its source."""
    from handbook.rules import document

    click.echo(document(), nl=False)


def _load(house: Path) -> Asked:
    """Load a record, or say everything that is wrong with it and stop."""
    from handbook.loading import load
    from handbook.output.told_problems import problems_json
    from handbook.record.problems import RecordError

    try:
        return load(house)
    except RecordError as error:
        if _wants_json():
            click.echo(problems_json(error.problems))
            sys.exit(UNREADABLE)
        click.echo(str(error), err=True)
        count = len(error.problems)
        _stop(f"\n{count} problem{'s' if count > 1 else ''}; nothing else was done.")
    except OSError as error:
        _stop(f"{error.filename}: {error.strerror or error}", "`handbook new` starts a record")


@contextmanager
def _asking() -> Iterator[None]:
    """Say why a question cannot be asked, and stop."""
    from handbook.answers.not_asked import NoSuchThingError

    try:
        yield
    except NoSuchThingError as error:
        _stop(str(error), error.hint)


def _wants_json() -> bool:
    """Whether the command that runs was asked for JSON."""
    context = click.get_current_context(silent=True)
    given = context.params if context else {}
    return bool(given.get("as_json")) or given.get("form") == "json"


def _stop(message: str, hint: str = "") -> NoReturn:
    """Say what is wrong, to people or to machines as was asked for, and end with 2."""
    _refuse(message, hint, as_json=_wants_json())


def _refuse(message: str, hint: str, *, as_json: bool) -> NoReturn:
    if as_json:
        from handbook.output.told_problems import refusal_json

        click.echo(refusal_json(message, hint))
    else:
        click.echo(message + (f"\n  hint: {hint}" if hint else ""), err=True)
    sys.exit(UNREADABLE)


@contextmanager
def _progress(products: Sequence[str]) -> Iterator[Callable[[str], None]]:
    """Give a function to call as each product is finished; a bar on a terminal, else nothing."""
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), disable=not sys.stderr.isatty()) as bar:
        task = bar.add_task(f"writing {', '.join(products)}", total=len(products))
        yield lambda finished: bar.update(task, advance=1)
