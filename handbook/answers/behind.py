"""Behind this wall: what a room's walls, floor and ceiling hide, before anybody drills.

A pipe belongs to the rooms that its record names (`through`) and to those of its two ends, and one
in the wall to the next room to that room too; one of a fixture that stands at the wall to the next
room may be in that wall, and belongs to both, unless the record tells of another wall. `wall_of`
(see `finding`) says in which wall one is. One that ends in two rooms, with nothing
recorded of what it passes between them, may be behind any wall; it is listed once, for the house,
and never left out silently.
"""

from dataclasses import dataclass

from handbook.answers.finding.across import across
from handbook.answers.finding.hidden_pipes import (
    Piped,
    drain_pipes,
    gas_pipes,
    supply_pipes,
    vent_pipes,
)
from handbook.answers.finding.room_sides import sides_toward
from handbook.answers.finding.surroundings import at_wall_of, surroundings
from handbook.answers.finding.wall_names import leads_to
from handbook.answers.finding.which_wall import wall_of
from handbook.answers.not_asked import NoSuchThingError, no_room
from handbook.house.house import House
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.walls import Insulation, Photo, Shield, Walls


@dataclass(frozen=True)
class Behind:
    """What one room hides. A pipe of which it is not recorded whether it lies in the floor or in
    a wall is in both lists."""

    room: str
    in_walls: tuple[Piped, ...]
    in_floor_or_ceiling: tuple[Piped, ...]
    shields: tuple[Shield, ...]
    insulation: tuple[Insulation, ...]
    photos: tuple[Photo, ...]

    @property
    def anything(self) -> bool:
        """Whether the record knows of anything there."""
        pipes = self.in_walls or self.in_floor_or_ceiling
        return bool(pipes or self.shields or self.insulation or self.photos)


def behind(house: House, room: str) -> Behind:
    """Return what a room hides. Raises NoSuchThingError."""
    if room not in house.places.rooms:
        raise NoSuchThingError(*no_room(house, room))
    pipes = _pipes(house)
    here = [pipe for pipe in pipes if room in pipe.rooms and _followed(pipe)]
    beside = _across_a_wall(house, room)
    next_door = _at_its_walls(house, room, beside)
    walls = house.record.walls or Walls()
    return Behind(
        room,
        tuple(
            pipe
            for pipe in pipes
            if pipe.upright
            and (
                pipe in here
                or (pipe.thing in next_door and _may_be(house, pipe, room))
                or _in_their_wall(house, pipe, room, beside)
            )
        ),
        tuple(pipe for pipe in here if pipe.flat),
        tuple(each_ for each_ in each(walls.shields) if _in(each_.place, room)),
        tuple(each_ for each_ in each(walls.insulation) if _in(each_.place, room)),
        tuple(photo for photo in each(walls.photos) if _shown(house, photo, room)),
    )


def anywhere(house: House) -> tuple[Piped, ...]:
    """Return the recorded pipes indoors of which nobody knows which rooms they pass."""
    return tuple(pipe for pipe in _pipes(house) if pipe.run and pipe.rooms and not _followed(pipe))


def either(pipe: Piped) -> bool:
    """Whether it is not recorded if a pipe lies in a floor or in a wall."""
    return pipe.flat and pipe.upright and not pipe.way


def _may_be(house: House, pipe: Piped, room: str) -> bool:
    """Whether the pipe of a fixture next door may be in the wall to this room."""
    place = house.items[pipe.thing].place
    home = place.room if place else None
    if home is None or either(pipe) or not (own := wall_of(house, pipe, home)):
        return True
    return leads_to(house, own, room)


def _in_their_wall(house: House, pipe: Piped, room: str, beside: tuple[str, ...]) -> bool:
    """Whether the record tells that a pipe of a room beside lies in the wall to this one."""
    place = house.items[pipe.thing].place
    home = place.room if place else None
    if home is None or home not in beside:
        return False
    return leads_to(house, wall_of(house, pipe, home), room)


def _across_a_wall(house: House, room: str) -> tuple[str, ...]:
    """Return the rooms beside, without those that are known to meet this one at a corner alone."""
    drawn = {each_ for each_ in house.places.rooms if house.plan.zones[each_].space}
    return tuple(
        other
        for other in surroundings(house, room).beside or ()
        if not {room, other} <= drawn or sides_toward(house, room, other)
    )


def _at_its_walls(house: House, room: str, beside: tuple[str, ...]) -> frozenset[str]:
    """Return the fixtures of the rooms beside that stand at the wall to this one."""
    return frozenset(
        item.id
        for item in house.items.values()
        if item.system == "fixture" and item.place and item.place.room in beside
        if house.plan.anchor(item.place).point and at_wall_of(house, item, room)
    )


def _pipes(house: House) -> tuple[Piped, ...]:
    return (*supply_pipes(house), *drain_pipes(house), *vent_pipes(house), *gas_pipes(house))


def _followed(pipe: Piped) -> bool:
    """Whether it is recorded which rooms a pipe passes; one room alone needs no record of it."""
    return len(pipe.rooms) == 1 or bool(pipe.run and pipe.run.through)


def _shown(house: House, photo: Photo, room: str) -> bool:
    """Whether a photo was taken in a room, or of the wall that it shares with the photo's room."""
    return _in(photo.place, room) or across(house, photo.place, photo.looks) == room


def _in(place: Place | None, room: str) -> bool:
    return place is not None and place.room == room
