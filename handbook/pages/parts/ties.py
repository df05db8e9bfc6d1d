"""Ties on paper: the two tapes to each buried or hidden thing, as a table."""

from collections.abc import Iterable

from handbook.answers.finding.corners import Corner
from handbook.answers.finding.taped import HOUSE
from handbook.answers.ties import Tie, Ties, hidden, ties
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.places import BY_EYE
from handbook.measures import Length, say_length
from handbook.pages.content import Block, Bullets, Line, Para, Strong, SubHead, Tag
from handbook.pages.parts.phrases import sentence, table

TITLE = "Ties: find it with two tapes"


def tie_blocks(house: House, item: Item) -> tuple[Block, ...]:
    """Return the ties of one thing for its own page.

    Nothing for a thing in plain view, or without a point on the plan: a page of holes helps nobody.
    """
    if not _wanted(item):
        return ()
    return _blocks(house, ties(house, item.id))


def tie_table(house: House, items: Iterable[Item]) -> tuple[Block, ...]:
    """Return one table for several things, in their order."""
    answers = [ties(house, item.id) for item in items if _wanted(item)]
    together = Ties(
        tuple(tie for answer in answers for tie in answer.ties),
        _once(said for answer in answers for said in answer.corners),
        _once(said for answer in answers for said in answer.assumed),
        _once(said for answer in answers for said in answer.missing),
    )
    return _blocks(house, together)


def _wanted(item: Item) -> bool:
    return hidden(item) and item.place is not None and item.place.at is not None


def _once(said: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(said))


def _blocks(house: House, answer: Ties) -> tuple[Block, ...]:
    """Return a table for each set of corners, the house's own first, and what to know about it."""
    notes = [sentence(note) for note in (*answer.corners, *answer.assumed)]
    notes += [sentence(f"not known: {hole}") for hole in answer.missing]
    if not notes:
        return ()
    lines: tuple[Line, ...] = tuple((note,) for note in notes)
    how = (
        "Hold the end of one tape at each corner named, both tapes level. Where the two lengths "
        "meet, there it is. A place that was only told is given about."
    )
    sets = sorted(_once(tie.of for tie in answer.ties), key=lambda of: of != HOUSE)
    return (
        SubHead(TITLE),
        *((Para((how,)),) if sets else ()),
        Bullets(lines),
        *(block for of in sets for block in _table(house, of, answer)),
    )


def _table(house: House, of: str, answer: Ties) -> tuple[Block, ...]:
    inch = say_length(Length(1.0), house.record.house.units)
    head = (
        "Tag",
        "First tape, from",
        "Second tape, from",
        "Seen from the line between, it lies",
        f"{inch} of slip moves it",
    )
    rows = [_row(house, tie) for tie in answer.ties if tie.of == of]
    return table(f"From the corners of {of}", head, rows, (1, 3, 3, 2, 1.2), tagged=True)


def _row(house: House, tie: Tie) -> tuple[Line, ...]:
    units = house.record.house.units
    return (
        (Tag(tie.thing),),
        *(
            _tape(words, c, tie.of)
            for words, c in zip(tie.tapes(units), (tie.a, tie.b), strict=True)
        ),
        (tie.side,),
        (say_length(Length(tie.slip_in), units, BY_EYE / 2),),
    )


def _tape(distance: str, corner: Corner, of: str) -> Line:
    """Return `10 ft 5 1/2 in, front left`; the caption says that it is a corner, and whose."""
    name = corner.name.removesuffix(f" corner of {of}").replace(f" of {of}", "")
    return (Strong(distance), f", {name}")
