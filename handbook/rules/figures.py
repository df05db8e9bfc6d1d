"""Rule for figures that a house may have, but hardly any does: most of them are slips of the pen.

What no house can have is refused when the record is read; both bounds of a figure stand in
`tables/figure_bounds.yaml`, and which figure has which in the grammar.
"""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.record.figures import figures
from handbook.rules.rule import Broken, Clear, Outcome, rule


@rule(
    "RC-12",
    "figure-out-of-the-ordinary",
    "gap",
    why="A slip of the pen is reckoned with like any other figure, and nobody doubts it.",
    remedy="Look again. If it is so, let it stand.",
    stages=("rough-in", "trim-out", "handover"),
    table="figure_bounds",
)
def figure_out_of_the_ordinary(house: House) -> Iterator[Outcome]:
    """Each figure is one that houses commonly have."""
    for figure in figures(house.record):
        thing = figure.owner if figure.owner in house.items else None
        if figure.bounds.are_usual(figure.value):
            yield Clear(thing)
        else:
            asked = f"Look again: {figure.meant} If it is so, let it stand."
            remedy = asked if figure.meant else ""
            said = f"{figure.named} is {figure.text}, which hardly any house has"
            yield Broken(thing, said[:1].upper() + said[1:], figure.mark, remedy)


RULES = (figure_out_of_the_ordinary,)
