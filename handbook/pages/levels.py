"""The order in which levels are listed, and what stands lowest and highest in the house.

Nothing is taken for high or low unless every level's elevation is recorded.
"""

from handbook.house.house import House
from handbook.house.items import Item
from handbook.record.grammar.common import each, given
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.places import OUTSIDE


def top_down(house: House) -> tuple[str, ...]:
    """Level ids from the top down; as recorded where not every elevation is known."""
    levels = list(house.places.levels.values())
    if all(level.elevation for level in levels):
        levels = sorted(levels, key=lambda level: -level.elevation.inches if level.elevation else 0)
    return tuple(level.id for level in levels)


def caption(house: House, level: str | None) -> str:
    """A level's name for a heading; a thing without a level has none recorded."""
    if level is None:
        return "Place not recorded"
    return "Outside" if level == OUTSIDE else house.places.levels[level].name


def tap(house: House, *, lowest: bool) -> Item | None:
    """A cold tap that a person can open on the lowest, or the highest, level that has one."""
    kinds = ("laundry tub", "lavatory", "kitchen sink", "bar sink", "bathtub", "tub and shower")
    return _at_the_end(house, [f for f in _fixtures(house, kinds) if given(f.cold)], lowest)


def lowest_drains(house: House) -> tuple[Item, ...]:
    """The lowest drains of the lowest level that has one, by their rims where each is recorded;
    none where that level is not known."""
    closed = house.drains.closed
    drained = [f for f in each(house.record.fixtures) if given(f.drain) and f.id not in closed]
    level = _end(house, drained, lowest=True)
    there = [f.id for f in drained if _level(house, f) == level and level]
    rims = {name: rim.inches for name in there if (rim := house.drains.rims[name].elevation)}
    if len(rims) == len(there):
        there = [name for name in there if rims[name] == min(rims.values())]
    return tuple(house.items[name] for name in there)


def _fixtures(house: House, kinds: tuple[str, ...]) -> list[Fixture]:
    """Fixtures of these kinds, the kinds in the order given."""
    found = [fixture for fixture in each(house.record.fixtures) if fixture.kind in kinds]
    return sorted(found, key=lambda fixture: kinds.index(fixture.kind))


def _at_the_end(house: House, fixtures: list[Fixture], lowest: bool) -> Item | None:
    level = _end(house, fixtures, lowest=lowest)
    fits = [fixture for fixture in fixtures if level and _level(house, fixture) == level]
    return house.items[fits[0].id] if fits else None


def _end(house: House, fixtures: list[Fixture], *, lowest: bool) -> str | None:
    """The lowest, or highest, level that one of these stands on; None where it is not known."""
    if not all(level.elevation for level in house.places.levels.values()):
        return None
    here = {_level(house, fixture) for fixture in fixtures}
    order = [level for level in top_down(house) if level in here]
    return order[-1 if lowest else 0] if order else None


def _level(house: House, fixture: Fixture) -> str | None:
    return house.places.level_id(fixture.place)
