"""Water through a ceiling or a wall: what to close before anybody knows what leaks.

A page a level and sign, a row for each set of valves with the rooms that it answers for, and from
each room how far and how long it is to walk. The valves of a row stop every supply that is
recorded above or behind, or nearly so (see `through_cases`). Beside the seconds stands what the
worst of the suspects may spill meanwhile. Where a room's wall takes more than its ceiling, or the
other way round, the row says what else may leak there.
"""

from collections.abc import Iterable
from math import ceil

from handbook.answers.route import counted, route, said_far
from handbook.answers.spill import worst_flow
from handbook.answers.through import Sign, Through
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.measures import Volume, say_volume
from handbook.pages.by_room import BY_PLACE, KEEP_OUT
from handbook.pages.calls import call
from handbook.pages.content import (
    Block,
    Bullets,
    Go,
    Line,
    Note,
    Page,
    Para,
    Strong,
    SubHead,
    Table,
)
from handbook.pages.heater_first import after_main
from handbook.pages.how_turned import how_they_turn
from handbook.pages.levels import caption, top_down
from handbook.pages.through_cases import (
    WORDS,
    Case,
    case_of,
    in_doubt,
    main_here,
    turned,
    why_more,
)
from handbook.pages.through_steps import theirs, to_close
from handbook.pages.valves import no_main, tags, whole_house
from handbook.pages.whereabouts import whereabouts
from handbook.pages.words import capital, listed, lower, situation
from handbook.record.grammar.common import Place, each

SAGS: Line = (
    "Keep away from a ceiling that sags: it can fall. Do not touch a wet lamp or its switch.",
)
_NO_STOP = Go(situation("will-not-stop"), "The water will not stop")


def through_pages(house: House, sign: Sign | None = None) -> tuple[Page, ...]:
    """One red page a level and sign of which anything above or behind is known."""
    made = []
    for level in top_down(house):
        rooms = [room.id for room in each(house.places.levels[level].rooms)]
        for kind in (sign,) if sign else WORDS:
            cases = [case_of(house, room, kind) for room in rooms]
            known = [case for case in cases if not case.answer.unsure]
            if known:
                made.append(_page(house, level, known, rest=len(known) < len(cases)))
    return tuple(made)


def walks(house: House, level: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return (room, what is to be turned) for each room and sign of a level that has a row."""
    rooms = [room.id for room in each(house.places.levels[level].rooms)]
    cases = [case_of(house, room, sign) for room in rooms for sign in WORDS]
    known = [(case.room, turned(house, case)) for case in cases if not case.answer.unsure]
    return tuple((room, valves) for room, valves in known if valves)


def _page(house: House, level: str, cases: list[Case], *, rest: bool) -> Page:
    name = caption(house, level)
    alike: dict[tuple[Line, Line], list[Case]] = {}
    for case in cases:
        alike.setdefault((to_close(house, case), theirs(house, case)), []).append(case)
    rows = [_row(house, close, after, same) for (close, after), same in alike.items()]
    rows += _otherwise(house, cases, rest)
    sign = cases[0].sign
    head = ("Room", "Close", "Then look in")
    return Page(
        situation(f"{sign}-{level}"),
        f"Water through {WORDS[sign]}: {lower(name)}",
        (
            Note("warning", (KEEP_OUT, SAGS) if sign == "ceiling" else (KEEP_OUT,)),
            Para((*_doubt(house, cases), "Run no water into a drain.")),
            Table(
                f"{name}: what to close",
                head,
                tuple(rows),
                widths=(3.6, 9.0, 3.4),
            ),
            *_after(house, cases, rest),
            *_assumed(cases),
        ),
        summary=("What to close for each room, before you know what leaks.",),
        red=True,
        under=BY_PLACE,
    )


def _doubt(house: House, cases: list[Case]) -> Line:
    """The main first for who is in doubt: the rows close less, to keep other rooms their water."""
    main = in_doubt(house, cases)
    return (*main, " ") if main else ()


def any_case_in_doubt(house: House) -> Line:
    """The same for every ceiling and wall of the house, before the room is known."""
    rooms = [
        room.id for level in top_down(house) for room in each(house.places.levels[level].rooms)
    ]
    cases = [case_of(house, room, sign) for room in rooms for sign in WORDS]
    return in_doubt(house, [case for case in cases if not case.answer.unsure], " indoors")


def _after(house: House, cases: list[Case], rest: bool) -> tuple[Block, ...]:
    """How these valves are turned, what follows them, and whom to call."""
    inside = whole_house(house)[0][:1]
    how = how_they_turn((*(case.rung for case in cases if case.rung), *inside))
    plumber = Para((*call(contact(house, "licensed plumber")), "."))
    blocks: tuple[Block, ...] = (Para((Strong("How: "), *how)),) if how else ()
    if safe := after_main(house, (case.rung for case in cases if case.rung)):
        blocks += (Para(safe),)
    if not _otherwise(house, cases, rest):
        blocks += (Para(("If it still runs, see ", _NO_STOP, ".")),)
    return (*blocks, plumber)


def _row(house: House, close: Line, then: Line, cases: list[Case]) -> tuple[Line, ...]:
    rooms = capital(listed(dict.fromkeys(_room_name(house, case) for case in cases)))
    valves = tuple(dict.fromkeys(valve for case in cases for valve in turned(house, case)))
    here = cases[0].room if len({case.room for case in cases}) == 1 else None
    place = whereabouts(house, Place.model_construct(room=here), valves)
    look = dict.fromkeys(room for case in cases for room in _look_in(house, case.answer))
    after = "".join(f" {said}" for said in (why_more(house, cases), _walked(house, cases)) if said)
    said = (*close, f". {place}." if place else ".", *then, after)
    return (rooms,), said, (listed(look),)


def _walked(house: House, cases: list[Case]) -> str:
    """The walk from these rooms to the farthest valve, and what may run out by then, rounded up:
    `Walk: 36 to 45 ft, 15 to 20 s; up to 4 gal out by then.` Nothing where one is unknown."""
    walks = [walk for case in cases if (walk := _walk(house, case))]
    if not walks or len(walks) < len(cases):
        return ""
    units = house.record.house.units
    feet, seconds, spilt = zip(*walks, strict=True)
    far = _from_to(said_far(far, units) for far in (min(feet), max(feet)))
    long = _from_to(f"{count} s" for count in (min(seconds), max(seconds)))
    out = f"; up to {say_volume(Volume(max(spilt)), units)} out by then" if any(spilt) else ""
    return f"Walk: {far}, {long}{out}."


def _room_name(house: House, case: Case) -> str:
    return house.places.room_name(Place.model_construct(room=case.room)) or case.room


def _walk(house: House, case: Case) -> tuple[float, int, int] | None:
    """Feet and seconds to the farthest valve to close first, and the gallons out by then."""
    valves = main_here(house, case) or turned(house, case)
    ways = [route(house, case.room, valve) for valve in valves]
    known = [(w.distance_ft, w.seconds) for w in ways if w.distance_ft is not None and w.seconds]
    if not known or len(known) < len(ways) or any(way.missing for way in ways):
        return None
    feet, seconds = max(known)
    gpm = worst_flow(house, (suspect.id for suspect in case.answer.suspects))
    return feet, counted(seconds), max(1, ceil(gpm * counted(seconds) / 60)) if gpm else 0


def _from_to(two: Iterable[str]) -> str:
    """`24 to 36 ft` of `24 ft` and `36 ft`; the one where both are alike."""
    least, most = two
    return most if least == most else f"{least.rpartition(' ')[0]} to {most}"


def _look_in(house: House, answer: Through) -> tuple[str, ...]:
    """The rooms of the suspects, in the order of the record."""
    rooms = [suspect.room for suspect in answer.suspects if suspect.room]
    names = (house.places.room_name(Place.model_construct(room=room)) for room in rooms)
    return tuple(dict.fromkeys(name for name in names if name))


def _otherwise(house: House, cases: list[Case], rest: bool) -> list[tuple[Line, ...]]:
    """The last row: the main, where a step above does not hold, and for the `rest` of the rooms,
    for which nothing is recorded that would explain it. Where each step above is the main itself,
    the next one; no row where there is none."""
    mains = whole_house(house)[0]
    spent = bool(mains) and all(set(mains[0].close) <= set(turned(house, c)) for c in cases)
    when = "Anywhere else, or if it still runs" if rest else "If it still runs"
    if spent:
        when = "Anywhere else" if rest else when
        mains = mains if rest else mains[1:]
        if not mains:
            return []
    close: Line = (no_main(house),)
    if mains:
        close = (*tags(house, mains[0].close), f". {whereabouts(house, None, mains[0].close)}.")
    return [((when,), close, ("then see ", _NO_STOP))]


def _assumed(cases: list[Case]) -> tuple[Block, ...]:
    said = dict.fromkeys(line for case in cases for line in case.answer.assumed)
    lines = tuple((line,) for line in said)
    return (SubHead("Not recorded, so taken for granted"), Bullets(lines)) if lines else ()
