"""A riser diagram laid out: every point placed, every pipe led, every word put where it is clear.

A try works on one size of sheet. What does not find its place in a try comes earlier, and gets
more room, in the next one.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from handbook.output.drawing.iso_board import Board
from handbook.output.drawing.iso_bodies import Body, bodies, own_mark
from handbook.output.drawing.iso_dress import (
    HALF,
    Coat,
    Placed,
    arrow_box,
    line_of,
    ring,
    stretches,
)
from handbook.output.drawing.iso_grid import (
    COLUMN,
    ROW,
    UNIT,
    Box,
    Edge,
    Point,
    Spot,
    edge,
    sheet,
    step,
)
from handbook.output.drawing.iso_place import Join, Placing
from handbook.output.drawing.iso_route import Wish, route
from handbook.output.drawing.iso_text import TITLE, Label, Text
from handbook.output.drawing.iso_zones import Zones, targets, zones
from handbook.pages.riser.content import Riser, RiserMark, RiserPipe, RiserRun

WAYS = 7
"""Ways that a pipe tries before it is given up in this try."""


@dataclass(frozen=True)
class Led:
    """A pipe on the sheet: its corners, where it is broken because another runs in front of it."""

    pipe: RiserPipe
    line: tuple[Spot, ...]
    marks: tuple[Placed, ...]
    sizes: tuple[Text, ...]
    arrow: tuple[Spot, Spot] | None
    gaps: tuple[Spot, ...]


@dataclass(frozen=True)
class Layout:
    """The whole diagram. `spots` are the bodies' places on the sheet, `labels` their late words."""

    riser: Riser
    zones: Zones
    bodies: tuple[Body, ...]
    spots: tuple[Spot, ...]
    labels: tuple[tuple[Text, ...], ...]
    led: tuple[Led, ...]
    titles: tuple[Text, ...]


@dataclass
class Wants:
    """What one try learns for the next: more room for these pipes, an earlier turn for those."""

    room: dict[int, float] = field(default_factory=dict)
    first: dict[int, int] = field(default_factory=dict)


def lay_out(riser: Riser, wide: float, high: float, wants: Wants) -> Layout | None:
    """Return the diagram on a sheet of this size; None where something found no place on it."""
    made = bodies(riser)
    shared = zones(riser, made, wide, high)
    joins = _joins(riser, made, shared, wants)
    at = Placing(riser, made, shared, targets(riser, made, shared), joins).run()
    if at is None:
        return None
    return _Try(riser, made, shared, at, wants).run()


def _joins(riser: Riser, made: Sequence[Body], shared: Zones, wants: Wants) -> list[Join]:
    number = {body.point.id: n for n, body in enumerate(made)}
    joins = []
    for n, pipe in enumerate(riser.pipes):
        a, b = number[pipe.a], number[pipe.b]
        items = _inline(pipe, made[a], made[b])
        marks = sum(isinstance(item, RiserMark) for item in items)
        runs = len(items) - marks
        need = 2.0 + 2.1 * marks + 1.2 * runs + _frames(made[a], made[b]) + wants.room.get(n, 0.0)
        joins.append(Join(n, a, b, need, _way(made[a], made[b], shared.of[a] == shared.of[b])))
    return joins


def _frames(a: Body, b: Body) -> float:
    """Return the steps that lie inside the frames at both ends of a pipe."""
    return sum((x.frame.right / UNIT if x.frame and not x.stubs else 0.0) for x in (a, b))


def _inline(pipe: RiserPipe, a: Body, b: Body) -> tuple[RiserMark | RiserRun, ...]:
    """Return what stands in the pipe itself, without what stands on a fixture's stub."""
    items = pipe.items
    if b.stubs and own_mark(b.point, pipe) is not None:
        items = items[:-1]
    elif a.stubs and own_mark(a.point, pipe) is not None:
        items = items[1:]
    return items


def _way(a: Body, b: Body, together: bool) -> Spot | None:
    """Return which way a pipe runs on the sheet by its two ends' places on the plan."""
    p, q = a.point.at, b.point.at
    if not together or p is None or q is None:
        return None
    across, up = q[0] - p[0], q[1] - p[1]
    if max(abs(across), abs(up)) < 0.3:
        return None
    cos, sin = math.cos(math.pi / 6), 0.5
    if abs(across) >= abs(up):
        return (cos, sin) if across > 0 else (-cos, -sin)
    return (cos, -sin) if up > 0 else (-cos, sin)


@dataclass
class _Try:
    riser: Riser
    made: Sequence[Body]
    shared: Zones
    at: Sequence[Point]
    wants: Wants
    ways: dict[int, list[Point]] = field(default_factory=dict)
    placed: dict[int, tuple[Placed, ...]] = field(default_factory=dict)
    failed: bool = False

    def run(self) -> Layout | None:
        self.board = self._board()
        titles = self._titles()
        self._settle()
        for n in self._order():
            self._lead(n)
        if self.failed:
            return None
        labels = self._labels()
        led = self._sizes()
        if self.failed:
            return None
        spots = tuple(sheet(p) for p in self.at)
        return Layout(
            self.riser, self.shared, tuple(self.made), spots, labels, led, titles
        )

    def _board(self) -> Board:
        shared = self.shared
        floors = tuple(
            zone.box.bottom + ROW / 2 for zone in shared.zones[:-1] if zone.box.bottom < shared.high
        )
        self.floors = tuple(sorted(set(floors)))
        return Board(Box(-1, -1, shared.wide + 1, shared.high + 1), self.floors)

    def _titles(self) -> tuple[Text, ...]:
        texts = []
        for zone in self.shared.zones:
            if zone.words:
                label = Label((zone.words,), bold=True, size=TITLE)
                top = zone.box.bottom - label.high - 0.5
                texts += label.at(zone.box.left + 2, top)
                self.board.take(label.box(zone.box.left + 2, top))
        return tuple(texts)

    def _settle(self) -> None:
        """Put the bodies on the board."""
        for n, (body, p) in enumerate(zip(self.made, self.at, strict=True)):
            x, y = sheet(p)
            owner = None if body.stubs else n
            for box in body.solid:
                self.board.take(box.moved(x, y), owner)
            for a, b in zip(body.bar, body.bar[1:], strict=False):
                for k in range(b[0] - a[0]):
                    u = (p[0] + a[0] + k, p[1] + a[1] - k)
                    self.board.blocked.setdefault(edge(u, (u[0] + 1, u[1] - 1)), set()).add(None)
                    if k:
                        self.board.joints.setdefault(u, set()).add(-1)

    def _order(self) -> list[int]:
        number = {body.point.id: n for n, body in enumerate(self.made)}

        def far(n: int) -> float:
            a, b = (sheet(self.at[number[e]]) for e in (self.riser.pipes[n].a, self.riser.pipes[n].b))
            return math.dist(a, b)

        return sorted(
            range(len(self.riser.pipes)), key=lambda n: (-self.wants.first.get(n, 0), far(n), n)
        )

    # --- pipes -----------------------------------------------------------------------------------

    def _lead(self, n: int) -> None:
        pipe = self.riser.pipes[n]
        a, b = self._number(pipe.a), self._number(pipe.b)
        wish = Wish(
            n,
            self._ends(a, n, arriving=False),
            self._ends(b, n, arriving=True),
            frozenset({a, b}),
        )
        items = _inline(pipe, self.made[a], self.made[b])
        dear: dict[Edge, float] = {}
        for _ in range(WAYS):
            way = route(self.board, wish, dear)
            if way is None:
                break
            coat = self._coat(n, way)
            marks = coat.marks(items)
            if marks is not None and self._roomy(items, marks, coat):
                self._keep(n, way, marks)
                return
            for p, q in zip(way, way[1:], strict=False):
                dear[edge(p, q)] = dear.get(edge(p, q), 0.0) + 0.6
        self._fail(n)

    def _roomy(
        self, items: Sequence[RiserMark | RiserRun], marks: Sequence[Placed], coat: Coat
    ) -> bool:
        """Whether each size could be put beside its run as things stand."""
        return all(
            coat.size(words, start, end) is not None
            for words, start, end in _between(items, marks, coat.length)
        )

    def _keep(self, n: int, way: list[Point], marks: tuple[Placed, ...]) -> None:
        self.board.lay(n, way)
        self.ways[n], self.placed[n] = way, marks
        for mark in marks:
            self.board.take(mark.box, None)
            for text in mark.texts:
                self.board.take(text.box, None)

    def _fail(self, n: int) -> None:
        self.failed = True
        self.wants.first[n] = self.wants.first.get(n, 0) + 1
        self.wants.room[n] = self.wants.room.get(n, 0.0) + 0.7

    def _coat(self, n: int, way: list[Point]) -> Coat:
        line = self._line(n, way)
        avoid = tuple(sheet(p) for p in self.board.crossings(way, n))
        boxes = {
            level.id: tuple(zone.box for zone in self.shared.level(level.id))
            for level in self.riser.levels
        }
        return Coat(self.board, stretches(line), avoid, boxes, self._pending(n))

    def _line(self, n: int, way: list[Point]) -> list[Spot]:
        pipe = self.riser.pipes[n]
        frames = []
        for end in (pipe.a, pipe.b):
            body, p = self.made[self._number(end)], self.at[self._number(end)]
            if body.frame is not None and not body.stubs:
                frames.append(body.frame.moved(*sheet(p)))
        return line_of(way, frames)

    def _pending(self, n: int) -> tuple[Box, ...]:
        """Return the boxes round the ends of pipes that are still to be led."""
        boxes = []
        for m, pipe in enumerate(self.riser.pipes):
            if m == n or m in self.ways:
                continue
            for end in (pipe.a, pipe.b):
                e = self._number(end)
                for dx, dy in self.made[e].ports[m].points:
                    boxes.append(ring((self.at[e][0] + dx, self.at[e][1] + dy)))
        return tuple(boxes)

    def _number(self, point: str) -> int:
        return next(n for n, body in enumerate(self.made) if body.point.id == point)

    def _ends(self, body: int, pipe: int, *, arriving: bool) -> dict[Point, tuple[int, ...]]:
        port, p = self.made[body].ports[pipe], self.at[body]
        ends: dict[Point, tuple[int, ...]] = {}
        for dx, dy in port.points:
            spot = (p[0] + dx, p[1] + dy)
            if self.made[body].bar and spot in self.board.joints:
                continue
            leaves = [
                d for d in sorted(port.leaves) if edge(spot, step(spot, d)) not in self.board.pipes
            ]
            ends[spot] = tuple((d + 3) % 6 for d in leaves) if arriving else tuple(leaves)
        return ends

    # --- words -----------------------------------------------------------------------------------

    def _labels(self) -> tuple[tuple[Text, ...], ...]:
        found: list[tuple[Text, ...]] = []
        for body, p in zip(self.made, self.at, strict=True):
            texts: tuple[Text, ...] | None = ()
            if body.label is not None and body.label.words:
                x, y = sheet(p)
                coat = Coat(self.board, (), (), {})
                for at in _corners(body):
                    box = at.moved(x, y)
                    middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
                    texts = coat.beside(body.label, middle, box)
                    if texts:
                        break
                if texts is None:
                    self._crowded(body)
                    texts = ()
                for text in texts:
                    self.board.take(text.box, None)
            found.append(texts)
        return tuple(found)

    def _crowded(self, body: Body) -> None:
        self.failed = True
        for n in body.ports:
            self.wants.room[n] = self.wants.room.get(n, 0.0) + 0.8

    def _sizes(self) -> tuple[Led, ...]:
        sizes: dict[int, tuple[Text, ...]] = {}
        for n in sorted(self.ways, key=lambda n: (len(self.ways[n]), n)):
            pipe = self.riser.pipes[n]
            a, b = self._number(pipe.a), self._number(pipe.b)
            coat = self._coat(n, self.ways[n])
            items = _inline(pipe, self.made[a], self.made[b])
            texts = []
            for words, start, end in _between(items, self.placed[n], coat.length):
                text = coat.size(words, start, end)
                if text is None:
                    self._fail(n)
                    continue
                texts.append(text)
                self.board.take(text.box, None)
            sizes[n] = tuple(texts)
        return tuple(self._led(n, sizes[n]) for n in range(len(self.riser.pipes)))

    def _led(self, n: int, sizes: tuple[Text, ...]) -> Led:
        way = self.ways[n]
        line = self._line(n, way)
        gaps = tuple(sheet(p) for p in self.board.crossings(way, n) if self._behind(n, p))
        coat = self._coat(n, way)
        arrow = self._arrow(n, coat)
        return Led(self.riser.pipes[n], tuple(line), self.placed[n], sizes, arrow, gaps)

    def _behind(self, n: int, p: Point) -> bool:
        """Whether a pipe runs behind the one it crosses: upright pipes stand in front, else the
        one that was led first."""
        mine = next(axis for pipe, axis in self.board.through[p] if pipe == n)
        other, axis = next((q, x) for q, x in self.board.through[p] if q != n)
        if (mine == 0) != (axis == 0):
            return mine != 0
        return n > other

    def _arrow(self, n: int, coat: Coat) -> tuple[Spot, Spot] | None:
        taken = [mark.along for mark in self.placed[n]]
        best = None
        for part in coat.parts:
            room = part.length - 14
            for k in range(max(0, int(room // 3)) + 1 if room >= 0 else 0):
                along = part.start + 7 + k * 3
                spot = part.at(along)
                if any(abs(along - t) < HALF + 6 for t in taken):
                    continue
                if any(math.dist(spot, s) < 9 for s in coat.avoid):
                    continue
                if not self.board.unboxed(arrow_box(spot)):
                    continue
                score = abs(along - coat.length / 2)
                if best is None or score < best[0]:
                    best = (score, spot, part.unit)
        if best is None:
            return None
        self.board.take(arrow_box(best[1]), None)
        return best[1], best[2]


def _between(
    items: Sequence[RiserMark | RiserRun], marks: Sequence[Placed], length: float
) -> list[tuple[str, float, float]]:
    """Return for each run its words and where along the pipe it starts and ends."""
    found, done, last = [], 0, 0.0
    for item in items:
        if isinstance(item, RiserMark):
            last = marks[done].along + HALF + 1
            done += 1
        else:
            end = marks[done].along - HALF - 1 if done < len(marks) else length
            found.append((item.words, last, end))
    return found


def _corners(body: Body) -> list[Box]:
    """Return the places beside which a body's late words may stand: its dot, or its bar's ends."""
    if not body.bar:
        return [body.solid[0]]
    boxes = [body.solid[-1], body.solid[0], *body.solid[1:-1]]
    return boxes


def size_of(columns: int, rows: int) -> tuple[float, float]:
    """Return the size of a sheet of so many grid columns and rows."""
    return columns * COLUMN, rows * ROW
