"""The cleanouts: a table of all, then one by one; and what else stands in the drain line."""

from handbook.answers.ties import hidden, ties
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.calls import call
from handbook.pages.content import (
    Block,
    Facts,
    Go,
    Line,
    Note,
    Page,
    Para,
    Part,
    SubHead,
    Tag,
)
from handbook.pages.maps import map_page
from handbook.pages.parts.drain_equipment import (
    carries,
    equipment_pages,
    laid_out,
    reach,
    stretch_name,
)
from handbook.pages.parts.order import walking
from handbook.pages.parts.own import own_blocks
from handbook.pages.parts.phrases import (
    NOT_RECORDED,
    Rows,
    established,
    said,
    sentence,
    table,
    told,
    where,
)
from handbook.pages.parts.reach_table import downstream, reach_blocks
from handbook.pages.parts.say import Say
from handbook.pages.parts.ties import mark_of, marked, tie_table
from handbook.pages.plan.layers import CLEANOUTS
from handbook.pages.words import sentences
from handbook.record.grammar.common import each
from handbook.record.grammar.drains import Cleanout, Drains, Stretch
from handbook.tables import table as published

TO_ALL = Go("cleanout_list", "all cleanouts")
_AT_THE_END = ("building drain", "building sewer")


def cleanout_part(house: House) -> tuple[Part, ...]:
    """Return the part on cleanouts; none where none is recorded."""
    cleanouts = all_cleanouts(house)
    if not cleanouts:
        return ()
    items = walking(house, (house.items[cleanout.id] for cleanout in cleanouts))
    where_they_are = map_page(house, CLEANOUTS, "cleanout_maps", "Where the cleanouts are")
    stand = equipment_pages(house)
    pages = (_list(house, items), *where_they_are, *_pages(house, items), *stand)
    return (Part("cleanout_part", "Cleanouts", pages),)


def all_cleanouts(house: House) -> tuple[Cleanout, ...]:
    """Return the cleanouts as the record has them."""
    return each(house.record.drains.cleanouts) if house.record.drains else ()


def first_to_try(house: House) -> Cleanout | None:
    """Return the cleanout at which a stoppage of the whole house is reached first.

    It opens into the building drain or sewer, a two-way one before others.
    """
    kinds = {stretch.id: stretch.kind for stretch in _stretches(house)}
    low = [c for c in all_cleanouts(house) if kinds.get(c.on or "") in _AT_THE_END]
    low += [c for c in all_cleanouts(house) if c.kind == "two-way" and c not in low]
    return min(low, key=lambda cleanout: cleanout.kind != "two-way", default=None)


def caution(house: House) -> Note:
    """Return what every page about a cleanout opens with; in the book, their list."""
    below = published("drain_diagnosis").values["opening"]["below"]
    return Note(
        "warning",
        (
            (
                "Do not open a cleanout while any drain is backed up. Sewage infects, and it may "
                "stand above the cover.",
            ),
            (f"For the plumber, where waste can stand above one: {below}.",),
            ("Run no water and flush nothing. ", *call(contact(house, "licensed plumber")), "."),
        ),
    )


def _list(house: House, items: tuple[Item, ...]) -> Page:
    rows = [_row(house, item, item.entry) for item in items if isinstance(item.entry, Cleanout)]
    head = ("Tag", "Where", "Kind", "Opens into", "Cover, access, free space")
    listed_all = table("Cleanouts", head, rows, (1, 3, 1.8, 2.2, 2.8), tagged=True)
    first = first_to_try(house)
    said_first: tuple[Block, ...] = (
        (
            Facts(
                (
                    (
                        "First to try",
                        (
                            Tag(first.id, house.items[first.id].name),
                            ", when the whole house backs up (for the plumber)",
                        ),
                    ),
                )
            ),
        )
        if first
        else ()
    )
    way = tuple(Para(line) for line in downstream(house))
    blocks = (caution(house), *said_first, *listed_all, *way, *marked(tie_table(house, items)))
    return Page("cleanout_list", "All cleanouts", blocks)


def _row(house: House, item: Item, cleanout: Cleanout) -> tuple[Line, ...]:
    space = f"free space {clear(house, cleanout)}"
    bare = cleanout.cover is None and cleanout.access is None and cleanout.clear is None
    return (
        (Tag(item.id),),
        (where(house, item.id),),
        (kind_words(cleanout),),
        (opens_into(house, cleanout),),
        (NOT_RECORDED if bare else f"{said(cleanout.cover)}; {said(cleanout.access)}; {space}",),
    )


def _pages(house: House, items: tuple[Item, ...]) -> tuple[Page, ...]:
    found = [(item, item.entry) for item in items if isinstance(item.entry, Cleanout)]
    return tuple(cleanout_page(house, item, entry, brief=True) for item, entry in found)


def cleanout_page(house: House, item: Item, cleanout: Cleanout, *, brief: bool = False) -> Page:
    """Return the page of one cleanout; `brief` for the book, whose part says the caution once."""
    known = facts(house, item, cleanout)
    blocks = (
        *(() if brief else (caution(house), SubHead("For the plumber"))),
        *(laid_out(known) if brief else (Facts(known),)),
        *reach_blocks(house, cleanout.id, brief=brief),
        *(_tapes(house, item) if brief else ()),
        *own_blocks(house, item, brief=brief),
    )
    return Page(item.id, item.name, blocks, reach(house, item), tag=item.id)


def _tapes(house: House, item: Item) -> tuple[Block, ...]:
    """Return where in the book the tapes are that find a buried or hidden one, and all others."""
    taped = tapes_of(house, item)
    if not taped:
        return ()
    return (Para(("Find it with two tapes: ", taped, "; ", TO_ALL, ".")),)


def tapes_of(house: House, item: Item) -> Go | None:
    """Return the link to a cleanout's row in the tables of ties; None where it has none."""
    if not hidden(item) or not ties(house, item.id).ties:
        return None
    return Go("cleanout_list", f"{item.id} from corners", mark_of(item.id))


def facts(house: House, item: Item, cleanout: Cleanout) -> Rows:
    """Return what is recorded about a cleanout."""
    return (
        ("Where", (told(where(house, item.id)),)),
        ("Kind", (sentences(kind_words(cleanout)),)),
        ("Opens into", (sentences(opens_into(house, cleanout)),)),
        ("Drains through it", (sentence(carries(house, cleanout.on)),)),
        ("Cover", (told(said(cleanout.cover)),)),
        ("To get at it", (told(said(cleanout.access)),)),
        ("Free space", (sentences(clear(house, cleanout)),)),
        ("Checked", (told(established(cleanout.seen)),)),
    )


def kind_words(cleanout: Cleanout) -> str:
    """Return its kind, size and the way it faces: `wall, 2 in, faces downstream`."""
    if cleanout.kind is None and cleanout.size is None and cleanout.facing is None:
        return NOT_RECORDED
    faces = f"faces {cleanout.facing}" if cleanout.facing else f"which way it faces: {NOT_RECORDED}"
    kind = cleanout.kind or f"kind {NOT_RECORDED}"
    return f"{kind}, {cleanout.size or f'size {NOT_RECORDED}'}, {faces}"


def clear(house: House, cleanout: Cleanout) -> str:
    """Return the free space in front of it."""
    return Say.of(house).length(cleanout.clear)


def opens_into(house: House, cleanout: Cleanout) -> str:
    """Return the drain it opens into, and how far down that drain it stands."""
    name = stretch_name(house, cleanout.on)
    if cleanout.along is None:
        return name
    if not cleanout.along.inches:
        return f"{name}, at its upper end"
    return f"{name}, {Say.of(house).length(cleanout.along)} down from its upper end"


def _stretches(house: House) -> tuple[Stretch, ...]:
    return each((house.record.drains or Drains()).stretches)
