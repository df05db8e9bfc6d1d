"""The signs that this house's drains can give, and what each set of them points to.

Fixtures tell apart only those legs that other fixtures drain through: the legs that carry the
same fixtures are one *place*. `common_signs` asks for each place what it means when just the
fixtures on it back up; `stacks_together` when something on each of two stacks does and no more is
known; `every_answer` asks for every run of places that any signs can leave.
"""

from collections.abc import Iterator
from dataclasses import dataclass

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


@dataclass(frozen=True)
class Together:
    """Stacks that run together, by the branch they come in on, and what it means when something on
    each of two branches backs up."""

    sides: tuple[tuple[str, ...], ...]
    answer: Stoppage


def stacks_together(house: House) -> tuple[Together, ...]:
    """Return for each leg where stacks meet what it means when two of them back up.

    Of all else nothing is known: what backs up can be blocked from there down to the end.
    """
    tree, found = house.drains, []
    for leg in tree.legs:
        sides = {above: tuple(_lowest_stacks(tree, above)) for above in tree.above[leg]}
        meeting = [above for above, stacks in sides.items() if stacks]
        if len(meeting) > 1:
            one_each = [tree.through(above)[0] for above in meeting[:2]]
            met = tuple(sides[above] for above in meeting)
            found.append(Together(met, stoppage(house, one_each)))
    return tuple(found)


def _lowest_stacks(tree: DrainTree, leg: str) -> Iterator[str]:
    """Yield the stacks that drain through this leg and through no other stack below them."""
    for stack in (each.id for each in tree.legs.values() if each.kind == "stack"):
        way = tree.downhill(stack)
        below = [name for name in way[1:] if tree.legs[name].kind == "stack"]
        if leg in way and not below and tree.through(stack):
            yield stack


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
