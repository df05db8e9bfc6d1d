"""What the commands share: how one reads a record, and how it says that it cannot go on."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

if TYPE_CHECKING:
    from handbook.loading import Asked

UNREADABLE = 2

HOUSE = click.argument("house", type=click.Path(path_type=Path))


class Examples(click.Command):
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
            refuse(error.format_message(), ctx.get_usage(), as_json=True)

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the examples one to a line instead of as a flowing paragraph."""
        if self.epilog:
            with formatter.section("Examples"):
                for each in self.epilog.strip().splitlines():
                    formatter.write(f"{'':{formatter.current_indent}}{each.strip()}\n")


def read(house: Path) -> Asked:
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
        stop(f"\n{count} problem{'s' if count > 1 else ''}; nothing else was done.")
    except OSError as error:
        stop(f"{error.filename}: {error.strerror or error}", "`handbook new` starts a record")


@contextmanager
def asking() -> Iterator[None]:
    """Say why a question cannot be asked, and stop."""
    from handbook.answers.not_asked import NoSuchThingError

    try:
        yield
    except NoSuchThingError as error:
        stop(str(error), error.hint)


def _wants_json() -> bool:
    """Whether the command that runs was asked for JSON."""
    context = click.get_current_context(silent=True)
    given = context.params if context else {}
    return bool(given.get("as_json")) or given.get("form") == "json"


def stop(message: str, hint: str = "") -> NoReturn:
    """Say what is wrong, to people or to machines as was asked for, and end with 2."""
    refuse(message, hint, as_json=_wants_json())


def refuse(message: str, hint: str, *, as_json: bool) -> NoReturn:
    """Say what is wrong, and end with 2."""
    if as_json:
        from handbook.output.told_problems import refusal_json

        click.echo(refusal_json(message, hint))
    else:
        click.echo(message + (f"\n  hint: {hint}" if hint else ""), err=True)
    sys.exit(UNREADABLE)
