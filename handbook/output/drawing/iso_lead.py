"""Leads one pipe of a riser diagram over the grid, with its marks and sizes on it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from handbook.output.drawing.iso_board import Board
from handbook.output.drawing.iso_body import Body
from handbook.output.drawing.iso_drawn import Dressed
from handbook.output.drawing.iso_dress import Coat, ring
from handbook.output.drawing.iso_grid import Box, Edge, Point, Spot, distance, edge, sheet, step
from handbook.output.drawing.iso_joins import NEVER, falls, inline
from handbook.output.drawing.iso_route import BEND, Wish, route
from handbook.output.drawing.iso_stretch import HALF, Placed, line_of, stretches
from handbook.output.drawing.iso_text import Text
from handbook.output.drawing.iso_zones import Zones
from handbook.pages.riser.content import Riser, RiserMark, RiserRun

DETOUR = 10
"""Steps that a pipe may go beyond half again its distance before others have to give way."""

TURNED = 16
"""What its bends and crossings may cost besides."""

WAYS = 7
"""Ways that a pipe tries before it is given up in this try."""


@dataclass
class Leading:
    """Leads pipes with the bodies where they are."""

    riser: Riser
    made: Sequence[Body]
    shared: Zones
    at: Sequence[Point]
    board: Board
    led: dict[int, Dressed] = field(default_factory=dict)
    history: dict[Edge, float] = field(default_factory=dict)
    patient: bool = True
    """Whether a pipe may still wait for a shorter way than the one that is free."""
    picky: bool = False
    """Whether a size must be nearer to its own pipe than to any other."""

    def lead(self, n: int, over: bool, most: float = math.inf) -> Dressed | None:
        """Return a way for a pipe with all that belongs to it, worth less than `most`; or None."""
        pipe = self.riser.pipes[n]
        a, b = self.number(pipe.a), self.number(pipe.b)
        wish = Wish(
            self._ends(a, n, arriving=False, over=over),
            self._ends(b, n, arriving=True, over=over),
            frozenset(e for e in (a, b) if not self.made[e].ports[n].at_foot),
            self._home(a, b),
            NEVER[falls(self.riser, pipe)],
            over,
        )
        items = inline(pipe, self.made[a], self.made[b])
        dear = dict(self.history)
        if not wish.starts or not wish.goals:
            return None
        far = min(distance(p, q) for p in wish.starts for q in wish.goals)
        if self.patient and not over:
            most = min(most, 1.5 * far + DETOUR + TURNED)
        wish = replace(wish, most=most)
        for _ in range(WAYS):
            way = route(self.board, wish, dear)
            if way is None or worth(way) > most - 0.5:
                return None
            coat = self.coat(n, way, over)
            marks = coat.marks(items) if len(set(way)) == len(way) else None
            if marks is not None and (sizes := self._sizes(items, marks, coat)) is not None:
                return Dressed(tuple(way), marks, sizes)
            for p, q in itertools.pairwise(way):
                dear[edge(p, q)] = dear.get(edge(p, q), 0.0) + 0.6
        return None

    def _home(self, a: int, b: int) -> Box:
        """Return the part of the sheet from one end's zone to the other's."""
        first, second = (self.shared.box(n) for n in (a, b))
        return Box(
            min(first.left, second.left),
            min(first.top, second.top),
            max(first.right, second.right),
            max(first.bottom, second.bottom),
        )

    def _sizes(
        self, items: Sequence[RiserMark | RiserRun], marks: Sequence[Placed], coat: Coat
    ) -> tuple[tuple[RiserRun, Text], ...] | None:
        """Return each size beside its run; None where one of them finds no place."""
        taken = [b for p in marks for b in (p.box, *(t.box for t in p.texts))]
        texts: list[tuple[RiserRun, Text]] = []
        for run, start, end in _between(items, marks, coat.length):
            text = coat.size(run.words, start, end, taken)
            if text is None:
                return None
            texts.append((run, text))
            taken.append(text.box)
        return tuple(texts)

    def sized(self, n: int, dressed: Dressed) -> Dressed | None:
        """Return a led pipe with its sizes where they stand best among what is led by now."""
        pipe = self.riser.pipes[n]
        a, b = self.number(pipe.a), self.number(pipe.b)
        items = inline(pipe, self.made[a], self.made[b])
        sizes = self._sizes(items, dressed.marks, self.coat(n, dressed.way))
        return None if sizes is None else replace(dressed, sizes=sizes)

    def coat(self, n: int, way: Sequence[Point], over: bool = False) -> Coat:
        """Return what dresses a pipe that takes this way."""
        line = self.line(n, way)
        avoid = tuple(sheet(p) for p in self.board.crossings(way, n))
        boxes = {
            level.id: tuple(zone.box for zone in self.shared.level(level.id))
            for level in self.riser.levels
        }
        keep = self.pending(n)
        return Coat(self.board, stretches(line), avoid, boxes, keep, over, self.picky)

    def line(self, n: int, way: Sequence[Point]) -> list[Spot]:
        """Return the corners of a pipe's way on the sheet, outside the frames at its ends."""
        pipe = self.riser.pipes[n]
        frames = []
        for end in (pipe.a, pipe.b):
            body, p = self.made[self.number(end)], self.at[self.number(end)]
            if body.frame is not None and not body.ports[n].at_foot:
                frames.append(body.frame.moved(*sheet(p)))
        return line_of(way, frames)

    def pending(self, n: int) -> tuple[Box, ...]:
        """Return the boxes round the ends of pipes that are still to be led."""
        boxes = []
        for m, pipe in enumerate(self.riser.pipes):
            if m == n or m in self.board.laid:
                continue
            for end in (pipe.a, pipe.b):
                e = self.number(end)
                for dx, dy in self.made[e].ports[m].points:
                    boxes.append(ring((self.at[e][0] + dx, self.at[e][1] + dy)))
        return tuple(boxes)

    def number(self, point: str) -> int:
        """Return the number of a point's body."""
        return next(n for n, body in enumerate(self.made) if body.point.id == point)

    def _ends(
        self, body: int, pipe: int, *, arriving: bool, over: bool
    ) -> dict[Point, tuple[int, ...]]:
        port, p = self.made[body].ports[pipe], self.at[body]
        ends: dict[Point, tuple[int, ...]] = {}
        for dx, dy in port.points:
            spot = (p[0] + dx, p[1] + dy)
            if self.made[body].bar and spot in self.board.joints and not over:
                continue
            leaves = [
                d
                for d in sorted(port.leaves)
                if over or edge(spot, step(spot, d)) not in self.board.pipes
            ]
            ends[spot] = tuple((d + 3) % 6 for d in leaves) if arriving else tuple(leaves)
        return ends


def worth(way: Sequence[Point]) -> float:
    """Return what a way is held to cost: its steps and its bends."""
    bends = sum(
        (b[0] - a[0], b[1] - a[1]) != (c[0] - b[0], c[1] - b[1])
        for a, b, c in zip(way, way[1:], way[2:], strict=False)
    )
    return len(way) + BEND * bends


def _between(
    items: Sequence[RiserMark | RiserRun], marks: Sequence[Placed], length: float
) -> list[tuple[RiserRun, float, float]]:
    """Return for each run where along the pipe it starts and ends."""
    found: list[tuple[RiserRun, float, float]] = []
    done, last = 0, 0.0
    for item in items:
        if isinstance(item, RiserMark):
            last = marks[done].along + HALF + 1
            done += 1
        else:
            end = marks[done].along - HALF - 1 if done < len(marks) else length
            found.append((item, last, end))
    return found
