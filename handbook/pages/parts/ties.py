"""Ties on paper: the two tapes to each buried or hidden thing, as a table."""

from collections.abc import Iterable

from handbook.answers.ties import Tie, Ties, hidden, ties
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.places import BY_EYE
from handbook.measures import Length, say_length
from handbook.pages.content import Block, Bullets, Line, Para, SubHead, Tag
from handbook.pages.parts.phrases import sentence, table

TITLE = "Ties: find it with two tapes"
SLIPS = Length(1.0)


def tie_blocks(house: House, item: Item) -> tuple[Block, ...]:
    """Return the ties of one thing for its own page; nothing for a thing in plain view."""
    if not hidden(item):
        return ()
    return _blocks(house, ties(house, item.id), f"To find {item.id}")


def tie_table(house: House, items: Iterable[Item]) -> tuple[Block, ...]:
    """Return one table for several things, in their order."""
    wanted = [item.id for item in items if hidden(item)]
    answers = [ties(house, thing) for thing in wanted]
    together = Ties(
        tuple(tie for answer in answers for tie in answer.ties),
        _once(said for answer in answers for said in answer.corners),
        _once(said for answer in answers for said in answer.assumed),
        _once(said for answer in answers for said in answer.missing),
    )
    return _blocks(house, together, "Two tapes to each")


def _once(said: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(said))


def _blocks(house: House, answer: Ties, caption: str) -> tuple[Block, ...]:
    rows = [_row(house, tie) for tie in answer.ties]
    head = ("Tag", "First tape", "Second tape", "Seen from the line between", "1 inch out moves it")
    if house.record.house.units == "metric":
        head = (*head[:-1], "25 mm out moves it")
    notes = [*answer.corners, *answer.assumed]
    lines = tuple((sentence(note),) for note in notes)
    missing = tuple((sentence(f"not known: {hole}"),) for hole in answer.missing)
    if not rows and not missing:
        return ()
    how = "Hold both tapes level, at the corners named; the thing is where they meet."
    return (
        SubHead(TITLE),
        *((Para((how,)),) if rows else ()),
        *table(caption, head, rows, (1, 3.4, 3.4, 2.2, 1.4), tagged=True),
        *((Bullets((*lines, *missing)),) if lines or missing else ()),
    )


def _row(house: House, tie: Tie) -> tuple[Line, ...]:
    units = house.record.house.units
    moved = say_length(Length(tie.slip_in), units, BY_EYE / 2)
    return (
        (Tag(tie.thing),),
        (f"{say_length(tie.distance_a, units, BY_EYE)} from the {tie.a.name}",),
        (f"{say_length(tie.distance_b, units, BY_EYE)} from the {tie.b.name}",),
        (f"it lies {tie.side}",),
        (moved,),
    )
