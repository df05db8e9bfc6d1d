"""What is taken on the sheet while an isometric drawing is made: boxes, pipes, floor lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from handbook.output.drawing.iso_grid import (
    DIRECTIONS,
    Box,
    Edge,
    Point,
    crosses,
    edge,
    edges_near,
    sheet,
    step,
)

CLEAR = 1.6
"""Points between a pipe's middle and a label or a symbol that is not its own."""

_CELL = 40.0


@dataclass
class Board:
    """`taken` boxes are kept by the body that pipes may enter them for, or None."""

    whole: Box
    floors: tuple[float, ...] = ()
    blocked: dict[Edge, set[int | None]] = field(default_factory=dict)
    pipes: dict[Edge, int] = field(default_factory=dict)
    through: dict[Point, list[tuple[int, int]]] = field(default_factory=dict)
    """For each point that a pipe runs straight through: (pipe, its axis 0 to 2)."""
    joints: dict[Point, set[int]] = field(default_factory=dict)
    """Points where a pipe bends or ends."""
    crowded: dict[Point, int] = field(default_factory=dict)
    _cells: dict[tuple[int, int], list[Box]] = field(default_factory=dict)

    def take(self, box: Box, owner: int | None = None) -> None:
        """Keep a box free of all else; pipes of its owner's may run into it."""
        for one in edges_near(box.grown(CLEAR)):
            self.blocked.setdefault(one, set()).add(owner)
        for cell in _cells(box):
            self._cells.setdefault(cell, []).append(box)

    def free(self, box: Box) -> bool:
        """Return whether a box is on the sheet and covers no box, pipe or floor line."""
        return self.unboxed(box) and not any(e in self.pipes for e in edges_near(box.grown(CLEAR)))

    def unboxed(self, box: Box) -> bool:
        """Return whether a box is on the sheet and covers no other box and no floor line."""
        if not self.whole.holds(box):
            return False
        if any(box.top - 1.2 < floor < box.bottom + 1.2 for floor in self.floors):
            return False
        near = box.grown(0.6)
        return not any(
            near.meets(other) for cell in _cells(near) for other in self._cells.get(cell, ())
        )

    def lay(self, pipe: int, way: Sequence[Point]) -> None:
        """Put a pipe down along a way of neighbouring points."""
        for a, b in zip(way, way[1:], strict=False):
            self.pipes[edge(a, b)] = pipe
        for p in (way[0], way[-1]):
            self.joints.setdefault(p, set()).add(pipe)
        for a, p, b in zip(way, way[1:], way[2:], strict=False):
            first, second = _direction(a, p), _direction(p, b)
            if first == second:
                self.through.setdefault(p, []).append((pipe, first % 3))
            else:
                self.joints.setdefault(p, set()).add(pipe)
        for p in way:
            for direction in range(6):
                near = step(p, direction)
                self.crowded[near] = self.crowded.get(near, 0) + 1

    def floor_between(self, a: Point, b: Point) -> bool:
        """Return whether a slanting step would cross a floor line."""
        if a[0] == b[0]:
            return False
        ya, yb = sorted((sheet(a)[1], sheet(b)[1]))
        return any(ya < floor < yb for floor in self.floors)

    def crossings(self, way: Sequence[Point], pipe: int) -> list[Point]:
        """Return where a pipe's way crosses another pipe."""
        return [
            p
            for p in way[1:-1]
            if any(other != pipe for other, _ in self.through.get(p, ()))
        ]


def _direction(a: Point, b: Point) -> int:
    return DIRECTIONS.index((b[0] - a[0], b[1] - a[1]))


def _cells(box: Box) -> Iterable[tuple[int, int]]:
    for x in range(int(box.left // _CELL), int(box.right // _CELL) + 1):
        for y in range(int(box.top // _CELL), int(box.bottom // _CELL) + 1):
            yield x, y


def covers(box: Box, line: Sequence[tuple[float, float]]) -> bool:
    """Return whether a line of spots runs through a box."""
    return any(crosses(a, b, box) for a, b in zip(line, line[1:], strict=False))
