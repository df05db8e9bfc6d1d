"""What stops a fixture's water sooner than its valve: a toilet's flap; and its valve."""

from collections.abc import Iterable

from handbook.answers.isolate import isolate
from handbook.answers.isolating.rungs import Rung
from handbook.house.house import House
from handbook.pages.content import Line
from handbook.pages.how_turned import how_they_turn
from handbook.pages.valves import first, tags
from handbook.pages.words import capital, plainly, sentences
from handbook.record.grammar.common import each
from handbook.tables import table


def first_aid(kinds: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Return (kind in plain words, what to do) for each of these that has something to do."""
    acts = table("before_the_valve").values
    known = dict.fromkeys(kind for kind in kinds if kind in acts)
    return tuple((_name(kind), sentences(acts[kind])) for kind in known)


def toilet_stops(house: House) -> Line:
    """What stops each toilet alone, and in which room: `W23 (powder room), W36 (hall bath)`."""
    said: Line = ()
    for toilet, rung in _toilets(house):
        room = house.places.room_name(house.items[toilet].place)
        said += (*((", ",) if said else ()), *tags(house, rung.close))
        said += (f" ({room})",) if room else ()
    return said


def toilet_valve(house: House) -> str:
    """What to look for: `its valve by the bowl`, where each toilet has a stop of its own."""
    owned = all(house.items[v].owner == it for it, rung in _toilets(house) for v in rung.close)
    return "its valve by the bowl" if owned and _toilets(house) else "its valve"


def how_toilet_stops_turn(house: House) -> Line:
    """How these are turned, each way once; empty where there are none."""
    return how_they_turn(rung for _, rung in _toilets(house))


def _toilets(house: House) -> list[tuple[str, Rung]]:
    """Each toilet that has a step which stops it alone, with that step."""
    known = [it.id for it in each(house.record.fixtures) if it.kind == "water closet"]
    steps = [(name, first(isolate(house, name))) for name in known]
    return [(name, it) for name, it in steps if it and not it.also_off and not it.utility]


def _name(kind: str) -> str:
    return capital(plainly(kind).partition(" (")[0])
