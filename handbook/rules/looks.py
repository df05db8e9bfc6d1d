"""How rules look at a house: its valves, its sections, and whether a thing can be found."""

from handbook.house.house import House
from handbook.house.items import Item
from handbook.measures import PipeSize
from handbook.record.grammar.common import Handle, Place
from handbook.record.grammar.drains import Drains
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.safeguards import Safeguards
from handbook.record.grammar.walls import Walls
from handbook.record.grammar.water import Water

NAME_SLACK_IN = 0.1
"""A nominal size in millimetres is a name too: `100 mm` stands for 4 in although it is 3.94."""

ROUNDED = 0.005
"""Codes print their limits in metric rounded: 457 mm for 18 in, 38 mm for 1-1/2 in."""

SLOPE_ROUNDED = 0.04
"""And slopes more so: 2 % for 1/4 in per ft, which is 2.08 %."""


def water(house: House) -> Water:
    """Return the water section, with nothing recorded in it where it is left out."""
    return house.record.water or Water()


def drains(house: House) -> Drains:
    """Return the drains section, with nothing recorded in it where it is left out."""
    return house.record.drains or Drains()


def safeguards(house: House) -> Safeguards:
    """Return the safeguards section, with nothing recorded in it where it is left out."""
    return house.record.safeguards or Safeguards()


def walls(house: House) -> Walls:
    """Return the walls section, with nothing recorded in it where it is left out."""
    return house.record.walls or Walls()


def shutoffs(house: House) -> tuple[tuple[Item, Handle], ...]:
    """Return everything that can be turned, water and gas, in walking order."""
    items = house.items.values()
    return tuple((item, item.entry) for item in items if isinstance(item.entry, Handle))


def is_shutoff(house: House, thing: str | None) -> bool:
    """Whether a thing is a valve that serves less than the whole house."""
    item = house.items.get(thing) if thing else None
    if item is None or not isinstance(item.entry, Handle):
        return False
    valve = item.entry
    return not getattr(valve, "main", False) and not getattr(valve, "utility", False)


def can_be_found(place: Place | None) -> bool:
    """Whether a place says more than a level."""
    return place is not None and bool(place.where or place.room or place.at)


def is_indoors(house: House, place: Place | None) -> bool | None:
    """Whether a place is inside the building; None where the record does not say."""
    level = house.places.level_id(place)
    return None if level is None else level != OUTSIDE


def smaller(size: PipeSize, than_inches: float) -> bool:
    """Whether a nominal size is below a number of inches."""
    return size.inches < than_inches - NAME_SLACK_IN


def too_little(value: float, least: float, rounded: float = ROUNDED) -> bool:
    """Whether a measure is below a published least, beyond what rounding explains."""
    return value < least * (1 - rounded)


def too_much(value: float, most: float) -> bool:
    """Whether a measure is above a published most, beyond what rounding explains."""
    return value > most * (1 + ROUNDED)
