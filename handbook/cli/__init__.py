"""The `handbook` command: thin, it reads, asks and prints; every answer comes from below.

Exit codes: 0 done (for `check`: nothing found), 1 findings, 2 the record cannot be read or the
question cannot be asked, 128 and a signal's number when it was told to stop.
"""

import click

from handbook.cli.about_drains import drains, reach, stoppage
from handbook.cli.about_gas import gas
from handbook.cli.about_people import care, whom
from handbook.cli.about_walls import behind, route, ties
from handbook.cli.about_water import drain_down, expansion, flow, hot, isolate, spill, through
from handbook.cli.building import build
from handbook.cli.records import check, new, rules, schema


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


_QUESTIONS = (
    *(isolate, flow, hot, expansion, through, spill, drain_down),
    *(stoppage, reach, drains),
    *(behind, ties, route),
    *(gas, whom, care),
)

for _command in (new, check, schema, rules, *_QUESTIONS, build):
    main.add_command(_command)
