"""The command that writes the handbook."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import click

from handbook.cli.shared import HOUSE, Examples, read, stop

PRODUCTS = ("book", "sheet", "tags", "pages")


@click.command(
    cls=Examples,
    epilog="handbook build example_house -o out\n"
    "handbook build example_house          (writes ./example_house-handbook)\n"
    "handbook build . --only tags --only sheet",
)
@HOUSE
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
    loaded = read(house).house
    from handbook.output.build import FILES
    from handbook.output.errors import OutputError
    from handbook.output.whole import write_whole

    target = out or Path(f"{loaded.folder.name}-handbook")
    wanted = only or PRODUCTS
    try:
        with _progress(wanted) as done:
            warnings = write_whole(loaded, target, wanted, done)
    except OutputError as error:
        stop(str(error))
    for warning in warnings:
        click.echo(f"note: {warning}", err=True)
    for name in wanted:
        click.echo(target / FILES[name])


@contextmanager
def _progress(products: Sequence[str]) -> Iterator[Callable[[str], None]]:
    """Give a function to call as each product is finished; a bar on a terminal, else nothing."""
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), disable=not sys.stderr.isatty()) as bar:
        task = bar.add_task(f"writing {', '.join(products)}", total=len(products))
        yield lambda finished: bar.update(task, advance=1)
