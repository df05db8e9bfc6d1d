"""The fixtures, room by room: which valves stop each, and what to do if those fail."""

from handbook.answers.isolate import Isolation, isolate
from handbook.answers.isolating.rungs import Rung
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.by_room import dry
from handbook.pages.content import Block, Line, Page, Part, SubHead, Tag
from handbook.pages.levels import caption
from handbook.pages.parts.drain_equipment import stretch_name
from handbook.pages.parts.order import by_room
from handbook.pages.parts.own import note_of, photo_pointer
from handbook.pages.parts.phrases import NOT_RECORDED, checked, joined, lost, said, table, within
from handbook.pages.parts.say import Say
from handbook.pages.parts.valve import handle_of, how_to_close
from handbook.pages.parts.water_flow import bath_sentence
from handbook.pages.words import sentences
from handbook.record.grammar.common import Stop, given
from handbook.record.grammar.fixtures import Fixture


def fixture_part(house: House) -> tuple[Part, ...]:
    """Return the part on fixtures, a page a room; none where no fixture is recorded."""
    fixtures = [item for item in house.items.values() if isinstance(item.entry, Fixture)]
    pages = tuple(_room(house, room, items) for room, items in by_room(house, fixtures))
    return (Part("fixture_part", "Fixtures", pages),) if pages else ()


def page_of(house: House, item: Item) -> str:
    """Return the id of the page that a fixture stands on."""
    room = item.place.room if item.place else None
    return _page_id(room or house.places.level_id(item.place))


def _page_id(room: str | None) -> str:
    """An underscore stands in no id of a record, so no thing's page can have the same id."""
    return f"room_{room}" if room else "no_room"


def _room(house: House, room: str | None, items: tuple[Item, ...]) -> Page:
    blocks: list[Block] = [
        *_what_to_close(house, items),
        *_stops(house, room, items),
        *_fixtures(house, items),
        *bath_sentence(house, room),
        *photo_pointer(house, items),
    ]
    for item in items:
        note = note_of(item)
        blocks += (SubHead(item.name), *note) if note else ()
    return Page(_page_id(room), _title(house, room), tuple(blocks))


def _title(house: House, room: str | None) -> str:
    """Return the room with its level: `Hall bath, upper level`."""
    if room in house.places.rooms:
        found, level = house.places.rooms[room]
        return f"{found.name}, {level.name.lower()}"
    return caption(house, room)


def _what_to_close(house: House, items: tuple[Item, ...]) -> tuple[Block, ...]:
    rows = [
        (_supplied(house, item), *_ladder(isolate(house, item.id)))
        for item in items
        if not dry(item.entry)
    ]
    head = ("Fixture", "Close", "Also off then", "If water still runs", "And then")
    return table("What to close", head, rows, (2.4, 2, 2.6, 1.6, 1.6))


def _supplied(house: House, item: Item) -> Line:
    """Return its name, and whether what feeds it had to be taken for granted."""
    known = item.id in house.water.own
    return (item.name,) if known else (f"{item.name} (what feeds it: {NOT_RECORDED})",)


def _ladder(answer: Isolation) -> tuple[Line, Line, Line, Line]:
    """Return the cells of a short ladder; a hyphen where it has no further step."""
    if answer.already_off:
        return ("nothing: no water reaches it now",), ("-",), ("-",), ("-",)
    if not answer.ladder:
        return (f"no shutoff: {NOT_RECORDED}",), ("-",), ("-",), ("-",)
    shown = answer.shown
    also: Line = (lost(shown[0].also_off_said) or "nothing else",)
    then = [_turns(rung) for rung in shown[1:3]] + [("-",), ("-",)]
    return _turns(shown[0]), also, then[0], then[1]


def _turns(rung: Rung) -> Line:
    closed: Line = joined([(Tag(valve),) for valve in rung.close])
    opened: Line = joined([(Tag(valve),) for valve in rung.open])
    whose: Line = (" (the utility's)",) if rung.utility else ()
    return (*closed, *whose, *(("; open ", *opened) if opened else ()))


def _stops(house: House, room: str | None, items: tuple[Item, ...]) -> tuple[Block, ...]:
    owners = {item.id for item in items}
    stops = [
        item
        for item in house.items.values()
        if item.owner in owners and handle_of(item) and isinstance(item.entry, Stop)
    ]
    rows = [
        (
            (Tag(stop.id),),
            (stop.name,),
            (_where(house, stop, room),),
            (sentences(how_to_close(house, stop)),),
        )
        for stop in stops
    ]
    head = ("Tag", "Stop", "Where", "Close it")
    made = table("Stops at these fixtures", head, rows, (1, 2.2, 3.7, 3.1), tagged=True)
    return (*made, *checked(house, stops))


def _where(house: House, stop: Item, room: str | None) -> str:
    """Return a stop's place in this room; its room too where that is another one."""
    here = stop.place is None or (stop.place.room or house.places.level_id(stop.place)) == room
    return within(house, stop, room=True) if here else house.places.say(stop.place) or NOT_RECORDED


def _fixtures(house: House, items: tuple[Item, ...]) -> tuple[Block, ...]:
    rows = [
        (
            (item.name,),
            (within(house, item, room=True),),
            (_drain(house, item),),
            (_model(house, item),),
        )
        for item in items
    ]
    head = ("Fixture", "Where", "Drains into", "Model, use")
    return table("The fixtures", head, rows, (2.4, 2.8, 2.4, 2.4))


def _drain(house: House, item: Item) -> str:
    fixture = item.entry
    assert isinstance(fixture, Fixture)
    drain = given(fixture.drain)
    if drain is None:
        return said(fixture.drain)
    return stretch_name(house, drain.to)


def _model(house: House, item: Item) -> str:
    fixture = item.entry
    assert isinstance(fixture, Fixture)
    if (gives := fixture.delivers) is None:
        return said(fixture.model)
    say = Say.of(house)
    flow = f"gives {say.flow(gives.flow)} at {say.pressure(gives.pressure)}"
    return f"{fixture.model}; {flow}" if fixture.model else flow
