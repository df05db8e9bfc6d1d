"""On how many sheets a riser diagram stands: on one where it fits at a size that can be read, else
one for the upper levels and one for the lower, and so on; what goes on is said where it is cut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from handbook.output.drawing.iso_drawn import Layout
from handbook.output.drawing.iso_layout import best_layout
from handbook.output.drawing.iso_text import SIZE
from handbook.pages.riser.content import (
    OUTDOORS,
    Riser,
    RiserLevel,
    RiserMark,
    RiserPipe,
    RiserPoint,
)

WIDE, HIGH = 470.0, 588.0
"""Points of a letter page that the diagram itself may take, without the gutter of its levels."""

LEAST = 6.5
"""Type size in points below which nothing is printed, if parting the sheet can help it."""


def laid_out(riser: Riser) -> tuple[Layout, ...]:
    """Return the layout of each sheet."""
    largest = SIZE / LEAST
    groups = _groups(riser)
    found = best_layout(riser, WIDE, HIGH, largest if len(groups) > 1 else None)
    if found:
        return (found,)
    middle = len(groups) // 2
    upper = {level.id for group in groups[:middle] for level in group}
    lower = {level.id for group in groups[middle:] for level in group}
    return laid_out(_part(riser, upper)) + laid_out(_part(riser, lower))


def _groups(riser: Riser) -> list[list[RiserLevel]]:
    """Return the levels that may be parted: a level with what lies under its floor, and the
    outdoors with the lowest."""
    groups: list[list[RiserLevel]] = []
    for level in riser.levels:
        if groups and (level.id == OUTDOORS or not level.words):
            groups[-1].append(level)
        else:
            groups.append([level])
    return groups


def _part(riser: Riser, levels: set[str]) -> Riser:
    """Return what stands on these levels; a pipe that goes on elsewhere ends in a word of it."""
    names = {level.id: level.words.partition(",")[0] for level in riser.levels}
    at = {point.id: point for point in riser.points}
    points = [point for point in riser.points if point.level in levels]
    pipes: list[RiserPipe] = []
    for number, pipe in enumerate(riser.pipes):
        ends = at[pipe.a], at[pipe.b]
        inside = [end.level in levels for end in ends]
        items = tuple(_here(pipe, levels, inside[0]))
        if all(inside):
            pipes.append(pipe)
        elif any(inside) or any(isinstance(item, RiserMark) for item in items):
            stubs = [
                end.id if here else f"{end.id}~{number}"
                for end, here in zip(ends, inside, strict=True)
            ]
            for end, here, other, stub in zip(ends, inside, ends[::-1], stubs, strict=True):
                if not here:
                    points.append(_beyond(stub, end, names, other, items, levels))
            pipes.append(replace(pipe, a=stubs[0], b=stubs[1], items=items))
    return replace(
        riser,
        levels=tuple(level for level in riser.levels if level.id in levels),
        points=tuple(points),
        pipes=tuple(pipes),
        abbreviations=_explained(riser, points),
    )


def _here(pipe: RiserPipe, levels: set[str], from_here: bool) -> Iterator[RiserMark]:
    """Yield what of a pipe's marks and sizes stands on these levels; a size with the mark that its
    run ends at, the last one with the pipe's end."""
    waiting = []
    for item in pipe.items:
        if not isinstance(item, RiserMark):
            waiting.append(item)
            continue
        if item.level in levels:
            yield from waiting  # type: ignore[misc]
            yield item
        waiting = []
    if waiting and not from_here:
        yield from waiting  # type: ignore[misc]


def _beyond(  # noqa: PLR0913, PLR0917 - what a point is made of
    stub: str,
    end: RiserPoint,
    names: dict[str, str],
    other: RiserPoint,
    items: tuple[RiserMark, ...],
    levels: set[str],
) -> RiserPoint:
    """Return the point where a pipe leaves the sheet: on the level of what is joined to it."""
    marks = [item.level for item in items if isinstance(item, RiserMark)]
    level = other.level if other.level in levels else marks[0]
    name = end.words[0] if end.words else end.id.partition(".")[0]
    return RiserPoint(stub, "beyond", (f"to {name}", names.get(end.level, "")), level, end.at)


def _explained(riser: Riser, points: list[RiserPoint]) -> tuple[tuple[str, str], ...]:
    drawn = {p.words[0].rstrip("0123456789 ") for p in points if p.symbol == "fixture"}
    return tuple((short, words) for short, words in riser.abbreviations if short in drawn)
