"""How high things stand: feet above the main floor, for what height costs in pressure."""

from handbook.house.places import Places
from handbook.record.grammar.common import Place
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.record import Record
from handbook.tables import table

FROM_ARM = ("shower",)
"""Kinds whose water comes out well above their rim."""


def base(record: Record, places: Places, place: Place | None) -> float | None:
    """Return the floor's elevation at a place, outdoors the ground's; None if not recorded."""
    level = places.level_id(place)
    if level == OUTSIDE:
        grade = record.site.grade if record.site else None
        return grade.feet if grade else None
    found = places.levels.get(level) if level else None
    return found.elevation.feet if found and found.elevation else None


def of_place(record: Record, places: Places, place: Place | None) -> float | None:
    """Return how high a place is; None where its floor or its height above it is not recorded."""
    ground = base(record, places, place)
    if ground is None or place is None:
        return None
    if place.height is not None:
        return ground + place.height.feet
    return ground - place.depth.feet if place.depth is not None else None


def of_outlet(record: Record, places: Places, fixture: Fixture) -> tuple[float | None, bool]:
    """Return how high a fixture's water comes out, and whether that much had to be assumed.

    From its rim, or from its own height; a shower's arm, and what the record does not say, from
    the table. None where its floor's elevation is not recorded.
    """
    ground = base(record, places, fixture.place)
    if ground is None:
        return None, False
    if fixture.kind not in FROM_ARM:
        own = fixture.place.height if fixture.place else None
        above = fixture.rim or own
        if above is not None:
            return ground + above.feet, False
    usual = table("outlet_heights").values.get(fixture.kind, 0)
    return ground + usual / 12, True
