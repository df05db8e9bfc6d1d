"""What to close, room by room from the top of the house down: one row for each thing that leaks.

The valves are the first step of each thing's ladder. A thing of which a usual pipe is not
recorded says so, because its stops may then not be all that feeds it.
"""

from handbook.answers.isolate import isolate
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Line, Table
from handbook.pages.levels import caption, top_down
from handbook.pages.valves import first, tags
from handbook.pages.words import bare, lower
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.places import OUTSIDE
from handbook.record.knowing import ABSENT
from handbook.tables import table

UNSEEN = ("check valve", "hammer arrester", "expansion tank")
"""Parts of a line that nobody looks up by name while water runs."""


def tables(house: House) -> tuple[Table, ...]:
    """One table a level, its rows in the order of the rooms; none where nothing is recorded."""
    things = _things(house)
    levels = (*top_down(house), OUTSIDE, None)
    made = []
    for level in levels:
        here = [item for item in things if house.places.level_id(item.place) == level]
        if here:
            rooms = _rooms(house, level)
            here.sort(key=lambda item: rooms.get(_room(item), len(rooms)))
            rows = tuple(_row(house, item) for item in here)
            head = ("What leaks", "Close", "Where")
            made.append(Table(caption(house, level), head, rows, widths=(5, 4, 6)))
    return tuple(made)


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
    return (_name(house, item), tags(house, rung.close), _where(house, item, rung.close))


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


def _where(house: House, item: Item, valves: tuple[str, ...]) -> Line:
    """Where the valves are; said once where they share a place, short where it is this room."""
    said: list[str] = []
    for valve in valves:
        words = _place(house, house.items[valve].place, item.place)
        said += [words] if words not in said else []
    return (bare("; ".join(said)),)


def _place(house: House, place: Place | None, here: Place | None) -> str:
    same = place is not None and here is not None and place.room and place.room == here.room
    if same and place is not None and place.room != OUTSIDE:
        near = place.model_copy(update={"room": None, "level": None})
        return lower(house.places.say(near) or "in the same room")
    return house.places.say(place) or "not recorded"
