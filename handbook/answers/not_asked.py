"""What was asked about is not there, or is not of the kind that the question is for.

Whoever asks has a word from the record in hand, a tag or a room; so the refusal says what that
word is in this house, and what to ask instead.
"""

from collections.abc import Iterable

from handbook.house.house import House
from handbook.house.items import Item
from handbook.record.grammar.places import OUTSIDE
from handbook.record.problems import nearest

MOST_NAMED = 6


class NoSuchThingError(LookupError):
    """The question cannot be asked about this; `near` is the closest it could be asked about.

    `hint` is what to ask instead, empty where there is nothing to say.
    """

    def __init__(self, thing: str, near: str | None, why: str, hint: str = "") -> None:
        super().__init__(why + (f"; did you mean `{near}`?" if near else ""))
        self.thing, self.near, self.hint = thing, near, hint


def no_thing(house: House, name: str, fit: Iterable[str]) -> NoSuchThingError:
    """Refuse a name that is the id of no thing: a room, a level, or nothing in this record.

    `fit` are the ids that the question could be asked about.
    """
    if name in house.places.rooms:
        hint = f"ask what comes into it: `handbook through HOUSE {name}`{_inside(house, name)}"
        return NoSuchThingError(name, None, f"`{name}` is a room, not a thing", hint)
    if name in house.places.levels or name == OUTSIDE:
        hint = "ask about a thing there, by its id"
        return NoSuchThingError(name, None, f"`{name}` is a level, not a thing", hint)
    why = f"`{name}` is not the id of anything in this record"
    return NoSuchThingError(name, nearest(name, fit), why, "ids stand in the record as `id:`")


def _inside(house: House, room: str) -> str:
    inside = [name for name, item in house.items.items() if item.place and item.place.room == room]
    shown = ", ".join(inside[:MOST_NAMED]) + (", ..." if len(inside) > MOST_NAMED else "")
    return f"; or about a thing in it: {shown}" if inside else ""


def no_room(house: House, name: str) -> tuple[str, str | None, str, str]:
    """Say why a name is no room's: the thing, the nearest, the words and the hint for an error."""
    item = house.items.get(name)
    if item is not None:
        room = item.place.room if item.place else None
        hint = (
            f"it stands in the room `{room}`: ask about that" if room in house.places.rooms else ""
        )
        return name, None, f"`{name}` is a thing ({item.name}), not a room", hint
    if name in house.places.levels:
        return name, None, f"`{name}` is a level, not a room", "name one of its rooms"
    near = nearest(name, tuple(house.places.rooms))
    hint = "rooms stand in the record under `levels: rooms`"
    return name, near, f"`{name}` is not a room of this record", hint


def no_water(item: Item) -> NoSuchThingError:
    """Refuse a thing of the record in which no supply water stands."""
    why, hint = f"`{item.id}` ({item.name}) holds no supply water", ""
    if item.system == "drain":
        why += ": it is a drain, and no valve stops a drain"
        hint = "which drain is blocked: `handbook stoppage HOUSE THING`, with what backs up"
    elif item.system == "gas":
        why += ": it is on the gas line"
        hint = "whom to call about gas: `handbook whom HOUSE`; its pipes: `handbook gas HOUSE`"
    return NoSuchThingError(item.id, None, why, hint)
