"""Water through a ceiling or a wall: what to close before anybody knows what leaks.

A page a level and sign, a row for each set of valves with the rooms that it answers for, and from
each room how far and how long it is to walk. The valves of a row stop every supply that is
recorded above or behind. Where that would take more than two, or one with a motor, the next rung
is taken that does not, because a person counts seconds, not fixtures. Beside the seconds stands
what the worst of the suspects may spill meanwhile. Where a room's wall takes more than its
ceiling, or the other way round, the row says what else may leak there.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from handbook.answers.isolate import Rung
from handbook.answers.route import counted, route, said_far
from handbook.answers.spill import worst_flow
from handbook.answers.through import Sign, Through, left_running, through
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.measures import Volume, say_volume
from handbook.pages.by_room import BY_PLACE, KEEP_OUT, whereabouts
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
from handbook.pages.how_turned import how_they_turn
from handbook.pages.levels import caption, top_down
from handbook.pages.valves import tags, whole_house
from handbook.pages.words import capital, listed, lower, situation
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.places import OUTSIDE

SAGS: Line = (
    "Keep away from a ceiling that sags: it can fall. Do not touch a wet lamp or its switch.",
)
AT_MOST = 2
NAMED = 2
"""How many things a row names; of more it names their rooms."""
_WORDS: dict[Sign, str] = {"ceiling": "the ceiling", "wall": "a wall"}
_OTHER: dict[Sign, Sign] = {"ceiling": "wall", "wall": "ceiling"}


@dataclass(frozen=True)
class _Case:
    """Water by one sign in one room: what may leak, and the step to take."""

    room: str
    sign: Sign
    answer: Through
    rung: Rung | None


def through_pages(house: House, sign: Sign | None = None) -> tuple[Page, ...]:
    """One red page a level and sign of which anything above or behind is known."""
    made = []
    for level in top_down(house):
        rooms = [room.id for room in each(house.places.levels[level].rooms)]
        for kind in (sign,) if sign else _WORDS:
            cases = [_case(house, room, kind) for room in rooms]
            known = [case for case in cases if not case.answer.unsure]
            if known:
                made.append(_page(house, level, known, rest=len(known) < len(cases)))
    return tuple(made)


def walks(house: House, level: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return (room, what is to be turned) for each room and sign of a level that has a row."""
    rooms = [room.id for room in each(house.places.levels[level].rooms)]
    cases = [_case(house, room, sign) for room in rooms for sign in _WORDS]
    known = [case for case in cases if case.rung and not case.answer.unsure]
    return tuple((case.room, _valves(house, case)) for case in known)


def _case(house: House, room: str, sign: Sign) -> _Case:
    answer = through(house, room, sign)
    handy = [rung for rung in answer.ladder if _handy(house, rung)]
    return _Case(room, sign, answer, next(iter((*handy, *answer.ladder)), None))


def _handy(house: House, rung: Rung) -> bool:
    """Whether a step is quickly done: few valves, none of them turned by a motor."""
    kinds = {getattr(house.items[turn.id].entry, "kind", None) for turn in rung.turns}
    return len(rung.turns) <= AT_MOST and "automatic shutoff" not in kinds


def _page(house: House, level: str, cases: list[_Case], *, rest: bool) -> Page:
    name = caption(house, level)
    alike: dict[Line, list[_Case]] = {}
    for case in cases:
        alike.setdefault(_close(house, case), []).append(case)
    rows = [_row(house, close, same) for close, same in alike.items()]
    rows.append(_otherwise(house, rest=rest))
    sign = cases[0].sign
    head = (f"Water through {_WORDS[sign]} of", "Close", "Then look in")
    return Page(
        situation(f"{sign}-{level}"),
        f"Water through {_WORDS[sign]}: {lower(name)}",
        (
            Note("warning", (KEEP_OUT, SAGS) if sign == "ceiling" else (KEEP_OUT,)),
            Para(("Until the leak is found, let nothing run down a drain.",)),
            Table(
                f"{name}: what to close; the walk there, and what may run out by then",
                head,
                tuple(rows),
                widths=(5.4, 6.8, 3.8),
            ),
            *_after(house, cases),
            *_assumed(cases),
        ),
        summary=("What to close for each room, before you know what leaks.",),
        red=True,
        under=BY_PLACE,
    )


def _after(house: House, cases: list[_Case]) -> tuple[Block, ...]:
    """How these valves are turned, and whom to call."""
    inside = whole_house(house)[0][:1]
    how = how_they_turn((*(case.rung for case in cases if case.rung), *inside))
    plumber = Para((*call(contact(house, "licensed plumber")), "."))
    return (*((Para((Strong("How: "), *how)),) if how else ()), plumber)


def _row(house: House, close: Line, cases: list[_Case]) -> tuple[Line, ...]:
    rooms = capital(listed(_walked(house, case) for case in cases))
    valves = tuple(dict.fromkeys(valve for case in cases for valve in _valves(house, case)))
    here = cases[0].room if len({case.room for case in cases}) == 1 else None
    place = whereabouts(house, Place.model_construct(room=here), valves)
    look = dict.fromkeys(room for case in cases for room in _look_in(house, case.answer))
    said = (*close, f". {place}." if place else ".", *_why_more(house, cases))
    return (rooms,), said, (listed(look),)


def _why_more(house: House, cases: list[_Case]) -> Line:
    """Why more is closed than for the same room's other sign: what else may leak here."""
    more: dict[str, None] = {}
    for case in cases:
        other = _case(house, case.room, _OTHER[case.sign])
        if case.rung is None or other.rung is None or other.answer.unsure:
            continue
        if _main_here(house, case):
            continue  # both steps stand in the row already
        if not left_running(house, other.answer, case.rung):
            left = left_running(house, case.answer, other.rung)
            more |= dict.fromkeys(suspect.thing for suspect in left)
    if not more:
        return ()
    than = _WORDS[_OTHER[cases[0].sign]]
    return (f" More than for {than}: pipes to the {_fed(house, more)} may leak here too.",)


def _fed(house: House, things: Iterable[str]) -> str:
    """What these pipes feed, by name; by their rooms, where they are many."""
    items = [house.items[thing] for thing in things]
    used = [item for item in items if item.system == "fixture"] or items
    if len(used) <= NAMED:
        return listed(lower(item.name.partition(",")[0]) for item in used)
    rooms = dict.fromkeys(house.places.room_name(item.place) for item in used)
    out = ["outdoors"] if OUTSIDE in rooms else []
    return listed([*(room for room in rooms if room and room != OUTSIDE), *out])


def _walked(house: House, case: _Case) -> str:
    """A room with the walk to the farthest valve, and what may run out by then, rounded up:
    `kitchen (45 ft, 20 s, 4 gal)`."""
    name = house.places.room_name(Place.model_construct(room=case.room)) or case.room
    ways = [route(house, case.room, valve) for valve in _valves(house, case)]
    known = [(w.distance_ft, w.seconds) for w in ways if w.distance_ft is not None and w.seconds]
    if not known or len(known) < len(ways):
        return name
    feet, seconds = max(known)
    units = house.record.house.units
    said = [said_far(feet, units), f"{counted(seconds)} s"]
    gpm = worst_flow(house, (suspect.id for suspect in case.answer.suspects))
    if gpm:
        most = say_volume(Volume(max(1, ceil(gpm * counted(seconds) / 60))), units)
        said.append(f"up to {most}")
    return f"{name} ({', '.join(said)})"


def _close(house: House, case: _Case) -> Line:
    if case.rung is None:
        off = listed(case.answer.turn_off)
        return (f"Nothing; turn off the {off}" if off else "Nothing: only drains run there",)
    said = tags(house, case.rung.close, sides=True)
    if main := _main_here(house, case):
        said = (*tags(house, main), "; if it still runs, ", *said)
    if case.rung.open:
        said += (", open ", *tags(house, case.rung.open))
    return said


def _valves(house: House, case: _Case) -> tuple[str, ...]:
    """What is to be turned, in order."""
    rung = case.rung
    return (*_main_here(house, case), *rung.close, *rung.open) if rung else ()


def _main_here(house: House, case: _Case) -> tuple[str, ...]:
    """A main that stands in the room itself, where the answer lies farther out: first that one."""
    if case.rung is None or not set(house.water.mains) & set(case.rung.close):
        return ()
    places = [(main, house.items[main].place) for main in house.water.mains]
    here = [main for main, place in places if place and place.room == case.room]
    return tuple(here[:1]) if here and here[0] not in case.rung.close else ()


def _look_in(house: House, answer: Through) -> tuple[str, ...]:
    """The rooms of the suspects, in the order of the record."""
    rooms = [suspect.room for suspect in answer.suspects if suspect.room]
    names = (house.places.room_name(Place.model_construct(room=room)) for room in rooms)
    return tuple(dict.fromkeys(name for name in names if name))


def _otherwise(house: House, *, rest: bool) -> tuple[Line, ...]:
    """The last row: the main, where the step above does not hold, and for the `rest` of the
    rooms, for which nothing is recorded that would explain it."""
    inside = whole_house(house)[0][:1]
    close: Line = ("no main shutoff is recorded.",)
    if inside:
        close = (*tags(house, inside[0].close), f". {whereabouts(house, None, inside[0].close)}.")
    when = "Anywhere else, or if it still runs" if rest else "If it still runs"
    return (when,), close, ("then see ", Go(situation("will-not-stop"), "The water will not stop"))


def _assumed(cases: list[_Case]) -> tuple[Block, ...]:
    said = dict.fromkeys(line for case in cases for line in case.answer.assumed)
    lines = tuple((line,) for line in said)
    return (SubHead("Not recorded, so taken for granted"), Bullets(lines)) if lines else ()
