"""Gives a level to what has none recorded: that of what it is joined to, and says so."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from handbook.pages.riser.content import RiserMark, RiserPipe, RiserPoint, RiserRun
from handbook.pages.riser.places import NOWHERE


@dataclass(frozen=True)
class Levelled:
    """Points and pipes that all have a level; `missing` are things whose own is not known."""

    points: tuple[RiserPoint, ...]
    pipes: tuple[RiserPipe, ...]
    missing: tuple[str, ...]

    @property
    def levels(self) -> set[str]:
        """The levels that hold something."""
        marks = [i for pipe in self.pipes for i in pipe.items if isinstance(i, RiserMark)]
        return {point.level for point in self.points} | {mark.level for mark in marks}


def settle(points: Sequence[RiserPoint], pipes: Sequence[RiserPipe]) -> Levelled:
    """Return the points and pipes with a level for each, as far as anything near them has one."""
    levels = {point.id: point.level for point in points}
    missing = tuple(t for p in points if p.level == NOWHERE for t in p.things)
    while True:
        fresh = {
            end: level
            for pipe in pipes
            for end, level in _offers(pipe, levels)
            if levels[end] == NOWHERE and level != NOWHERE
        }
        if not fresh:
            break
        levels |= fresh
    return Levelled(
        tuple(replace(point, level=levels[point.id]) for point in points),
        tuple(_marked(pipe, levels) for pipe in pipes),
        missing,
    )


def _offers(pipe: RiserPipe, levels: dict[str, str]) -> list[tuple[str, str]]:
    """Return which level each end would have by what is nearest to it along the pipe."""
    marks = [i.level for i in pipe.items if isinstance(i, RiserMark) and i.level != NOWHERE]
    first = marks[0] if marks else levels[pipe.b]
    last = marks[-1] if marks else levels[pipe.a]
    return [(pipe.a, first), (pipe.b, last)]


def _marked(pipe: RiserPipe, levels: dict[str, str]) -> RiserPipe:
    """Give each mark without a level that of the point or the mark before it."""
    level = levels[pipe.a]
    items: list[RiserMark | RiserRun] = []
    for item in pipe.items:
        if isinstance(item, RiserMark):
            level = item.level if item.level != NOWHERE else level
            items.append(replace(item, level=level))
        else:
            items.append(item)
    return replace(pipe, items=tuple(items))
