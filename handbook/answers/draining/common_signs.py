"""The signs that this house's drains can give, and what each set of them points to.

Fixtures tell apart only those legs that other fixtures drain through: the legs that carry the
same fixtures are one *place*. `common_signs` asks for each place what it means when just the
fixtures on it back up; `every_answer` asks for every run of places that any signs can leave.
"""

from handbook.answers.draining.blocked import lowest_held
from handbook.answers.stoppage import Stoppage, stoppage
from handbook.house.drains import DrainTree
from handbook.house.house import House

Place = tuple[str, ...]
"""The fixtures that drain through it, in walking order."""


def places(tree: DrainTree) -> tuple[Place, ...]:
    """Return the places of the house, from where everything leaves it upward."""
    found: dict[Place, None] = {}
    roots = [leg.id for leg in tree.legs.values() if leg.to not in tree.legs]
    waiting = roots[::-1]
    while waiting:
        leg = waiting.pop()
        waiting += tree.above[leg][::-1]
        if through := tree.through(leg):
            found[through] = None
    return tuple(found)


def common_signs(house: House) -> tuple[Stoppage, ...]:
    """Return for each place what it means when all on it back up and all others run clear."""
    fixtures = house.drains.rims
    return tuple(
        stoppage(house, place, [f for f in fixtures if f not in place])
        for place in places(house.drains)
    )


def lowest_rises(house: House) -> Stoppage | None:
    """Return what it means when the lowest opening rises while water runs on another level.

    Asked with the fixture of another level whose waste meets the lowest one's soonest, so that
    every leg is named that some fixture of another level can fill. None where nothing runs
    together with the lowest opening, or the record does not tell which that is.
    """
    tree = house.drains
    low = lowest_held(tree, tree.rims)
    if low is None:
        return None
    way, level = tree.downhill(low), tree.rims[low].level
    meets = {
        fixture: way.index(first)
        for fixture, rim in tree.rims.items()
        if None not in (rim.level, level) and rim.level != level
        if (first := next((leg for leg in tree.downhill(fixture) if leg in way), None))
    }
    return stoppage(house, (low, min(meets, key=meets.__getitem__))) if meets else None


def every_answer(house: House) -> dict[tuple[Place, ...], Stoppage]:
    """Return the answer for each run of places that some signs leave, uppermost place first."""
    tree, found = house.drains, {}
    for place in places(tree):
        way = _downhill(tree, place)
        for end in range(1, len(way) + 1):
            joins = [f for f in way[end] if f not in way[end - 1]] if end < len(way) else []
            found[way[:end]] = stoppage(house, place, joins)
    return found


def _downhill(tree: DrainTree, place: Place) -> tuple[Place, ...]:
    """Return the places that all on this one drain through, itself first."""
    below = [tree.through(leg) for leg in tree.downhill(place[0])]
    return tuple(dict.fromkeys(each for each in below if set(place) <= set(each)))
