"""The house as somebody walks it: zones, and the passages that lead from one to the next.

A zone is a room, the ground around the building, or the stoop (or deck) outside an outer door
that has steps. A passage is a door, an opening, a flight of stairs, or those outdoor steps. What
is not recorded stays unknown: a room without an outline still has its doors, a door without a
point still joins its rooms, and `missing` says which fact is wanted.

Coordinates and heights are inches.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import dist, hypot
from typing import TYPE_CHECKING, Literal

from handbook.house.spaces import XY, Space, length_of
from handbook.record.grammar.common import Place
from handbook.record.grammar.places import OUTSIDE

if TYPE_CHECKING:
    from handbook.house.walks import Walks

FAR_OFF = 36.0
"""Inches from its room's outline beyond which a recorded point is not believed."""


@dataclass(frozen=True)
class Zone:
    """A place to walk in. `level` is a level's id, or `outside` for the ground."""

    id: str
    name: str
    level: str | None
    space: Space | None


@dataclass(frozen=True)
class Passage:
    """A way from zone `a` to zone `b`; `line` leads from one to the other, empty where unknown.

    `rise` is how much higher `b` lies, None where it is not recorded; `label` says which it is.
    """

    kind: Literal["door", "opening", "stairs", "steps"]
    a: str
    b: str
    line: tuple[XY, ...]
    label: str
    rise: float | None = 0.0
    steps: int | None = None

    @property
    def length(self) -> float:
        """The length walked, up or down the slope; a rise that is not recorded adds nothing."""
        flat = length_of(self.line)
        return hypot(flat, self.rise or 0.0)

    def other(self, zone: str) -> str:
        """The zone on the other side."""
        return self.b if zone == self.a else self.a

    def toward(self, zone: str) -> tuple[XY, ...]:
        """The line as it is walked into `zone`."""
        return self.line if zone == self.b else self.line[::-1]

    def rise_toward(self, zone: str) -> float | None:
        """How much one climbs on the way into `zone`."""
        return self.rise if zone == self.b or self.rise is None else -self.rise


@dataclass(frozen=True)
class Anchor:
    """Where on the plan a thing is: its zone, and the point, as far as they are recorded."""

    zone: str | None
    point: XY | None = None


@dataclass(frozen=True)
class FloorPlan:
    """The zones by id, and the passages in the order of the record."""

    zones: dict[str, Zone]
    passages: tuple[Passage, ...]
    missing: tuple[str, ...]
    """What would have to be recorded for every zone and passage to be measured."""
    assumed: tuple[str, ...]

    @cached_property
    def walks(self) -> Walks:
        """The shortest ways over this plan."""
        from handbook.house.walks import Walks

        return Walks(self)

    def joined_to(self, zone: str) -> frozenset[str]:
        """The zones that passages join with this one, near or far, and the zone itself."""
        found, new = {zone}, {zone}
        while new:
            ends = [(p.a, p.b) for p in self.passages if p.a in new or p.b in new]
            new = {end for pair in ends for end in pair} - found
            found |= new
        return frozenset(found)

    def anchor(self, place: Place | None, beside: Place | None = None) -> Anchor:
        """Where a place is on the plan; `beside` lends its point where it is in the same room."""
        zone = self._zone_of(place)
        at = place.at if place else None
        if at is None and beside is not None and self._zone_of(beside) == zone:
            at = beside.at
        known = self.zones[zone].space if zone else None
        if zone is None or known is None or at is None:
            return Anchor(zone)
        point = known.nearest((at.x, at.y))
        return Anchor(zone, point if dist(point, (at.x, at.y)) <= FAR_OFF else None)

    def _zone_of(self, place: Place | None) -> str | None:
        if place is None:
            return None
        if place.room == OUTSIDE or (place.room is None and place.level == OUTSIDE):
            return self._stoop(place) or OUTSIDE
        if place.room is not None:
            return place.room
        return self._around(place) if place.at else None

    def _stoop(self, place: Place) -> str | None:
        """The stoop or deck that a place is on which is outside and yet on a level."""
        found = [p for p in self.passages if p.kind == "steps" and self._level(p.a) == place.level]
        if len(found) > 1 and place.at and all(passage.line for passage in found):
            at = (place.at.x, place.at.y)
            found = [min(found, key=lambda passage: dist(passage.line[0], at))]
        return found[0].a if len(found) == 1 else None

    def _level(self, zone: str) -> str | None:
        return self.zones[zone].level

    def _around(self, place: Place) -> str | None:
        """The one room of a level that a point lies in."""
        assert place.at is not None
        point = (place.at.x, place.at.y)
        found = [
            zone.id
            for zone in self.zones.values()
            if zone.level == place.level and zone.space and zone.space.holds(point)
        ]
        return found[0] if len(found) == 1 else None
