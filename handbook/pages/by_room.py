"""What to close, room by room from the top of the house down: one row for each thing that leaks.

The valves are the first step of each thing's ladder; beside them stands what comes next for this
thing, because what the house's main does not stop would run on. A thing of which a usual pipe is
not recorded says so, because its stops may then not be all that feeds it. A page a level, so that
each is one sheet; a level with many things has several.
"""

from collections.abc import Iterable, Iterator
from itertools import groupby

from handbook.answers.isolate import isolate
from handbook.answers.isolating.rungs import Rung
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.calls import call
from handbook.pages.content import Block, Bullets, Go, Line, Note, Page, Para, SubHead, Table
from handbook.pages.first_aid import first_aid
from handbook.pages.heater_first import LEAKS, after_main
from handbook.pages.how_turned import fallback, how_they_turn, in_a_row, then
from handbook.pages.levels import caption, top_down
from handbook.pages.valves import first, no_step, tags, whole_house
from handbook.pages.whereabouts import whereabouts
from handbook.pages.words import listed, lower, situation
from handbook.record.grammar.common import each
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.places import OUTSIDE
from handbook.record.knowing import ABSENT
from handbook.tables import table

UNSEEN = ("check valve", "hammer arrester", "expansion tank")
"""Parts of a line that nobody looks up by name while water runs."""

FIT = 10
"""Rows on a sheet: those of the things, and what is to be known beside them. A sheet that is not
a whole level has one less, because its title is longer."""

KEEP_OUT: Line = (
    "Keep out of water near outlets, lamps, cords or the breaker panel. See ",
    Go(situation("water-and-power"), "Water near outlets or the breaker panel"),
    ".",
)


BY_PLACE = "Water: by room, through a ceiling or a wall"
"""What the pages of a level are listed under."""


def level_pages(house: House) -> tuple[Page, ...]:
    """Red pages for each level on which something holds water; none where nothing is recorded."""
    things = _things(house)
    made: list[Page] = []
    for level in (*top_down(house), OUTSIDE, None):
        here = [item for item in things if house.places.level_id(item.place) == level]
        sheets = _sheets(house, level, here)
        made += (
            _page(house, level, sheet, number if len(sheets) > 1 else 0)
            for number, sheet in enumerate(sheets, 1)
        )
    return tuple(made)


def _sheets(house: House, level: str | None, here: list[Item]) -> list[list[Item]]:
    """The things of a level in the order of its rooms, on one sheet if they fit; else room by
    room, as many rooms together as fit, and a room that is too much by itself in parts."""
    rooms = _rooms(house, level)
    here = sorted(here, key=lambda item: rooms.get(_room(item), len(rooms)))
    if _height(house, here) <= FIT:
        return [here] if here else []
    sheets: list[list[Item]] = []
    for _, beside in groupby(here, key=_room):
        same = list(beside)
        for part in [same] if _height(house, same) < FIT else [[item] for item in same]:
            room = (sheet for sheet in sheets if _height(house, [*sheet, *part]) < FIT)
            if sheet := next(room, None):
                sheet += part
            else:
                sheets.append(part)
    return sheets


def _height(house: House, here: list[Item]) -> int:
    """How many rows these make on a page."""
    return len(here) + len(list(_more(house, here)))


def walks(house: House, level: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return (room, what is to be turned) for each thing of a level that has a row; for what
    stands outdoors, itself in place of a room."""
    found = []
    for item in _things(house):
        room = item.id if level == OUTSIDE else _room(item)
        rung = first(isolate(house, item.id))
        if house.places.level_id(item.place) == level and room and rung:
            found.append((room, rung.close + rung.open))
    return tuple(found)


def _page(house: House, level: str | None, here: list[Item], number: int) -> Page:
    """One sheet; `number` counts those of a level that needs several."""
    name = caption(house, level)
    title = lower(name) if level else "other things"
    if number:
        title = listed(_room_names(house, here))
    rows = (*_not_seen(house, level, here), *(_row(house, item) for item in here))
    head = ("What leaks", "Close", "Where", "If that fails")
    return Page(
        situation(f"water-{level or 'elsewhere'}{f'_{number}' if number > 1 else ''}"),
        f"Water: {title}",
        (
            Note("warning", (KEEP_OUT,)),
            Table(f"{name}: what to close", head, rows, widths=(3.4, 2.6, 6.3, 2.7)),
            *_after(house, here),
            *_assumed(house, here),
        ),
        summary=("One valve for each thing that leaks.",),
        red=True,
        under=BY_PLACE,
    )


def _not_seen(house: House, level: str | None, here: list[Item]) -> tuple[tuple[Line, ...], ...]:
    """The main, for who does not see what leaks indoors; where it is, unless a row says so."""
    inside = whole_house(house)[0][:1]
    if level not in house.places.levels or not inside:
        return ()
    main = inside[0].close
    answers = [isolate(house, item.id) for item in here]
    rungs = [rung for answer in answers for rung in (*answer.shown[:1], *fallback(house, answer))]
    below = set(main) <= {valve for rung in rungs for valve in rung.close}
    where = "In doubt, first; see below" if below else whereabouts(house, None, main)
    return ((("Not seen",), tags(house, main), (where,), ()),)


def _room_names(house: House, here: list[Item]) -> list[str]:
    names = (house.places.room_name(item.place) or "elsewhere" for item in here)
    return list(dict.fromkeys(names))


def _after(house: House, here: list[Item]) -> tuple[Block, ...]:
    """What to know beside the rows, and whom to call."""
    rows = tuple(_more(house, here))
    caption = "How they turn, and where the next ones are"
    more = (Table(caption, ("Also", "Detail"), rows, widths=(2.4, 12.6)),) if rows else ()
    return (*more, Para((*call(contact(house, "licensed plumber")), ".")))


def _more(house: House, here: list[Item]) -> Iterator[tuple[Line, ...]]:
    """How all these are turned, where those are that come second, what a tool or a hand spares."""
    answers = [isolate(house, item.id) for item in here]
    firsts = [rung for answer in answers if (rung := first(answer))]
    nexts = [rung for answer in answers for rung in fallback(house, answer)]
    if how := how_they_turn((*firsts, *nexts)):
        yield ("How",), how
    yield from _second(house, firsts, nexts)
    yield from _nearer(house, here)
    yield from (((name,), (do,)) for name, do in first_aid(item.kind for item in here))


def _second(house: House, firsts: list[Rung], nexts: list[Rung]) -> Iterator[tuple[Line, ...]]:
    """Where the valves are that stand in no row of their own, and what follows the main."""
    seen = {valve for rung in firsts for valve in (*rung.close, *rung.open)}
    told = [tuple(v for v in (*rung.close, *rung.open) if v not in seen) for rung in nexts]
    main, safe = set(house.water.mains[:1]), after_main(house, firsts)
    for valves in _largest(filter(None, told)):
        where = whereabouts(house, None, valves)
        yield in_a_row(valves), (f"{where}. ", *safe) if main & set(valves) else (where,)
    if safe and main & seen:
        yield in_a_row(house.water.mains[:1]), safe


def _largest(groups: Iterable[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """The groups that are no part of another, each once."""
    known = list(dict.fromkeys(groups))
    return [one for one in known if not any(set(one) < set(other) for other in known)]


def _assumed(house: House, here: list[Item]) -> tuple[Block, ...]:
    """What these rows lean on that is not recorded."""
    said = [line for item in here for line in isolate(house, item.id).assumed]
    lines = tuple((line,) for line in dict.fromkeys(said))
    return (SubHead("Not recorded, so taken for granted"), Bullets(lines)) if lines else ()


def _things(house: House) -> list[Item]:
    """Everything that somebody could point at and say "this leaks": not valves, tees or meters."""
    return [
        item
        for item in house.items.values()
        if item.id in house.water.bodies
        and item.system in ("fixture", "equipment")
        and item.kind not in UNSEEN
        and not dry(item.entry)
    ]


def dry(entry: object) -> bool:
    """Whether a fixture has no supply: by its kind, or because both were looked for."""
    if not isinstance(entry, Fixture) or entry.cold or entry.hot:
        return False
    return not _usual(entry) or (entry.cold is ABSENT and entry.hot is ABSENT)


def _usual(fixture: Fixture) -> list[str]:
    connections: list[str] = table("fixture_connections").values[fixture.kind]
    return [side for side in connections if side in ("cold", "hot")]


def _rooms(house: House, level: str | None) -> dict[str | None, int]:
    rooms = each(house.places.levels[level].rooms) if level in house.places.levels else ()
    return {room.id: place for place, room in enumerate(rooms)}


def _room(item: Item) -> str | None:
    return item.place.room if item.place else None


def _row(house: House, item: Item) -> tuple[Line, ...]:
    answer = isolate(house, item.id)
    rung = first(answer)
    if rung is None:
        closed = tuple(turn.id for turn in answer.kept_off)
        where = whereabouts(house, item.place, closed)
        return (_name(house, item), no_step(house, answer), (where,), then(answer.nevertheless))
    close = tags(house, rung.close, sides=True)
    if rung.open:
        close += (", open ", *tags(house, rung.open))
    where = whereabouts(house, item.place, rung.close + rung.open)
    if rung.utility:
        theirs = (*call(contact(house, "water utility")), f". It is theirs. Where: {lower(where)}")
        return (_name(house, item), close, theirs, then(fallback(house, answer)))
    place: Line = (where,)
    if isinstance(item.entry, Heater):  # its relief pipe, spray and steam ask for other acts
        place = ("First see ", LEAKS, f". {where}")
    return (_name(house, item), close, place, then(fallback(house, answer)))


def _nearer(house: House, here: list[Item]) -> Iterator[tuple[Line, ...]]:
    """What is nearer than the valves in a thing's row, but needs a tool."""
    for item in here:
        if rung := isolate(house, item.id).with_tool:
            tools = " and ".join(rung.tools)
            where = lower(whereabouts(house, item.place, rung.close, tools=False))
            said = f"Enough for the {lower(item.name)}, with a {tools} at hand: {where}"
            yield in_a_row(rung.close), (said,)


def _name(house: House, item: Item) -> Line:
    """The thing with its room, unless its name says it already."""
    room = house.places.room_name(item.place)
    known = room is None or room in item.name.lower() or room == OUTSIDE
    said = item.name if known else f"{item.name}, {room}"
    missing = _not_recorded(item.entry)
    return (said, f" (its {missing} pipe is not recorded)") if missing else (said,)


def _not_recorded(entry: object) -> str:
    """The sides of a fixture that are usual but not recorded, where another side is."""
    if not isinstance(entry, Fixture) or not (entry.cold or entry.hot):
        return ""
    sides = {"cold": entry.cold, "hot": entry.hot}
    return " and ".join(side for side in _usual(entry) if sides[side] is None)
