"""What to close, room by room from the top of the house down: one row for each thing that leaks.

The valves are the first step of each thing's ladder. A thing of which a usual pipe is not
recorded says so, because its stops may then not be all that feeds it. A page a level, so that
each is one sheet; the way there on foot will go into its rows.
"""

from handbook.answers.isolate import Rung, isolate
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Bullets, Go, Line, Note, Page, Para, SubHead, Table
from handbook.pages.first_aid import first_aid
from handbook.pages.levels import caption, top_down
from handbook.pages.valves import first, tags, whole_house
from handbook.pages.words import bare, capital, lower, situation
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.places import OUTSIDE
from handbook.record.knowing import ABSENT
from handbook.tables import table

UNSEEN = ("check valve", "hammer arrester", "expansion tank")
"""Parts of a line that nobody looks up by name while water runs."""

KEEP_OUT: Line = (
    "Keep out of water near outlets, lamps, cords or the breaker panel. See ",
    Go(situation("water-and-power"), "Water near outlets or the breaker panel"),
    ".",
)


BY_PLACE = "Water: if you see where it comes from"
"""What the pages of a level are listed under."""


def level_pages(house: House) -> tuple[Page, ...]:
    """One red page a level on which something holds water; none where nothing is recorded."""
    things = _things(house)
    made = []
    for level in (*top_down(house), OUTSIDE, None):
        here = [item for item in things if house.places.level_id(item.place) == level]
        if here:
            made.append(_page(house, level, here))
    return tuple(made)


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


def _page(house: House, level: str | None, here: list[Item]) -> Page:
    rooms = _rooms(house, level)
    here = sorted(here, key=lambda item: rooms.get(_room(item), len(rooms)))
    name = caption(house, level)
    title = lower(name) if level else "other things"
    rows = tuple(_row(house, item) for item in here)
    head = ("What leaks", "Close", "Where")
    main = whole_house(house)[0][:1]
    return Page(
        situation(f"water-{level or 'elsewhere'}"),
        f"Water: {title}",
        (
            Note("warning", (KEEP_OUT,)),
            Table(
                f"{name}: close only this; the rest keeps its water", head, rows, widths=(5, 4, 6)
            ),
            *(Para(said) for said in first_aid(item.kind for item in here)),
            *(_main(house, rung) for rung in main),
            *_assumed(house, here),
        ),
        summary=("One valve for each thing that leaks.",),
        red=True,
        under=BY_PLACE,
    )


def _main(house: House, rung: Rung) -> Para:
    """The whole-house shutoff again, so that nobody has to leaf back for it."""
    where = ", ".join(bare(turn.where) for turn in rung.turns if turn.where)
    place = f". Where: {where}." if where else "."
    return Para(("If it does not hold, close ", *tags(house, rung.close), place))


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
        and not _dry(item.entry)
    ]


def _dry(entry: object) -> bool:
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
    rung = first(isolate(house, item.id))
    if rung is None:
        return (_name(house, item), ("no shutoff is recorded",), ("",))
    close = tags(house, rung.close, sides=True)
    if rung.open:
        close += (", open ", *tags(house, rung.open))
    return (_name(house, item), close, (whereabouts(house, item.place, rung.close + rung.open),))


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


def whereabouts(house: House, here: Place | None, valves: tuple[str, ...]) -> str:
    """Where the valves are: the room once, unless it is this one, then the spot in it."""
    said: list[str] = []
    for valve in valves:
        place = house.items[valve].place
        room = house.places.room_and_level(place)
        if room and room != house.places.room_and_level(here):
            said += [f"{room}:"]
        said += [f"{_spot(house, place)};"]
        here = place
    return capital(bare(" ".join(dict.fromkeys(said))))


def _spot(house: House, place: Place | None) -> str:
    """The place inside its room, as short as it is recorded."""
    if place is None:
        return "not recorded"
    near = place.model_copy(update={"room": None, "level": None})
    return bare(place.where or lower(house.places.say(near) or "in this room"))
