"""The levels of a house in the order of their elevations."""

from handbook.house.house import House


def upward(house: House) -> list[str]:
    """Return the levels from the lowest up; none where an elevation is not recorded."""
    levels = list(house.places.levels.values())
    if len(levels) > 1 and not all(level.elevation for level in levels):
        return []
    return [
        level.id
        for level in sorted(levels, key=lambda it: it.elevation.inches if it.elevation else 0.0)
    ]
