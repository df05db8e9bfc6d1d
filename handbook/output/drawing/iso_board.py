"""What is taken on the sheet while an isometric drawing is made: boxes, pipes, floor lines.

What bodies and titles take is fixed. What a *task* takes (a pipe with its marks and sizes, or a
body's late words) can be taken up again when another task needs the room more.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from handbook.output.drawing.iso_grid import (
    DIRECTIONS,
    ROW,
    Box,
    Edge,
    Point,
    crosses,
    edge,
    edges_near,
    sheet,
    step,
)
from handbook.output.drawing.iso_own import Named

CLEAR = 1.6
"""Points between a pipe's middle and a label or a symbol that is not its own."""

NOBODY = -1
"""Stands for a task where a bar blocks a point for good."""

_CELL = 32.0


@dataclass
class Laid:
    """What one task takes."""

    way: tuple[Point, ...]
    boxes: tuple[Box, ...]
    blocked: tuple[Edge, ...]
    named: tuple[Named, ...] = ()


@dataclass
class Board:
    """`floor_rows` are the grid rows below which a floor line runs, half a row down."""

    whole: Box
    floor_rows: frozenset[int] = frozenset()
    walls: tuple[tuple[float, float], ...] = ()
    """Outer walls: how far right, and how far down the sheet they start."""
    fixed: dict[Edge, set[int | None]] = field(default_factory=dict)
    """Edges through what is fixed, with the bodies whose pipes may run there; None is nobody."""
    barred: dict[Edge, set[int]] = field(default_factory=dict)
    """Edges through the boxes of tasks."""
    pipes: dict[Edge, int] = field(default_factory=dict)
    through: dict[Point, dict[int, int]] = field(default_factory=dict)
    """For each point that pipes run straight through: the axis, 0 to 2, of each."""
    joints: dict[Point, set[int]] = field(default_factory=dict)
    """Points where pipes bend or end."""
    crowded: dict[Point, int] = field(default_factory=dict)
    laid: dict[int, Laid] = field(default_factory=dict)
    _named: dict[tuple[int, int], list[tuple[Named, int | None]]] = field(default_factory=dict)
    _runs: dict[tuple[int, int], set[Edge]] = field(default_factory=dict)
    _cells: dict[tuple[int, int], list[tuple[Box, int | None]]] = field(default_factory=dict)

    # --- putting down and taking up ------------------------------------------------------------

    def fix(self, box: Box, owner: int | None = None) -> None:
        """Keep a box free of all else for good; its owner's pipes may run into it."""
        for one in edges_near(box.grown(CLEAR)):
            self.fixed.setdefault(one, set()).add(owner)
        for cell in _cells(box):
            self._cells.setdefault(cell, []).append((box, None))

    def name(self, named: Named, task: int | None = None) -> None:
        """Keep a symbol's words apart from other symbols, for good unless they are a task's."""
        for cell in _cells(named.reach.grown(0.01)):
            self._named.setdefault(cell, []).append((named, task))

    def lay(
        self,
        task: int,
        way: Sequence[Point],
        boxes: Sequence[Box],
        named: Sequence[Named] = (),
    ) -> None:
        """Put a task down: its way of neighbouring points, if it is a pipe, its boxes, and whose
        its words are."""
        blocked = tuple({one for box in boxes for one in edges_near(box.grown(CLEAR))})
        self.laid[task] = Laid(tuple(way), tuple(boxes), blocked, tuple(named))
        for words in named:
            self.name(words, task)
        for one in blocked:
            self.barred.setdefault(one, set()).add(task)
        for box in boxes:
            for cell in _cells(box):
                self._cells.setdefault(cell, []).append((box, task))
        for a, b in itertools.pairwise(way):
            one = edge(a, b)
            self.pipes[one] = task
            for cell in _cells(_span(one)):
                self._runs.setdefault(cell, set()).add(one)
        for p, axis in _passed(way):
            if axis is None:
                self.joints.setdefault(p, set()).add(task)
            else:
                self.through.setdefault(p, {})[task] = axis
        self._crowd(way, 1)

    def lift(self, task: int) -> None:
        """Take a task up again."""
        laid = self.laid.pop(task)
        for one in laid.blocked:
            self.barred[one].discard(task)
            if not self.barred[one]:
                del self.barred[one]
        for box in laid.boxes:
            for cell in _cells(box):
                self._cells[cell].remove((box, task))
        self._unname(laid.named, task)
        for a, b in zip(laid.way, laid.way[1:], strict=False):
            one = edge(a, b)
            del self.pipes[one]
            for cell in _cells(_span(one)):
                self._runs[cell].discard(one)
        for p, axis in _passed(laid.way):
            if axis is None:
                self.joints[p].discard(task)
                if not self.joints[p]:
                    del self.joints[p]
            else:
                del self.through[p][task]
                if not self.through[p]:
                    del self.through[p]
        self._crowd(laid.way, -1)

    def _unname(self, named: Iterable[Named], task: int) -> None:
        for one in named:
            for cell in _cells(one.reach.grown(0.01)):
                self._named[cell].remove((one, task))

    def _crowd(self, way: Sequence[Point], count: int) -> None:
        for p in way:
            for direction in range(6):
                near = step(p, direction)
                self.crowded[near] = self.crowded.get(near, 0) + count

    # --- asking ----------------------------------------------------------------------------------

    def free(self, box: Box, *, over: bool = False) -> bool:
        """Return whether words may stand here: on the sheet, over no box, pipe or floor line.
        With `over`, what tasks have taken does not count."""
        if not self.unboxed(box, over=over):
            return False
        return over or not self.piped(box.grown(CLEAR))

    def unboxed(self, box: Box, *, over: bool = False) -> bool:
        """Return whether a box is on the sheet and covers no other box and no floor line."""
        if not self.whole.holds(box):
            return False
        for row in self.floor_rows:
            if box.top - 1.2 < (row + 0.5) * ROW < box.bottom + 1.2:
                return False
        for x, top in self.walls:
            if box.left - 1.2 < x < box.right + 1.2 and box.bottom > top:
                return False
        near = box.grown(0.6)
        return not any(
            near.meets(other)
            for cell in _cells(near)
            for other, task in self._cells.get(cell, ())
            if not (over and task is not None)
        )

    def plain(self, named: Named, *, over: bool = False) -> bool:
        """Return whether nobody takes these words, or others by this symbol, for another's."""
        return all(over and task is not None for task in self._mistaken(named))

    def _mistaken(self, named: Named) -> Iterator[int | None]:
        """Yield the tasks whose words or symbols would be mixed up with these."""
        for cell in _cells(named.reach.grown(0.01)):
            for other, task in self._named.get(cell, ()):
                if named.mistaken(other):
                    yield task

    def piped(self, box: Box) -> bool:
        """Return whether any pipe that is laid runs through a box."""
        return next(self._piped(box), None) is not None

    def _piped(self, box: Box) -> Iterator[int]:
        """Yield the pipes that run through a box."""
        for cell in _cells(box):
            for one in self._runs.get(cell, ()):
                if crosses(sheet(one[0]), sheet(one[1]), box):
                    yield self.pipes[one]

    def in_the_way(
        self,
        task: int,
        way: Sequence[Point],
        boxes: Sequence[Box],
        named: Sequence[Named] = (),
    ) -> set[int]:
        """Return the tasks that would have to be taken up to put this one down."""
        found = {t for one in named for t in self._mistaken(one) if t is not None}
        for box in boxes:
            near = box.grown(0.6)
            for cell in _cells(near):
                found |= {
                    t for b, t in self._cells.get(cell, ()) if t is not None and near.meets(b)
                }
            found.update(self._piped(box.grown(CLEAR)))
        for a, b in itertools.pairwise(way):
            one = edge(a, b)
            found |= self.barred.get(one, set())
            if one in self.pipes:
                found.add(self.pipes[one])
        for p, axis in _passed(way):
            others = self.through.get(p, {})
            if axis is None or axis in others.values() or len(others) > 1:
                found |= set(others)
            if p not in (way[0], way[-1]):
                found |= self.joints.get(p, set())
        return found - {task, NOBODY}

    def crossings(self, way: Sequence[Point], task: int) -> list[Point]:
        """Return where a pipe's way crosses another pipe."""
        return [p for p in way[1:-1] if any(t != task for t in self.through.get(p, {}))]


def _passed(way: Sequence[Point]) -> Iterable[tuple[Point, int | None]]:
    """Yield each point of a way with the axis it is run straight through on; None for its ends
    and bends."""
    if not way:
        return
    yield way[0], None
    yield way[-1], None
    for a, p, b in zip(way, way[1:], way[2:], strict=False):
        first, second = _direction(a, p), _direction(p, b)
        yield p, (first % 3 if first == second else None)


def _span(one: Edge) -> Box:
    (ax, ay), (bx, by) = sheet(one[0]), sheet(one[1])
    return Box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


def _direction(a: Point, b: Point) -> int:
    return DIRECTIONS.index((b[0] - a[0], b[1] - a[1]))


def _cells(box: Box) -> Iterable[tuple[int, int]]:
    for x in range(int(box.left // _CELL), int(box.right // _CELL) + 1):
        for y in range(int(box.top // _CELL), int(box.bottom // _CELL) + 1):
            yield x, y
