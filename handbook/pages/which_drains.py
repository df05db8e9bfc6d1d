"""Which drains back up: the page for an occupant, and the small form on the phone.

The form and the table say what `answers/stoppage` says; the form's answers are all worked out
beforehand, so that it needs no network. Paper and a phone without script have the table.
"""

from collections.abc import Iterator

from handbook.answers.draining.cable_words import cable_words
from handbook.answers.draining.common_signs import (
    Place,
    common_signs,
    every_answer,
    lowest_rises,
    places,
    stacks_together,
)
from handbook.answers.draining.tries import SPACE_UNKNOWN
from handbook.answers.stoppage import Stoppage, stoppage
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.pages.calls import call
from handbook.pages.content import (
    Block,
    Facts,
    Go,
    Line,
    Note,
    Page,
    Para,
    Signs,
    Table,
    Tag,
    plain,
)
from handbook.pages.drain_groups import (
    blocked_by_name,
    comes_up,
    flap_first,
    group_words,
    in_at_fixtures,
    names,
    on_sides,
    rises,
    strays,
    two_ways,
)
from handbook.pages.parts.phrases import joined
from handbook.pages.words import capital, lower, situation

Row = tuple[Line, ...]
PAGE = situation("which-drains")
TITLE = "Which drains back up?"
MOST_LINES = 28
"""As much as one red sheet holds, a row's own space counted as half a line."""
CHARACTERS = (23, 24, 21, 4)
"""What fits on a line of each column; words as they are break a little earlier or later."""
MOST_SHOWN = 2
"""Cleanouts told to an occupant, who only shows them."""

CAUTION = Note(
    "warning",
    (
        ("Sewage makes people sick. Do not run water to find out.",),
        ("Do not open a cleanout: sewage can burst out.",),
    ),
)
TOGETHER = "One rises when another drains"
SHARED = "the pipe they share is blocked; use neither"
EXPLAINED = (
    "Runs well: its water goes away and comes up nowhere else. "
    "What makes another rise does not run well: both back up."
)
FIRST: Line = (
    "First: ",
    Go(situation("backup"), "A drain backs up"),
    ". ",
)


def link(house: House) -> Line:
    """Return the link to the page; nothing where no two recorded drains run together."""
    together = any(len(place) > 1 for place in places(house.drains))
    return (Go(PAGE, TITLE),) if together else ()


def which_drains(house: House) -> tuple[Page, ...]:
    """Return the page; none where no two recorded drains run together."""
    if not link(house):
        return ()
    groups = [answer for answer in common_signs(house) if len(answer.backs_up) > 1]
    first = (*_rising(house), *_on_stacks(house, groups))
    rows = _that_fit({answer.backs_up: _row(house, answer) for answer in groups}, first)
    head = ("Only these back up", "Blocked", "Shows first at", "Show")
    blocks: tuple[Block, ...] = (
        CAUTION,
        Para(
            (
                *FIRST,
                *call(contact(house, "licensed plumber")),
                f". Say what backs up and what runs well. {TOGETHER}: both back up; ",
                "use neither. Only one, and not the lowest: its own pipe or trap.",
            )
        ),
        signs(house),
        Table(
            "What to tell the plumber", head, tuple(map(_begun, rows)), widths=(4.1, 4.4, 3.8, 0.9)
        ),
    )
    summary: Line = ("Which drains run together, and what that tells.",)
    return (Page(PAGE, TITLE, blocks, summary, red=True),)


def _begun(row: Row) -> Row:
    """Return a row whose sign begins with a capital, as the form's do."""
    (first, *more), *rest = row
    return ((capital(first), *more) if isinstance(first, str) else row[0], *rest)


def _rising(house: House) -> tuple[Row, ...]:
    """Return the row of the commonest sign of all: the lowest opening fills when others run."""
    answer = lowest_rises(house)
    if answer is None:
        return ()
    sign, there = rises(house, answer)
    _, legs, _, show = _row(house, answer)
    return ((sign, legs, there, show),)


def _on_stacks(house: House, groups: list[Stoppage]) -> Iterator[Row]:
    """Yield a row for stacks that run together, where it is not that of a group of its own."""
    alone = {answer.stretches for answer in groups}
    for found in stacks_together(house):
        if found.answer.stretches not in alone:
            yield on_sides(house, found), *_row(house, found.answer)[1:]


def _that_fit(rows: dict[Place, Row], first: tuple[Row, ...]) -> tuple[Row, ...]:
    """Return the rows that one sheet holds, the smallest groups left out first."""
    kept, left = set(), MOST_LINES - sum(_lines(row) for row in first)
    for group in sorted(rows, key=len, reverse=True):
        left -= _lines(rows[group])
        if left < 0:
            break
        kept.add(group)
    return (*first, *(row for group, row in rows.items() if group in kept))


def _lines(row: Row) -> float:
    """How many lines of the sheet a row takes, its own space counted as half a line."""
    cells = zip(row, CHARACTERS, strict=True)
    return 0.5 + max(-(-len(plain(cell)) // most) for cell, most in cells)


def _row(house: House, answer: Stoppage) -> Row:
    return (
        (group_words(house, answer.backs_up),),
        blocked_by_name(house, answer),
        comes_up(house, answer),
        joined([(Tag(name),) for name in _first(answer)]) or ("none",),
    )


def _first(answer: Stoppage) -> list[str]:
    """The cleanouts that come first, each once."""
    return list(dict.fromkeys(each.id for each in answer.cleanouts))[:MOST_SHOWN]


def signs(house: House) -> Signs:
    """Return the form: every drain, and what each set of signs means."""
    answers = every_answer(house)
    every = list(dict.fromkeys(place for run in answers for place in run))
    fixtures = list(house.drains.rims)
    return Signs(
        "Which of these back up?",
        tuple(house.items[fixture].name for fixture in fixtures),
        tuple(tuple(fixtures.index(fixture) for fixture in place) for place in every),
        tuple((_key(every, run), _told(house, answer)) for run, answer in answers.items()),
        (Para(_no_single(house)),),
        (*(_briefly(house, answer) for answer in answers.values()), "No one blocked drain."),
        TOGETHER,
        EXPLAINED,
        (Para(_both(house)),),
        "Use neither; tick both as backing up.",
    )


def _briefly(house: House, answer: Stoppage) -> str:
    """The question that is open, or what can be blocked, the first and the last by its name."""
    if _one_so_far(house, answer):
        return "Only this one, as far as you know: do the others run well?"
    names = [_plain_name(house, leg) for leg in (answer.stretches[0], answer.stretches[-1])]
    return f"Can be blocked: {' down to '.join(dict.fromkeys(names))}."


def _plain_name(house: House, leg: str) -> str:
    return "a trap" if house.drains.legs[leg].own else lower(house.items[leg].name)


def _one_so_far(house: House, answer: Stoppage) -> bool:
    """Whether one alone is known to back up, not the lowest, and of others too little is known."""
    hit = {fixture for leg in answer.stretches for fixture in house.drains.through(leg)}
    return len(answer.backs_up) == 1 and len(hit) > 1 and not answer.also_call


def _key(every: list[Place], run: tuple[Place, ...]) -> tuple[int, ...]:
    return tuple(sorted(every.index(place) for place in run))


def _told(house: House, answer: Stoppage) -> tuple[Block, ...]:
    rows: list[tuple[str, Line]] = [
        ("Do now", _do(house, answer)),
        ("Do not use", (_grouped(house, answer.do_not_use),)),
        ("You may use", (_grouped(house, answer.may_use) or "nothing that drains",)),
        ("Shows first at", comes_up(house, answer)),
        ("Can be blocked", blocked_by_name(house, answer)),
    ]
    if shown := tuple(_shown(house, answer)):
        rows.append(("Show the plumber", joined(shown, "; ")))
    if alone := (*in_at_fixtures(house, answer), *two_ways(answer)):
        rows.append(("For the plumber alone", joined(alone, "; ")))
    return (Facts(tuple(rows)),)


def _grouped(house: House, things: tuple[str, ...]) -> str:
    """Fixtures by their rooms; then what has no drain of its own, or runs in by itself."""
    drained = [thing for thing in things if thing in house.drains.rims]
    others = [thing for thing in things if thing not in house.drains.rims]
    said = (group_words(house, drained) if drained else "", names(house, others))
    return "; ".join(words for words in said if words)


def _do(house: House, answer: Stoppage) -> Line:
    plumber = call(contact(house, "licensed plumber"))
    if answer.call == "plunger":
        return ("Try a plunger. If it stays slow: ", *plumber, ".")
    if _one_so_far(house, answer):
        return _one_first(house, answer, plumber)
    also = [call(contact(house, role)) for role in answer.also_call]
    more: Line = tuple(span for line in also for span in (". ", *line))
    return (*plumber, *more, ".")


def _one_first(house: House, answer: Stoppage, plumber: Line) -> Line:
    """First whether the others run well; with nothing known, none is used."""
    others = [each for each in house.drains.rims if each not in answer.backs_up]
    alone = stoppage(house, answer.backs_up, others).call
    tried = " and try a plunger. If it stays slow: " if alone == "plunger" else ". "
    return (
        f"Only this one, as far as you know. Do the others run well? If they do: tick them{tried}",
        *plumber,
        ". If you do not know: use none of them until you do.",
    )


def _both(house: House) -> Line:
    return (
        f"{TOGETHER}: {SHARED}. ",
        *call(contact(house, "licensed plumber")),
        ". Then tick both as backing up: the one that rises and the one that drained.",
    )


def _shown(house: House, answer: Stoppage) -> Iterator[Line]:
    for each in answer.cleanouts[:MOST_SHOWN]:
        way = "with the flow" if each.direction == "downstream" else "against the flow"
        units = house.record.house.units
        far = cable_words(each.near, each.far, units)
        name = house.items[each.id].name
        space = "" if each.space_known else f"; {SPACE_UNKNOWN}"
        fed = f" {way}, {far} of cable{space}{strays(each, units)}"
        yield (Tag(each.id, name), fed, *flap_first(each.valves))


def _no_single(house: House) -> Line:
    return (
        "No one blocked drain explains this. It may be two, or a vent. ",
        *call(contact(house, "licensed plumber")),
        ".",
    )
