"""Steps of the emergency sheet: to turn a valve, to close the next one, to call somebody."""

from handbook.answers.isolating.rungs import Rung, Turn
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.pages.calls import call
from handbook.pages.content import Line, Step, Tag
from handbook.pages.how_turned import in_a_row
from handbook.pages.valves import whole_house
from handbook.pages.words import bare, sentences
from handbook.record.grammar.people import Role


def turns(house: House, rung: Rung, condition: Line | None) -> list[Step]:
    """A step for each valve to be turned: its place, then how, and the tool that it needs."""
    return [
        Step(
            (
                "Close " if turn.id in rung.close else "Open ",
                Tag(turn.id, turn.name),
                f". {bare(turn.where or 'Its place is not recorded')}.",
            ),
            (*_how(house, turn), f" Needs a {_tool(turn.tool)}." if turn.tool else ""),
            condition,
        )
        for turn in rung.turns
    ]


def _how(house: House, turn: Turn) -> Line:
    """How it turns; one that turns as the main does, which stands first, needs no more words."""
    for main in whole_house(house)[0][:1]:
        if turn.do == main.turns[0].do and turn.id not in main.close:
            return ("Turns like ", Tag(main.close[0]), ".")
    return (sentences(turn.do),)


def _tool(tool: str) -> str:
    """The tool alone, without what is said of its use."""
    return bare(tool).partition(";")[0].removeprefix("a ")


def close_next(rung: Rung) -> Line:
    """Close the next one; where it is stands above, or on its tag."""
    return ("Close ", *in_a_row(rung.close))


def call_step(house: House, role: Role, more: str = "", condition: Line | None = None) -> Step:
    """Whom to call; a number that is not recorded is said to be missing."""
    who = contact(house, role)
    note = " ".join(text for text in (who.missing, more) if text)
    return Step((*call(who), "."), (note,) if note else None, condition)
