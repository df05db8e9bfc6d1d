"""Rule for figures that a house may have, but hardly any does: most of them are slips of the pen.

What no house can have is refused when the record is read; both bounds of a figure stand in
`tables/figure_bounds.yaml`, and which figure has which in the grammar. Who knows that a figure is
so repeats it in the note of its thing and says why; a level or a house has no note.
"""

import re
from collections.abc import Iterator

from handbook.house.house import House
from handbook.record.figures import Figure, figures
from handbook.record.grammar.common import Stop, Thing
from handbook.rules.rule import Broken, Clear, Outcome, rule

ACCEPT = "If it is so, say why in its `note`, with the figure: `note: '{text}: ...'`."
LET_BE = "If it is so, let it stand."


@rule(
    "RC-12",
    "figure-out-of-the-ordinary",
    "gap",
    why="A slip of the pen is reckoned with like any other figure, and nobody doubts it.",
    remedy="Look again. If it is so, say why in the `note` of the thing, with the figure.",
    stages=("rough-in", "trim-out", "handover"),
    table="figure_bounds",
)
def figure_out_of_the_ordinary(house: House) -> Iterator[Outcome]:
    """Each figure is one that houses commonly have."""
    for figure in figures(house.record):
        thing = figure.owner if figure.owner in house.items else None
        if figure.bounds.are_usual(figure.value) or _is_accepted(house, figure):
            yield Clear(thing)
        else:
            asked = f"Look again{f': {figure.meant}' if figure.meant else '.'}"
            accept = ACCEPT.format(text=figure.text) if _can_say_why(house, figure) else LET_BE
            said = f"{figure.named} is {figure.text}, which hardly any house has"
            yield Broken(thing, said[:1].upper() + said[1:], figure.mark, f"{asked} {accept}")


def _can_say_why(house: House, figure: Figure) -> bool:
    return figure.owner in house.items and isinstance(house.items[figure.owner].entry, Thing | Stop)


def _is_accepted(house: House, figure: Figure) -> bool:
    """Whether the note of the thing repeats the figure: then somebody meant it, and says why."""
    item = house.items.get(figure.owner or "")
    note = getattr(item.entry, "note", None) if item else None
    words = " ".join((note or "").split())
    return re.search(rf"(?<![\w/.-]){re.escape(figure.text)}(?!\w)", words) is not None


RULES = (figure_out_of_the_ordinary,)
