"""Ties on paper: the two tapes to each buried or hidden thing, as a table."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from handbook.answers.finding.corners import Corner
from handbook.answers.finding.taped import HOUSE
from handbook.answers.ties import Tie, Ties, hidden, ties, ties_of
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.places import BY_EYE
from handbook.measures import Length, Units, say_length
from handbook.pages.content import Block, Bullets, Line, Para, Strong, SubHead, Table, Tag, plain
from handbook.pages.parts.phrases import sentence, table
from handbook.pages.way_maps import tie_map

TITLE = "Ties: find it with two tapes"
UNSAID = "recorded, not said to be seen"
HOW = (
    "Hold the end of one tape at the first corner named and of another at the second, both level. "
    "Pull both to their lengths: where they meet, there it is. They meet on either side of the "
    "line between the two corners; the table says on which side it lies."
)


def tie_blocks(house: House, item: Item) -> tuple[Block, ...]:
    """Return the ties of one thing for its own page.

    Nothing for a thing in plain view, or without a point on the plan: a page of holes helps nobody.
    """
    if not _wanted(item):
        return ()
    return _blocks(house, ties(house, item.id))


def tie_table(house: House, items: Iterable[Item]) -> tuple[Block, ...]:
    """Return one table for several things, in their order."""
    together = ties_of(house, [item for item in items if _wanted(item)])
    return _blocks(house, together, _sketch(house, together))


def marked(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    """Return ties with a mark on each row, for a page whose ties others lead to."""
    return tuple(_with_marks(block) if isinstance(block, Table) else block for block in blocks)


def _with_marks(shown: Table) -> Table:
    return replace(shown, marks=tuple(mark_of(plain(row[0])) for row in shown.rows))


def mark_of(thing: str) -> str:
    """Return the mark of a thing's ties."""
    return f"tapes_{thing}"


def _sketch(house: House, answer: Ties) -> tuple[Block, ...]:
    """Return how two tapes meet, for the first thing of a table that both reach from corners and
    that has a plan to draw them on."""
    plain = (tie for tie in answer.ties if not (tie.told or tie.unsaid or _marked(tie)))
    drawn = (tie_map(house, tie, "small") for tie in plain)
    return next((shown for shown in drawn if shown), ())


def _marked(tie: Tie) -> bool:
    """Whether one of a tie's tapes starts from anything but a plain corner."""
    return any(" from " in corner.name for corner in (tie.a, tie.b))


def _wanted(item: Item) -> bool:
    return hidden(item) and item.place is not None and item.place.at is not None


def _once(said: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(said))


def _blocks(house: House, answer: Ties, sketch: tuple[Block, ...] = ()) -> tuple[Block, ...]:
    """Return the tapes from the house's own corners, those from the corners of rooms, and what to
    know about them."""
    meant = [sentence(note) for note in answer.corners]
    notes = [sentence(note) for note in answer.assumed]
    notes += [sentence(f"not known: {hole}") for hole in answer.missing]
    if not (meant or notes):
        return ()
    lines: tuple[Line, ...] = tuple((note,) for note in notes)
    how = [*meant, HOW] if answer.ties else meant
    how += [_said_of_told(house)] if any(tie.told for tie in answer.ties) else []
    how += [_said_of_unsaid(house)] if any(tie.unsaid for tie in answer.ties) else []
    return (
        SubHead(TITLE),
        *((Para((" ".join(how),)),) if how else ()),
        *sketch,
        *((Bullets(lines),) if lines else ()),
        *_table(house, [tie for tie in answer.ties if tie.of == HOUSE]),
        *_table(house, [tie for tie in answer.ties if tie.of != HOUSE]),
    )


def _said_of_told(house: House) -> str:
    return (
        "Nobody saw the places that are marked told: somebody told them, or they were read off a "
        f"drawing, so their tapes are given only to the {_step(house)}."
    )


def _said_of_unsaid(house: House) -> str:
    return (
        f"The places marked {UNSAID} have tapes only to the {_step(house)} too: who saw them, and "
        "when, is not in the record."
    )


def _step(house: House) -> str:
    return "half metre" if house.record.house.units == "metric" else "foot"


def _table(house: House, found: Sequence[Tie]) -> tuple[Block, ...]:
    """Return a table of ties; one with more than one set of corners names them in a column."""
    sets = _once(tie.of for tie in found)
    inch = say_length(Length(1.0), house.record.house.units)
    head = (
        "Tag",
        "First tape, from",
        "Second tape, from",
        "It lies, from the line between them",
        f"{inch} of slip moves it",
    )
    if len(sets) < 2:
        rows = [_row(house, tie) for tie in found]
        named = "".join(sets)
        return table(f"From the corners of {named}", head, rows, (1, 2.6, 4.4, 2, 1.4), tagged=True)
    placed = [(tie.of, _row(house, tie)) for tie in sorted(found, key=lambda t: sets.index(t.of))]
    rows = [(tag, (of,), *more) for of, (tag, *more) in placed]
    caption, widths = "From the corners of a room", (1, 2.1, 2.9, 2.6, 2.1, 1.4)
    return table(caption, (head[0], "Corners of", *head[1:]), rows, widths, tagged=True)


def _row(house: House, tie: Tie) -> tuple[Line, ...]:
    units = house.record.house.units
    return (
        (Tag(tie.thing),),
        *(
            _tape(words, c, tie.of)
            for words, c in zip(tie.tapes(units), (tie.a, tie.b), strict=True)
        ),
        (tie.side,),
        (_moves(tie, units),),
    )


def _moves(tie: Tie, units: Units) -> str:
    """Return how far a slip moves the point; of a place that is only about so, why."""
    if tie.told:
        return "told"
    return UNSAID if tie.unsaid else say_length(Length(tie.slip_in), units, BY_EYE / 2)


def _tape(distance: str, corner: Corner, of: str) -> Line:
    """Return `10 ft 5 1/2 in, front left`; the caption says that it is a corner, and whose."""
    return (Strong(distance), f", {corner.brief(of)}")
