"""Where valves are, in one sentence: the room, what hides them, the spot, what to take along."""

import re

from handbook.house.house import House
from handbook.house.places import hidden
from handbook.pages.words import bare, capital, lower
from handbook.record.grammar.common import Handle, Place, given


def whereabouts(
    house: House, here: Place | None, valves: tuple[str, ...], *, tools: bool = True
) -> str:
    """Where the valves are: the room once, unless it is this one, then what hides them and the
    spot, and what to take along. What a spot has in common with the one before is not said again:
    `in the cabinet, right; left`."""
    said: list[str] = []
    before: list[str] = []
    for valve in valves:
        place = house.items[valve].place
        room = house.places.room_and_level(place)
        if room and room != house.places.room_and_level(here):
            said += [f"{_far_room(house, place, here)}:"]
            before = []
        words = _spot(house, valve).split(", ")
        said += [f"{', '.join(_unlike(before, words))};"]
        here, before = place, words
    taken = [tool for valve in valves if tools and (tool := take_along(house, valve))]
    said += [f"take along: {tool};" for tool in dict.fromkeys(taken)]
    return capital(bare(" ".join(dict.fromkeys(said))))


_NO_SPOT = "where in this room is not recorded"


def named_in(house: House, words: str, but: str | None = None) -> str:
    """Where the house's own valves are that these words of the record name: `W3: outside: small
    round box in the lawn; take along: curb key`. Empty where they name none but this one."""
    tags = dict.fromkeys(re.findall(r"[A-Za-z0-9]+", words))
    valves = [
        tag
        for tag in tags
        if tag != but and tag in house.items and isinstance(house.items[tag].entry, Handle)
    ]
    return "; ".join(f"{valve}: {lower(whereabouts(house, None, (valve,)))}" for valve in valves)


def take_along(house: House, thing: str) -> str | None:
    """What to take along to a valve of the house's own."""
    handle = house.items[thing].entry
    if not isinstance(handle, Handle) or getattr(handle, "utility", False):
        return None
    tool = given(handle.tool)
    return bare(tool).partition(";")[0] if tool else None


def _far_room(house: House, place: Place | None, here: Place | None) -> str:
    """Another room, with its level if that is another too."""
    same = here and house.places.level_id(place) == house.places.level_id(here)
    room = house.places.room_name(place) if same else None
    return room or house.places.room_and_level(place) or ""


def _unlike(before: list[str], words: list[str]) -> list[str]:
    """The words without those that both begin with; all of them where nothing would be left."""
    alike = 0
    while alike < min(len(before), len(words)) and before[alike] == words[alike]:
        alike += 1
    return words[alike:] or words


def _spot(house: House, valve: str) -> str:
    """The place inside its room, as short as it is recorded."""
    item = house.items[valve]
    place = item.place
    if place is None or not item.says_where:
        return "its place is not recorded"
    where = bare(place.where or lower(house.places.say_there(place) or _NO_SPOT))
    cover = given(place.behind)
    if not cover or not place.where or bare(cover) in where:
        return where
    return f"{bare(hidden(place) or '')}, {where}"
