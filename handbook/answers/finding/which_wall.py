"""In which wall of a room a pipe lies, as far as the record tells; empty where it does not.

The words of its `way` come first (`inside the wall between kitchen and powder room`, `the utility
room's back wall`), then those of the place where it ends, then the rooms that it passes: a pipe
in one wall and in two rooms side by side is in the wall between them. Where two walls of a room
lead to one other room, the side of the compass tells them apart, by the words or by the point.
"""

import re
from dataclasses import dataclass

from handbook.answers.finding.hidden_pipes import Piped
from handbook.answers.finding.room_sides import beyond, end_point, foot, sides
from handbook.answers.finding.surroundings import surroundings
from handbook.answers.finding.wall_names import AT_IT, called, leads_to, toward
from handbook.answers.finding.way_words import Held, read
from handbook.house.house import House
from handbook.house.spaces import XY
from handbook.record.grammar.common import Place, each

TWO_OF_A_KIND = re.compile(r" between the two (\w+?)s\b")
BEHIND = re.compile(r" behind ([^,;.]+?)(?: then\b|[,;.]|$)")
PART = re.compile(r"\bat (its|the) [^,;.]*?\b(end|corner)\b")
SIDE = re.compile(r"(front|back|side|left|right|outer|end|north|south|east|west) $")


def wall_of(house: House, pipe: Piped, room: str) -> str:
    """Return the wall of a room in which a pipe lies, if it lies in one: `wall toward the hall`."""
    place = house.items[pipe.thing].place
    home = place.room if place else None
    point = end_point(house, pipe, room)
    if room not in pipe.rooms:
        return toward(house, room, home, point) if home else ""
    here, way = _Here(house, room, pipe.rooms, home == room, point), read(pipe.way)
    said = _told(here, pipe.way) or _told_next_door(here, pipe, home)
    if said or len(way.walls) != 1:
        return said
    where = place.where if place and place.where and home == room else ""
    shared = "" if _of_a_room(way.walls[0]) else _shared(here, pipe)
    behind = (_behind(here, pipe.way) if where else "") or _behind(here, where)
    return _told(here, where) or shared or behind


def wall_at(house: House, place: Place | None, room: str) -> str:
    """Return the wall of a room that the words of a place in it name."""
    if place is None or place.room != room or not place.where:
        return ""
    here = _Here(house, room, frozenset((room,)), True, house.plan.anchor(place).point)
    return _told(here, place.where) or _behind(here, place.where)


def part_of_wall(pipe: Piped) -> str:
    """Return which part of a wall the record says a pipe is in: `at its hall end`; else nothing."""
    found = PART.search(pipe.way)
    return found[0] if found else ""


@dataclass(frozen=True)
class _Here:
    """The room whose wall is sought, the rooms that a pipe passes, whether it ends in this, and the
    point at which it ends on this level."""

    house: House
    room: str
    rooms: frozenset[str]
    home: bool
    point: XY | None = None

    def name(self, room: str) -> str:
        return self.house.places.rooms[room][0].name.lower()

    def across(self, after: str) -> str | None:
        """The room named as that at the other side of a wall."""
        for other in surroundings(self.house, self.room).beside or ():
            mine, theirs = self.name(self.room), self.name(other)
            between = _begins(after, "between", f"{mine} and {theirs}", f"{theirs} and {mine}")
            if between or (self.home and _begins(after, "toward", theirs)):
                return other
            if self._two_of_a_kind(other, after):
                return other
        return None

    def _two_of_a_kind(self, other: str, after: str) -> bool:
        """Whether words go on with `between the two baths`, and these are the two: those passed,
        or the only two of the level."""
        kind = TWO_OF_A_KIND.match(after)
        level = {room.id for room in each(self.house.places.rooms[self.room][1].rooms)}
        alike = {room for room in level if kind and kind[1] in self.name(room)}
        passed = alike & self.rooms
        return (passed if len(passed) > 1 else alike) == {self.room, other}


def _told_next_door(here: _Here, pipe: Piped, home: str | None) -> str:
    """The wall of a room that a pipe's own room beside it calls the one toward this."""
    beside = surroundings(here.house, here.room).beside or ()
    if home is None or home not in beside:
        return ""
    theirs = wall_of(here.house, pipe, home)
    own = toward(here.house, here.room, home, here.point)
    return own if leads_to(here.house, theirs, here.room) else ""


def _told(here: _Here, words: str) -> str:
    """The wall of a room that these words name first."""
    found = (_named(here, wall) for wall in read(words).walls)
    return next(filter(None, found), "")


def _named(here: _Here, wall: Held) -> str:
    side = SIDE.search(wall.before)
    if other := here.across(wall.after):
        return toward(here.house, here.room, other, here.point, side[1] if side else None)
    name = here.name(here.room)
    owned = side and re.search(rf"\b{re.escape(name)}('s)?$", wall.before[: side.start()].rstrip())
    return f"{side[1]} wall" if side and (owned or _begins(wall.after, "of", name)) else ""


def _begins(after: str, word: str, *names: str) -> bool:
    """Whether words go on with `toward the kitchen`, the article left out or not."""
    bare = re.sub(r"\bthe ", "", after)
    return any(re.match(rf" {word} {re.escape(name)}\b", bare) for name in names)


def _behind(here: _Here, words: str) -> str:
    """The wall behind what stands before it, if these words say so of their first wall: by the
    room at its other side where the point is at one wall, else by what stands there."""
    walls = read(words).walls
    found = BEHIND.match(walls[0].after) if walls else None
    return (_at_point(here) or f"wall behind {found[1]}") if found else ""


def _at_point(here: _Here) -> str:
    """The name of the only wall at the point, if a room is behind it."""
    if here.point is None:
        return ""
    feet = [(side, foot(side, here.point)) for side in sides(here.house, here.room)]
    near = [(side, met[1]) for side, met in feet if met and met[0] <= AT_IT]
    if len(near) != 1:
        return ""
    other = beyond(here.house, here.room, *near[0])
    return called(here.house, here.room, other, near[0][0]) if other else ""


def _of_a_room(wall: Held) -> bool:
    """Whether words tell whose wall it is, so that the rooms passed do not."""
    bare = re.search(r"\b(the|a|one) $", wall.before)
    return bare is None or bool(re.match(" (between|of|toward) ", wall.after))


def _shared(here: _Here, pipe: Piped) -> str:
    """The wall to the only other room beside this one that a pipe in walls alone passes."""
    if read(pipe.way).flat:
        return ""
    house, room = here.house, here.room
    passed = set((pipe.run.through if pipe.run else None) or pipe.rooms)
    others = passed & {other.id for other in each(house.places.rooms[room][1].rooms)} - {room}
    beside = set(surroundings(house, room).beside or ())
    alone = len(others) == 1 and others <= beside
    return toward(house, room, min(others), here.point) if alone else ""
