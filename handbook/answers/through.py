"""Water is coming through here: what may be leaking, and the valves that stop all of it at once.

For a room and a sign (the ceiling, a wall, the floor, a fixture) every recorded thing and pipe is
found from which water could come that way. The ladder's first rung then stops all of them, at the
least loss, before anybody has looked for the leak. A drain has no valve: for those it is said what
must not be used. It finds rather too much than too little; what is not recorded is not suspected,
and that is said.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, get_args

from handbook.answers.finding.hidden_pipes import Piped, at_ceiling, drain_pipes, supply_pipes
from handbook.answers.finding.meanwhile import cooling, not_to_use
from handbook.answers.finding.surroundings import Surroundings, at_wall_of, surroundings
from handbook.answers.isolate import isolate
from handbook.answers.isolating.assumed import assumed
from handbook.answers.isolating.ladder import cuts
from handbook.answers.isolating.rungs import Leak, Rung, Turn, climb
from handbook.answers.isolating.shut_already import shut_already
from handbook.answers.isolating.targets import WHOLE
from handbook.answers.not_asked import NoSuchThingError, no_room
from handbook.answers.route import Route, route
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.once import once
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.safeguards import Condensate, Pan

Sign = Literal["ceiling", "wall", "floor", "fixture"]
SIGNS: tuple[Sign, ...] = get_args(Sign)


class NoSuchRoomError(NoSuchThingError):
    """No room goes by that id; `near` is the closest that does."""


@dataclass(frozen=True)
class Suspect:
    """One thing, or one run of pipe, that the water may come from.

    `id` is a thing's, or `pipe to X`; `room` where it is, or the nearest of the rooms that hide
    it; `way` how a pipe goes. `thing` is what a pipe is recorded with; `nodes` are those of the
    water network that have to be dry, none for a drain or a pan.
    """

    id: str
    name: str
    kind: Literal["fixture", "equipment", "pipe", "drain", "pan"]
    room: str | None
    way: str = ""
    thing: str = ""
    nodes: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Through:
    """What may be leaking, and what to close. `ladder[0]` stops every supply among the suspects.

    `ladder` is empty where no supply is suspected (see `suspects`), or no valve is recorded. Where
    nothing stops all of them (the pipe ahead of the only main is one), it is that of the whole
    house: `left_running` tells what goes on.
    `stop_using`: fixtures whose waste runs through a suspected drain. `turn_off`: what makes the
    water of a suspected condensate drain, in words. `unsure`: nothing is recorded that would
    explain the water, or too little of the house; then `ladder` is that of the whole house.
    `kept_off`: where no water reaches any of it by the record, the closed valves that keep it
    away; `ladder` is then what to close if they do not hold, or stand open after all.
    """

    room: str
    name: str
    signs: tuple[Sign, ...]
    suspects: tuple[Suspect, ...]
    ladder: tuple[Rung, ...]
    stop_using: tuple[str, ...]
    turn_off: tuple[str, ...]
    unsure: bool
    kept_off: tuple[Turn, ...]
    assumed: tuple[str, ...]
    missing: tuple[str, ...]


@once
def through(house: House, room: str, sign: Sign | None = None) -> Through:
    """Return what may be leaking into a room; without a sign, by any. Raises NoSuchRoomError."""
    if room not in house.places.rooms:
        raise NoSuchRoomError(*no_room(house, room))
    search = _Search(house, room, (sign,) if sign else SIGNS)
    things, pipes, drains = search.things(), search.pipes(), search.drains()
    suspects = (*map(search.suspect, things), *map(search.piped, (*pipes, *drains)))
    targets = frozenset(node for suspect in suspects for node in suspect.nodes)
    own = frozenset(supply for item in things for supply in house.water.own.get(item.id, ()))
    leak = Leak(room, room, targets, own)
    unsure = search.blind or not (things or pipes or drains)
    kept, rungs = _stopped(house, leak, unsure)
    return Through(
        room,
        house.places.rooms[room][0].name,
        search.signs,
        suspects,
        rungs,
        not_to_use(house, drains),
        cooling(things),
        unsure,
        kept,
        (*search.around.assumed, *(assumed(house, targets, rungs) if targets else ())),
        tuple(search.missing()),
    )


def _stopped(house: House, leak: Leak, unsure: bool) -> tuple[tuple[Turn, ...], tuple[Rung, ...]]:
    """Return what keeps the water away already, by the record, and what to close."""
    whole = isolate(house, WHOLE)
    if unsure:
        return whole.kept_off, whole.ladder or whole.nevertheless
    if not leak.targets:
        return (), ()
    if not cuts(house.water.network, leak.targets):
        return (), climb(house, leak) or whole.ladder
    return shut_already(house, leak)


def walks(house: House, answer: Through) -> tuple[Route, ...]:
    """Return the way from the room to each valve of the first rung, after those that are closed
    by the record."""
    first = answer.ladder[0] if answer.ladder else None
    closed = tuple(turn.id for turn in answer.kept_off)
    valves = (*closed, *first.close, *first.open) if first else closed
    return tuple(route(house, answer.room, valve) for valve in valves)


def left_running(house: House, answer: Through, rung: Rung) -> tuple[Suspect, ...]:
    """Return the suspects that get water still, once these valves are turned."""
    network = house.water.network
    wet = (suspect for suspect in answer.suspects if suspect.nodes)
    return tuple(s for s in wet if not cuts(network, s.nodes, rung.close, rung.open))


def _used(item: Item) -> bool:
    """Whether people would call a thing a fixture or a machine, not a part of the pipe."""
    return item.system == "fixture" or item.kind in ("water heater", "water softener")


class _Search:
    """Which things and pipes are suspected for one room; the signs are looked at one by one."""

    def __init__(self, house: House, room: str, signs: tuple[Sign, ...]) -> None:
        self.house, self.room, self.signs = house, room, signs
        self.around: Surroundings = surroundings(house, room)
        self.above = set(self.around.above or ())
        self.beside = set(self.around.beside or ())
        self.below = set(self.around.below or ())
        self.supplies = supply_pipes(house)

    @property
    def blind(self) -> bool:
        """Whether it is not known what lies where the sign points."""
        asked = {"ceiling": self.around.above, "wall": self.around.beside}
        return any(sign in asked and asked[sign] is None for sign in self.signs)

    def things(self) -> tuple[Item, ...]:
        return tuple(item for item in self.house.items.values() if self._thing(item))

    def _thing(self, item: Item) -> bool:
        wet = item.id in self.house.water.bodies and item.kind not in ("shutoff", "stop")
        if not wet and not isinstance(item.entry, Condensate | Pan):
            return False
        room = item.place.room if item.place else None
        return any(self._thing_by(item, room, sign) for sign in self.signs)

    def _thing_by(self, item: Item, room: str | None, sign: Sign) -> bool:
        high = at_ceiling(self.house, item.id)
        if sign == "ceiling":
            return room in self.above or (room == self.room and high)
        if sign == "wall":
            fixture = item.system == "fixture" and room in self.beside
            return fixture and at_wall_of(self.house, item, self.room)
        return room == self.room and not high and (sign == "floor" or _used(item))

    def pipes(self) -> tuple[Piped, ...]:
        return tuple(pipe for pipe in self.supplies if self._pipe(pipe))

    def drains(self) -> tuple[Piped, ...]:
        return tuple(pipe for pipe in drain_pipes(self.house) if self._pipe(pipe))

    def _pipe(self, pipe: Piped) -> bool:
        return any(self._pipe_by(pipe, sign) for sign in self.signs)

    def _pipe_by(self, pipe: Piped, sign: Sign) -> bool:
        here = self.room in pipe.rooms
        if sign == "ceiling":
            over_this = here and pipe.flat and not self._under_this(pipe)
            return bool(pipe.rooms & self.above) or (over_this and self._overhead(pipe))
        if sign == "wall":
            item = self.house.items[pipe.thing]
            room = item.place.room if item.place else None
            theirs = item.system == "fixture" and room in self.beside
            return (here and pipe.upright) or (theirs and at_wall_of(self.house, item, self.room))
        if sign == "floor":
            return here and (not pipe.flat or self._under_this(pipe) or not self._overhead(pipe))
        return here and self._serves_this(pipe)

    def _under_this(self, pipe: Piped) -> bool:
        """Whether a pipe in a floor lies in this room's own: it is hidden from below, too."""
        return bool(pipe.rooms & self.below) and not pipe.rooms & self.above

    def _overhead(self, pipe: Piped) -> bool:
        return self.room in pipe.high

    def _serves_this(self, pipe: Piped) -> bool:
        item = self.house.items[pipe.thing]
        return item.place is not None and item.place.room == self.room and _used(item)

    def suspect(self, item: Item) -> Suspect:
        kind: Literal["fixture", "equipment", "pan"] = "equipment"
        if item.system == "fixture":
            kind = "fixture"
        elif isinstance(item.entry, Condensate | Pan):
            kind = "pan"
        nodes = self.house.water.bodies.get(item.id, frozenset())
        room = item.place.room if item.place else None
        return Suspect(item.id, item.name, kind, room, "", item.id, nodes)

    def piped(self, pipe: Piped) -> Suspect:
        name = self.house.items[pipe.thing].name
        room = next(iter(sorted(pipe.rooms, key=self._nearness)), None)
        if pipe.system == "drain":
            own = self.house.items[pipe.thing].system == "fixture"
            named = f"drain of {name}" if own else name
            return Suspect(pipe.thing, named, "drain", room, pipe.way, pipe.thing)
        end = pipe.end.removesuffix(".in")
        side = end.removeprefix(pipe.thing).lstrip(".")
        named, nodes = f"{side} pipe to {name}".strip(), frozenset({pipe.end})
        return Suspect(f"pipe to {end}", named, "pipe", room, pipe.way, pipe.thing, nodes)

    def _nearness(self, room: str) -> tuple[bool, bool, str]:
        return (room not in self.above, room != self.room, room)

    def missing(self) -> Iterator[str]:
        """Yield what would have to be recorded for a surer answer."""
        for what, found in (("above", self.around.above), ("beside", self.around.beside)):
            if found is None:
                yield f"What lies {what} {self.room} is not known: outlines, or heights of levels."
        for pipe in self.supplies:
            outdoors = self.house.places.level_id(self.house.items[pipe.thing].place) == OUTSIDE
            if not pipe.rooms and not outdoors:
                yield f"Which rooms hide the pipe to {pipe.thing} is not recorded."
