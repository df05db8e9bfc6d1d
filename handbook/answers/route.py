"""Route: how to walk from here to that thing, how far it is, about how long it takes.

The way is the shortest one through the middle of each door and round corners. The time is at the
speeds of the table `walking`, without the time to look, to lift a lid or to fetch a tool. Where
outlines or doors are not recorded, the way is told from room to room, without distance and
without left and right, and what is wanting is said.
"""

from dataclasses import dataclass
from math import ceil

from handbook.answers.finding.directions import directions, path, side_of
from handbook.answers.finding.heights import said_height
from handbook.answers.not_asked import NoSuchThingError
from handbook.house.floor_plan import Anchor, Passage
from handbook.house.house import House
from handbook.house.places import Places, hidden
from handbook.house.spaces import XY
from handbook.house.walks import Walk
from handbook.measures import Units
from handbook.measures.values import METRES_PER_FOOT
from handbook.record.grammar.places import OUTSIDE
from handbook.record.problems import nearest
from handbook.tables import table


class NoSuchPlaceError(NoSuchThingError):
    """No room and no thing goes by that id; `near` is the closest that does."""


@dataclass(frozen=True)
class Route:
    """A way on foot. Distances in feet, times in seconds; None where they cannot be known.

    `up` and `down` count the flights of stairs on the way.
    """

    start: str
    goal: str
    start_name: str
    goal_name: str
    distance_ft: float | None
    seconds: float | None
    up: int
    down: int
    way: str
    """The way to the goal's room, as a sentence; empty where one is in it, or none is known."""
    standing: str
    """Where the goal is from where one comes into its room: `ahead on your left, 14 ft in`."""
    place: str
    """What the record says of its place: cover, words, height."""
    rooms: tuple[str, ...]
    path: tuple[tuple[str, tuple[XY, ...]], ...]
    """For a map: level id (or `outside`) and points in inches, for each zone crossed."""
    assumed: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def there(self) -> str:
        """Where the goal is once one has come into its room."""
        return "; ".join(part for part in (self.standing, self.place) if part)

    @property
    def words(self) -> str:
        """The whole way in words."""
        there = f"There: {self.there}." if self.way and self.there else self.there
        if not self.way and there:
            there = f"{there[:1].upper()}{there[1:]}."
        return " ".join(part for part in (self.way, there) if part)


def route(house: House, start: str, goal: str) -> Route:
    """How to walk from a room or thing to a room or thing. Raises NoSuchPlaceError."""
    begin, end = anchor(house, start), anchor(house, goal)
    walk = house.plan.walks.to(begin, end)
    if walk is None:
        said = _nowhere(house, start, begin, goal, end)
        names = (_name(house, start), _name(house, goal))
        return Route(
            start, goal, *names, None, None, 0, 0, "", "", _place(house, goal), (), (), (), said
        )
    measured = walk.length is not None and bool(walk.passages or end.point)
    way = directions(house, walk, begin, end)
    climbs = [_climb(passage, zone) for passage, zone in _entered(walk) if passage.kind == "stairs"]
    return Route(
        start,
        goal,
        _name(house, start),
        _name(house, goal),
        (walk.length or 0.0) / 12 if measured else None,
        _seconds(walk) if measured else None,
        sum(climb > 0 for climb in climbs),
        sum(climb < 0 for climb in climbs),
        f"{way[:1].upper()}{way[1:]}." if way else "",
        _standing(house, walk, begin, end),
        _place(house, goal),
        walk.zones,
        tuple(path(house.plan, walk, begin, end)),
        _assumed(house, start, begin, walk),
        _missing(house, goal, walk),
    )


def anchor(house: House, name: str) -> Anchor:
    """Where a room or a thing is on the plan. Raises NoSuchPlaceError.

    A stop that is recorded in its fixture stands beside it.
    """
    if name in house.places.rooms or name == OUTSIDE:
        return Anchor(name)
    item = house.items.get(name)
    if item is None:
        known = (*house.places.rooms, *house.items, OUTSIDE)
        why = f"`{name}` is neither a room nor a thing of this record"
        if name in house.places.levels:
            raise NoSuchPlaceError(name, None, f"`{name}` is a level", "name one of its rooms")
        raise NoSuchPlaceError(name, nearest(name, known), why)
    owner = house.items.get(item.owner or "")
    return house.plan.anchor(item.place, owner.place if owner else None)


def walking_inches(house: House, start: str, goal: str) -> float:
    """The shortest way in inches; `inf` where it cannot be measured."""
    return house.plan.walks.distance(anchor(house, start), anchor(house, goal))


def said_walk(answer: Route, units: Units) -> str:
    """Say `52 ft, one flight down, about 25 seconds`; empty where it is not known."""
    if answer.distance_ft is None or answer.seconds is None:
        return ""
    far = said_far(answer.distance_ft, units)
    flights = [_flights(answer.up, "up"), _flights(answer.down, "down")]
    return ", ".join(word for word in (far, *flights, said_seconds(answer.seconds)) if word)


def said_far(feet: float, units: Units) -> str:
    """Say a distance walked, to the foot or the metre."""
    if units == "metric":
        return f"{max(1, round(feet * METRES_PER_FOOT))} m"
    return f"{max(1, round(feet))} ft"


def counted(seconds: float) -> int:
    """Return a time on foot as people count it: in fives, rounded up, five at the least."""
    return max(5, 5 * ceil(seconds / 5))


def said_seconds(seconds: float) -> str:
    """Say a time, rounded up to five seconds."""
    return f"about {counted(seconds)} seconds"


def pace(units: Units) -> str:
    """Say the speeds that times are reckoned at."""
    speeds = _speeds()
    if units == "metric":
        level, down, up = (f"{speed * METRES_PER_FOOT:.2g} m/s" for speed in speeds)
    else:
        level, down, up = (f"{speed:.2g} ft/s" for speed in speeds)
    return f"walking at {level}, {down} down and {up} up stairs"


def _speeds() -> tuple[float, float, float]:
    """Feet a second on the level, down and up."""
    known = table("walking").values
    return (
        known["level_ft_s"],
        known["down_m_s"] / METRES_PER_FOOT,
        known["up_m_s"] / METRES_PER_FOOT,
    )


def _flights(count: int, way: str) -> str:
    words = {1: "one flight", 2: "two flights", 3: "three flights"}
    return f"{words.get(count, f'{count} flights')} {way}" if count else ""


def _seconds(walk: Walk) -> float:
    level, down, up = _speeds()
    flat, seconds = walk.length or 0.0, 0.0
    for passage, zone in _entered(walk):
        climb = _climb(passage, zone)
        if climb:
            flat -= passage.length
            seconds += passage.length / 12 / (up if climb > 0 else down)
    return seconds + flat / 12 / level


def _entered(walk: Walk) -> list[tuple[Passage, str]]:
    """Each passage with the zone that it leads into."""
    return list(zip(walk.passages, walk.zones[1:], strict=True))


def _climb(passage: Passage, zone: str) -> float:
    """How much one climbs; by its foot and head alone where the rise is not recorded."""
    rise = passage.rise_toward(zone)
    if rise is None and passage.kind == "stairs":
        return 1.0 if zone == passage.b else -1.0
    return rise or 0.0


def _name(house: House, name: str) -> str:
    if name in house.places.rooms:
        return house.places.rooms[name][0].name
    return house.items[name].name if name in house.items else name


def _standing(house: House, walk: Walk, begin: Anchor, end: Anchor) -> str:
    """Say where the goal is from where one comes in: `ahead on your left, 12 ft in`."""
    side = side_of(house, walk, begin, end)
    zone = house.plan.zones[walk.zones[-1]]
    if not side or zone.space is None or end.point is None:
        return ""
    here = walk.passages[-1].toward(zone.id)[-1]
    far = said_far(zone.space.length(here, end.point) / 12, house.record.house.units)
    return f"{side}, {far} {'away' if zone.name == OUTSIDE else 'in'}"


def _place(house: House, goal: str) -> str:
    item = house.items.get(goal)
    place = item.place if item else None
    cover = hidden(place) if place else None
    where = " ".join((place.where or "").split()).rstrip(".") if place else ""
    said = [cover, where, said_height(house, place)]
    return "; ".join(word for word in said if word)


def _nowhere(house: House, start: str, begin: Anchor, goal: str, end: Anchor) -> tuple[str, ...]:
    """Say why no way is known."""
    said = [
        f"Which room {name} is in has not been recorded."
        for name, at in ((start, begin), (goal, end))
        if at.zone is None
    ]
    if said:
        return tuple(said)
    names = [_zone(house.places, at.zone or "") for at in (begin, end)]
    return (f"No doors or stairs that join {names[0]} with {names[1]} are recorded.",)


def _zone(places: Places, zone: str) -> str:
    return zone if zone in places.rooms else OUTSIDE


def _assumed(house: House, start: str, begin: Anchor, walk: Walk) -> tuple[str, ...]:
    said = []
    if walk.length is not None and begin.point is None:
        where = "" if start in house.places.rooms else f" of {_zone(house.places, walk.zones[0])}"
        said.append(f"The walk is taken to begin in the middle of the room{where}.")
    if any(house.plan.zones[zone].level == OUTSIDE for zone in walk.zones):
        said += house.plan.assumed
    for passage, _ in _entered(walk):
        if passage.kind == "stairs" and passage.rise is None and walk.length is not None:
            said.append(f"How high {passage.label} rise is not recorded; reckoned as level.")
    return tuple(said)


def _missing(house: House, goal: str, walk: Walk) -> tuple[str, ...]:
    """What would have to be recorded for a better answer."""
    said = []
    if walk.length is None:
        for zone in walk.zones:
            if house.plan.zones[zone].space is None:
                said.append(f"The outline of {_zone(house.places, zone)} is not recorded.")
        for passage in walk.passages:
            if not passage.line:
                said.append(f"Where {passage.label} is has not been recorded.")
    elif walk.ends_short and goal in house.items:
        where = _zone(house.places, walk.zones[-1])
        said.append(f"Where in {where} {goal} is has not been recorded.")
    for passage, _ in _entered(walk):
        if passage.kind == "door" and passage.b == OUTSIDE and passage.rise:
            said.append(f"The steps outside {passage.label} are not recorded.")
    return tuple(said)
