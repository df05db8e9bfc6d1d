"""A rule for the main line: that a cable gets into it from some cleanout."""

from collections.abc import Iterator

from handbook.answers.draining.cable_walk import MAIN_LINE
from handbook.answers.reach import reaches
from handbook.house.house import House
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Stretch
from handbook.rules import facts
from handbook.rules.drains import size_of
from handbook.rules.looks import drains
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Fact, Outcome, rule, told


@rule(
    "CO-08",
    "main-line-no-cleanout-reaches",
    "advice",
    why="A stoppage there is worked on through a pulled toilet, or with the floor broken open.",
    remedy="Have a cleanout set at its upper end, or record the one that serves it.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def main_line_no_cleanout_reaches(house: House) -> Iterator[Outcome]:
    """A cable from some cleanout reaches each building drain and building sewer."""
    section = drains(house)
    yield from told(section.stretches, facts.STRETCHES)
    yield from told(section.cleanouts, facts.CLEANOUTS)
    if section.stretches is None or section.cleanouts is None:
        return
    reached = {step.stretch for reach in reaches(house) for step in reach.reached}
    for stretch in each(section.stretches):
        if stretch.id in reached:
            yield Clear(stretch.id)
        elif stretch.kind is None:
            yield CannotTell(facts.STRETCH_KIND, stretch.id)
        elif stretch.kind in MAIN_LINE:
            yield _missed(house, stretch)


def _missed(house: House, stretch: Stretch) -> Outcome:
    hole = next(_holes(house), None)
    if hole:
        return CannotTell(hole, stretch.id)
    said = f"No cable from a cleanout surely reaches {house.called(stretch.id)}"
    return Broken(stretch.id, said, stretch.mark_of("id"))


def _holes(house: House) -> Iterator[Fact]:
    """Yield what could still show a way for a cable: where cleanouts open, how drains join."""
    for cleanout in each(drains(house).cleanouts):
        if cleanout.on is None:
            yield facts.CLEANOUT_ON
        elif cleanout.facing is None and cleanout.kind != "two-way":
            yield facts.CLEANOUT_FACING
    for stretch in each(drains(house).stretches):
        if stretch.to is None:
            yield facts.STRETCH_TO
        elif stretch.kind is None:
            yield facts.STRETCH_KIND
        elif size_of(stretch) is None:
            yield facts.STRETCH_SIZE


RULES = (main_line_no_cleanout_reaches,)
