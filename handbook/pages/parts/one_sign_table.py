"""For the plumber: one thing backs up, and little else is known; where can it be blocked?"""

from handbook.answers.draining.one_sign import WayDown, noticed_first
from handbook.house.drains import ARM
from handbook.house.house import House
from handbook.pages.content import Block, Line, Para, Tag
from handbook.pages.drain_groups import NOT_RECORDED, group_words
from handbook.pages.parts.phrases import joined, table
from handbook.pages.which_drains import link

CAPTION = "One backs up, and not all others are known"


def one_sign_blocks(house: House) -> tuple[Block, ...]:
    """Return the ways down and how to read them; none where no two drains run together."""
    ways = noticed_first(house)
    if not ways:
        return ()
    rows = [((house.items[way.fixture].name,), _way(house, way)) for way in ways]
    head = ("Backs up", "Can be blocked, from its trap down [what comes in there]")
    return (Para(_how_to_read(house)), *table(CAPTION, head, rows, (2.4, 9.8)))


def _how_to_read(house: House) -> Line:
    valves = [(Tag(it.id),) for on in house.drains.equipment.values() for it in on]
    behind: Line = ()
    if valves:
        one_of = joined(valves, " or ")
        behind = ("What drains through ", *one_of, " is clear only if water was seen to leave it. ")
    return (
        "With less known than above: read on up to the first brackets in which something runs "
        "clear. If something else backs up too, begin at the brackets it stands in; where it "
        "stands in none, no one stoppage explains it. ",
        *behind,
        "Each stretch has its cable above. Any signs at once: the form, which only a phone shows, "
        "on the page ",
        *link(house),
        " (on paper it has its table alone).",
    )


def _way(house: House, way: WayDown) -> Line:
    said: Line = ()
    for part in way.parts:
        if part.joins:
            said += (f" [{group_words(house, part.joins)}] ",)
        said += joined([_leg(house, leg) for leg in part.legs], ", ")
    return said if way.ends else (*said, f"; further down: {NOT_RECORDED}")


def _leg(house: House, leg: str) -> Line:
    found = house.drains.legs[leg]
    if found.own:
        return (f"its {'trap' if found.kind == ARM else found.kind}",)
    return (Tag(leg),)
