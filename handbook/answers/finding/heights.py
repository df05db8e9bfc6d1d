"""How high a thing is, said as people say it and with the number: `waist high (3 ft)`."""

from fractions import Fraction

from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.record.grammar.common import Place
from handbook.record.grammar.places import OUTSIDE
from handbook.tables import table

BY_EYE = Fraction(1, 2)


def said_height(house: House, place: Place | None) -> str:
    """Say a thing's height above the floor or ground, or its depth; empty where not recorded."""
    if place is None:
        return ""
    units = house.record.house.units
    if place.depth is not None:
        return f"{say_length(place.depth, units, BY_EYE)} below the ground"
    if place.height is None:
        return ""
    said = _words(place.height, _ceiling(house, place))
    if house.places.level_id(place) == OUTSIDE:
        said = said.replace("floor", "ground")
    if not place.height.inches:
        return said
    return f"{said} ({say_length(place.height, units, BY_EYE)})"


def _ceiling(house: House, place: Place) -> Length | None:
    level = house.places.levels.get(house.places.level_id(place) or "")
    return level.ceiling if level else None


def _words(height: Length, ceiling: Length | None) -> str:
    known = table("heights_said").values
    if ceiling and ceiling.inches - height.inches <= known["near_ceiling_in"]:
        return str(known["near_ceiling"])
    bands: list[tuple[float | None, str]] = known["bands"]
    return next(words for top, words in bands if top is None or height.inches <= top)
