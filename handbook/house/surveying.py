"""The floor plan drawn from the record: its rooms, doors, stairs, and the ground outside.

What is wanting for a zone or a passage to be measured is kept in words, as it is come upon.
"""

from math import dist
from typing import Literal

from handbook.house.floor_plan import FAR_OFF, FloorPlan, Passage, Zone
from handbook.house.places import Places
from handbook.house.spaces import XY, Space, space
from handbook.record.grammar.common import each, given
from handbook.record.grammar.places import OUTSIDE, Door, Level, Stair, Steps
from handbook.record.grammar.record import Record
from handbook.record.knowing import ABSENT


def draw(record: Record, places: Places) -> FloorPlan:
    """Build the plan of a record."""
    draft = _Draft(record, places)
    draft.draw()
    return FloorPlan(draft.zones, tuple(draft.passages), tuple(draft.missing), tuple(draft.assumed))


class _Draft:
    """Collects zones and passages while the record is walked; used once, in `draw`."""

    def __init__(self, record: Record, places: Places) -> None:
        self.record, self.places = record, places
        self.zones: dict[str, Zone] = {}
        self.passages: list[Passage] = []
        self.missing: list[str] = []
        self.assumed: list[str] = []

    def draw(self) -> None:
        for room, level in self.places.rooms.values():
            corners = tuple((p.x, p.y) for p in room.outline or ())
            found = space(corners)
            if found is None:
                fault = "crosses itself" if corners else "is not recorded"
                self.missing.append(f"The outline of {room.id} {fault}.")
            self.zones[room.id] = Zone(room.id, room.name.lower(), level.id, found)
        self.zones[OUTSIDE] = Zone(OUTSIDE, OUTSIDE, OUTSIDE, self._grounds())
        for level in self.places.levels.values():
            for door in each(level.doors):
                self._door(door, level)
        for stair in each(self.record.stairs):
            self._stair(stair)

    def _grounds(self) -> Space | None:
        """The ground around the building's outline, or around its rooms taken together."""
        site = self.record.site
        corners = tuple((p.x, p.y) for p in (site.building or ())) if site else ()
        found = space(corners, around=True)
        if found is not None:
            return found
        self.missing.append("The building's outline is not recorded.")
        together = _round_all([zone.space for zone in self.zones.values() if zone.space])
        if together:
            self.assumed.append("The building is taken to end where its rooms do.")
        return space(together, around=True)

    def _door(self, door: Door, level: Level) -> None:
        a, b = door.between
        label = f"the door between {a} and {b}"
        line: tuple[XY, ...] = ()
        if door.at is None:
            self.missing.append(f"Where {label} is has not been recorded.")
        else:
            line = self._through(door, (door.at.x, door.at.y), label)
        kind: Literal["door", "opening"] = "opening" if door.swings_into is ABSENT else "door"
        steps = given(door.steps)
        if OUTSIDE not in (a, b):
            self.passages.append(Passage(kind, a, b, line, label))
            return
        room = b if a == OUTSIDE else a
        line = line if a == room else line[::-1]
        floor, ground = self._height(room), self._height(OUTSIDE)
        fall = None if floor is None or ground is None else ground - floor
        if steps is None:
            if fall and door.steps is not ABSENT:
                self.missing.append(f"The steps outside {label} are not recorded.")
            self.passages.append(Passage(kind, room, OUTSIDE, line, label, fall))
            return
        self._steps(Passage(kind, room, "", line, label, fall), level, steps)

    def _steps(self, door: Passage, level: Level, steps: Steps) -> None:
        """Put a stoop outside an outer door, and the steps from it to the ground."""
        room, line, label = door.a, door.line, door.label
        stoop = f"{OUTSIDE} {room} {len(self.passages)}"
        grounds = self.zones[OUTSIDE].space
        self.zones[stoop] = Zone(stoop, OUTSIDE, level.id, grounds)
        self.passages.append(Passage(door.kind, room, stoop, line, label))
        starts = (steps.starts.x, steps.starts.y) if steps.starts else line[-1] if line else None
        ends = (steps.ends.x, steps.ends.y) if steps.ends else starts
        if steps.ends is None:
            self.missing.append(f"Where the steps outside {label} end is not recorded.")
        flight = (starts, ends) if starts and ends else ()
        self.passages.append(
            Passage(
                "steps", stoop, OUTSIDE, flight, f"the steps of {label}", door.rise, steps.count
            )
        )

    def _height(self, zone: str) -> float | None:
        """The height of a zone's floor above the main floor."""
        level = self.zones[zone].level
        if level == OUTSIDE:
            site = self.record.site
            return site.grade.inches if site and site.grade else None
        found = self.places.levels[level].elevation if level else None
        return found.inches if found else None

    def _through(self, door: Door, at: XY, label: str) -> tuple[XY, ...]:
        """The way through a door's middle, from the one room's outline to the other's."""
        line = []
        for zone in door.between:
            known = self.zones[zone].space
            if known is None:
                line.append(at)
                continue
            line.append(known.nearest(at))
            if dist(line[-1], at) > FAR_OFF:
                self.missing.append(f"The recorded point of {label} is not at the wall of {zone}.")
                return ()
        return tuple(line)

    def _stair(self, stair: Stair) -> None:
        label = f"the stairs {stair.id}"
        so_far = FloorPlan(self.zones, tuple(self.passages), (), ())
        foot, head = so_far.anchor(stair.foot), so_far.anchor(stair.head)
        if foot.zone is None or head.zone is None:
            self.missing.append(f"Which rooms {label} join is not recorded.")
            return
        line: tuple[XY, ...] = ()
        if foot.point is None or head.point is None:
            self.missing.append(f"Where {label} begin and end is not recorded.")
        else:
            turns = tuple((p.x, p.y) for p in stair.turns or ())
            line = (foot.point, *turns, head.point)
        low, high = self._height(foot.zone), self._height(head.zone)
        rise = None if low is None or high is None else high - low
        if rise is None:
            self.missing.append(f"How high {label} rise is not recorded.")
        self.passages.append(
            Passage("stairs", foot.zone, head.zone, line, label, rise, stair.steps)
        )


def _round_all(spaces: list[Space]) -> tuple[XY, ...]:
    """The outline round all rooms, with gaps as wide as a wall closed; empty for several."""
    if not spaces:
        return ()
    from shapely.ops import unary_union

    half = 8.0
    grown = [one.polygon.buffer(half, join_style="mitre") for one in spaces]
    joined = unary_union(grown).buffer(-half, join_style="mitre")
    if joined.geom_type != "Polygon" or joined.is_empty:
        return ()
    return tuple(joined.exterior.coords)[:-1]
