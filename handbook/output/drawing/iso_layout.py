"""A riser diagram laid out: every point placed, every pipe led, every word put where it is clear.

A try works on one size of sheet. What does not find its place in a try comes earlier, and gets
more room, in the next one.
"""

from __future__ import annotations

import itertools
import math
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from handbook.output.drawing.iso_board import NOBODY, Board, edges_of, middle
from handbook.output.drawing.iso_bodies import Body, bodies, own_mark
from handbook.output.drawing.iso_cost import Join
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
    DOWN,
    ROW,
    UNIT,
    UP,
    Box,
    Edge,
    Point,
    Spot,
    distance,
    edge,
    sheet,
    step,
)
from handbook.output.drawing.iso_place import Placing
from handbook.output.drawing.iso_route import BEND, CROSSING, Wish, route
from handbook.output.drawing.iso_text import Text
from handbook.output.drawing.iso_zones import GUTTER, Zone, Zones, targets, zones
from handbook.pages.riser.content import Riser, RiserMark, RiserPipe, RiserRun

RETRIES = 3
"""How often the bodies are placed anew with more room for a pipe that found none."""

MOST_LIFTED = 0.35
"""How often, on average, a task may take up others before the try is given up."""

LEAST_LIFTED = 12

DETOUR = 10
"""Steps that a pipe may go beyond half again its distance before others have to give way."""

TURNED = 16
"""What its bends and crossings may cost besides."""

NAMES, TITLES = -2, -100_000
"""The numbers of the first task of each kind that is not a pipe."""

WAYS = 7
"""Ways that a pipe tries before it is given up in this try."""


@dataclass(frozen=True)
class Led:
    """A pipe on the sheet: its corners, where it is broken because another runs in front of it."""

    pipe: RiserPipe
    line: tuple[Spot, ...]
    marks: tuple[Placed, ...]
    sizes: tuple[tuple[RiserRun, Text], ...]
    arrow: tuple[Spot, Spot] | None
    gaps: tuple[Spot, ...]


@dataclass(frozen=True)
class Dressed:
    """A pipe's way over the grid with what belongs to it."""

    way: tuple[Point, ...]
    marks: tuple[Placed, ...]
    sizes: tuple[tuple[RiserRun, Text], ...]

    @property
    def boxes(self) -> list[Box]:
        """What its marks, their words and its sizes take."""
        words = [text for mark in self.marks for text in mark.texts]
        words += [text for _, text in self.sizes]
        return [mark.box for mark in self.marks] + [text.box for text in words]


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
    worth: float
    """What its pipes cost: steps, bends and crossings; less is better."""


PULLS = ((0.015, 0.4), (0.008, 1.2), (0.008, 0.4), (0.022, 0.0), (0.015, 0.0), (0.004, 0.8))
"""Ways to place the bodies: how strongly each is drawn to its place on the plan, and how many
steps longer than they must the pipes may be."""

ENOUGH = 2
"""Layouts to choose from: the first that are found."""

GROWN, MOST_GROWN = 1.03, 60
"""How much larger the sheet becomes when nothing fits on it, and how often."""


def best_layout(riser: Riser, wide: float, high: float, largest: float | None) -> Layout | None:
    """Return the best of the first layouts found, on a sheet that grows until one is.

    None where it would have to grow to more than `largest` times its size. Raises ValueError
    where even a sheet many times as large would not do: a fault of ours.
    """
    for grown in range(MOST_GROWN):
        size, found = GROWN**grown, []
        if largest is not None and size > largest:
            return None
        for pull, spare in PULLS:
            layout = lay_out(riser, wide * size, high * size, pull, spare + 0.4 * grown)
            found += [layout] if layout else []
            if len(found) == ENOUGH:
                break
        if found:
            return min(found, key=lambda layout: layout.worth)
    raise ValueError(f"{riser.title} finds no room")


def lay_out(riser: Riser, wide: float, high: float, pull: float, spare: float) -> Layout | None:
    """Return the diagram on a sheet of this size; None where something found no place on it."""
    made = bodies(riser)
    shared = zones(riser, made, wide, high)
    places = targets(riser, made, shared)
    room: dict[int, float] = {}
    for _ in range(RETRIES):
        joins = _joins(riser, made, shared, spare, room)
        at = Placing(made, shared, places, joins, pull).run()
        if at is None:
            return None
        one = _Try(riser, made, shared, at)
        layout = one.run()
        if layout or one.stuck is None:
            return layout
        for n in one.stuck:
            room[n] = room.get(n, 0.0) + 1.5
    return None


def _joins(
    riser: Riser, made: Sequence[Body], shared: Zones, spare: float, room: dict[int, float]
) -> list[Join]:
    number = {body.point.id: n for n, body in enumerate(made)}
    joins = []
    for n, pipe in enumerate(riser.pipes):
        a, b = number[pipe.a], number[pipe.b]
        items = _inline(pipe, made[a], made[b])
        marks = sum(isinstance(item, RiserMark) for item in items)
        runs = len(items) - marks
        more = spare + room.get(n, 0.0)
        need = 2.0 + 2.1 * marks + 1.2 * runs + _frames(made[a], made[b]) + more
        zoned = [shared.zones[shared.of[e]] for e in (a, b)]
        depths = _depths((a, b), zoned, items, more)
        joins.append(
            Join(n, a, b, need, _way(pipe, made[a], made[b], *zoned), depths, falls(riser, pipe))
        )
    return joins


def _depths(
    ends: tuple[int, int],
    zoned: Sequence[Zone],
    items: Sequence[RiserMark | RiserRun],
    room: float,
) -> tuple[tuple[int, float, bool, float], ...]:
    """Return how far from the border between two zones the ends of a pipe must stay, so that each
    of its marks finds room on its own side."""
    first, second = zoned
    if first.box == second.box:
        return ()
    is_upright = first.box.top != second.box.top
    found = []
    for n, zone, other in ((ends[0], first, second), (ends[1], second, first)):
        marks = sum(isinstance(i, RiserMark) and i.level == zone.level for i in items)
        if is_upright:
            border = zone.box.top if other.box.top < zone.box.top else zone.box.bottom
        else:
            border = zone.box.left if other.box.left < zone.box.left else zone.box.right
        found.append((n, border, is_upright, (3.3 * marks + room) if marks else 0.0))
    return tuple(found)


NEVER = {0: frozenset[int](), 1: frozenset({UP}), -1: frozenset({DOWN})}
"""The directions that a pipe may not take: waste never rises, a vent never falls."""


def falls(riser: Riser, pipe: RiserPipe) -> int:
    """Return 1 where a pipe may only fall (waste), -1 where it may only rise (a vent), else 0.

    A record may have it the other way, and is drawn as it stands.
    """
    way = {"waste": 1, "cleanout": 1, "vent": -1}.get(pipe.line, 0)
    bands = [level.id for level in riser.levels]
    level = {point.id: bands.index(point.level) for point in riser.points}
    return way if way * (level[pipe.b] - level[pipe.a]) >= 0 else 0


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


def _way(pipe: RiserPipe, a: Body, b: Body, first: Zone, second: Zone) -> Spot | None:
    """Return which way a pipe runs on the sheet by its two ends' places on the plan."""
    if pipe.line == "cleanout":
        return (0.0, 1.0)
    if first.box.top != second.box.top:
        return (0.0, 1.0) if second.box.top > first.box.top else (0.0, -1.0)
    p, q = a.point.at, b.point.at
    if p is None or q is None:
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
    """Leads every pipe and places every late word with the bodies where they are.

    A task is a pipe, by its number; the words of body n, as NAMES - n; or the title of zone n, as
    TITLES - n.
    """

    riser: Riser
    made: Sequence[Body]
    shared: Zones
    at: Sequence[Point]
    led: dict[int, Dressed] = field(default_factory=dict)
    named: dict[int, tuple[Text, ...]] = field(default_factory=dict)
    titled: dict[int, tuple[Text, ...]] = field(default_factory=dict)
    history: dict[Edge, float] = field(default_factory=dict)
    stuck: tuple[int, ...] | None = None
    """The pipes of what finds no room even at the cost of all others."""
    patient: bool = True
    """Whether a pipe may still wait for a shorter way than the one that is free."""

    def run(self) -> Layout | None:
        self.board = self._board()
        self._settle()
        if not self._work(deque(self._order())):
            return None
        count = range(len(self.riser.pipes))
        return Layout(
            self.riser,
            self.shared,
            tuple(self.made),
            tuple(sheet(p) for p in self.at),
            tuple(self.named.get(n, ()) for n in range(len(self.made))),
            tuple(self._led(n) for n in count),
            tuple(text for n in sorted(self.titled) for text in self.titled[n]),
            sum(_worth(led.way) for led in self.led.values())
            + sum(CROSSING * (len(axes) - 1) for axes in self.board.through.values()),
        )

    def _work(self, tasks: deque[int]) -> bool:
        """Do all tasks, taking up others where one finds no room; False when that has no end."""
        tasks.extend(NAMES - n for n, body in enumerate(self.made) if body.label)
        tasks.extend(TITLES - n for n, zone in enumerate(self.shared.zones) if zone.words)
        left = max(LEAST_LIFTED, MOST_LIFTED * len(tasks))
        while tasks:
            task = tasks.popleft()
            if self._do(task, over=False):
                continue
            left -= 1
            self.patient = left > 0.4 * MOST_LIFTED * len(self.made)
            if left < 0:
                return False
            if not self._do(task, over=True, tasks=tasks):
                self.stuck = self._pipes_of(task)
                return False
        self._smooth()
        return True

    def _smooth(self) -> None:
        """Lead each pipe once more, now that the others have found their ways."""
        self.history.clear()
        self.patient = False
        for _ in range(2):
            for n in sorted(self.led, key=lambda n: (-len(self.led[n].way), n)):
                old = self.led[n]
                self.board.lift(n)
                new = self._lead(n, over=False, most=_worth(old.way))
                if new is not None:
                    self.led[n] = new
                self.board.lay(n, self.led[n].way, self.led[n].boxes)

    def _do(self, task: int, *, over: bool, tasks: deque[int] | None = None) -> bool:
        """Do one task; with `over`, at the cost of others, which are put back among the tasks."""
        way: Sequence[Point] = ()
        dressed, words = None, None
        if task >= 0:
            dressed = self._lead(task, over)
        elif task > TITLES:
            words = self._name(NAMES - task, over)
        else:
            words = self._title(TITLES - task, over)
        if dressed is None and words is None:
            return False
        way = dressed.way if dressed else ()
        boxes = dressed.boxes if dressed else [text.box for text in words or ()]
        if over and tasks is not None:
            for other in sorted(self.board.in_the_way(task, way, boxes)):
                for one in edges_of(self.board.laid[other].way):
                    self.history[one] = self.history.get(one, 0.0) + 0.5
                self.board.lift(other)
                tasks.append(other)
        self.board.lay(task, way, boxes)
        if dressed:
            self.led[task] = dressed
        elif task > TITLES:
            self.named[NAMES - task] = words or ()
        else:
            self.titled[TITLES - task] = words or ()
        return True

    def _pipes_of(self, task: int) -> tuple[int, ...]:
        if task <= TITLES:
            return ()
        return (task,) if task >= 0 else tuple(self.made[NAMES - task].ports)

    def _board(self) -> Board:
        shared = self.shared
        rows = {round(zone.box.bottom / ROW) for zone in shared.zones}
        rows = {row for row in rows if row * ROW < shared.high - ROW}
        walls = tuple(
            (zone.box.left + COLUMN / 2, zone.box.top) for zone in shared.zones if zone.box.left > 0
        )
        return Board(Box(-1, -1, shared.wide + 1, shared.high + 1), frozenset(rows), walls)

    def _title(self, n: int, over: bool) -> tuple[Text, ...] | None:
        """Return what a zone's floor line says, on the line, as far left as there is room."""
        zone = self.shared.zones[n]
        label = zone.title
        top = zone.box.bottom - label.high - 1.0
        if not zone.beside:
            return label.at(2 - GUTTER, top)
        spare = int((zone.box.right - zone.box.left - label.wide - 6) // 4)
        for k in range(max(1, spare)):
            left = zone.box.left + 8 + 4 * k
            if self.board.free(label.box(left, top), over=over):
                return label.at(left, top)
        return None

    def _settle(self) -> None:
        """Put the bodies on the board."""
        for n, (body, p) in enumerate(zip(self.made, self.at, strict=True)):
            x, y = sheet(p)
            owner = None if body.stubs else n
            for box in body.solid:
                self.board.fix(box.moved(x, y), owner)
            for a, b in zip(body.bar, body.bar[1:], strict=False):
                for k in range(b[0] - a[0]):
                    u = (p[0] + a[0] + k, p[1] + a[1] - k)
                    self.board.fixed.setdefault(edge(u, (u[0] + 1, u[1] - 1)), set()).add(None)
                    if k:
                        self.board.joints.setdefault(u, set()).add(NOBODY)

    def _order(self) -> list[int]:
        number = {body.point.id: n for n, body in enumerate(self.made)}

        def far(n: int) -> float:
            a, b = (
                sheet(self.at[number[e]]) for e in (self.riser.pipes[n].a, self.riser.pipes[n].b)
            )
            return math.dist(a, b)

        return sorted(range(len(self.riser.pipes)), key=lambda n: (far(n), n))

    # --- pipes -----------------------------------------------------------------------------------

    def _lead(self, n: int, over: bool, most: float = math.inf) -> Dressed | None:
        """Return a way for a pipe with all that belongs to it, worth less than `most`; or None."""
        pipe = self.riser.pipes[n]
        a, b = self._number(pipe.a), self._number(pipe.b)
        wish = Wish(
            self._ends(a, n, arriving=False, over=over),
            self._ends(b, n, arriving=True, over=over),
            frozenset({a, b}),
            self._home(a, b),
            NEVER[falls(self.riser, pipe)],
            over,
        )
        items = _inline(pipe, self.made[a], self.made[b])
        dear = dict(self.history)
        if not wish.starts or not wish.goals:
            return None
        far = min(distance(p, q) for p in wish.starts for q in wish.goals)
        if self.patient and not over:
            most = min(most, 1.5 * far + DETOUR + TURNED)
        wish = replace(wish, most=most)
        for _ in range(WAYS):
            way = route(self.board, wish, dear)
            if way is None or _worth(way) > most - 0.5:
                return None
            coat = self._coat(n, way, over)
            marks = coat.marks(items) if len(set(way)) == len(way) else None
            if marks is not None and (sizes := self._sizes(items, marks, coat)) is not None:
                return Dressed(tuple(way), marks, sizes)
            for p, q in itertools.pairwise(way):
                dear[edge(p, q)] = dear.get(edge(p, q), 0.0) + 0.6
        return None

    def _home(self, a: int, b: int) -> Box:
        """Return the part of the sheet from one end's zone to the other's."""
        first, second = (self.shared.zones[self.shared.of[n]].box for n in (a, b))
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

    def _coat(self, n: int, way: Sequence[Point], over: bool = False) -> Coat:
        line = self._line(n, way)
        avoid = tuple(sheet(p) for p in self.board.crossings(way, n))
        boxes = {
            level.id: tuple(zone.box for zone in self.shared.level(level.id))
            for level in self.riser.levels
        }
        keep = self._pending(n)
        return Coat(self.board, stretches(line), avoid, boxes, keep, over)

    def _line(self, n: int, way: Sequence[Point]) -> list[Spot]:
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
            if m == n or m in self.board.laid:
                continue
            for end in (pipe.a, pipe.b):
                e = self._number(end)
                for dx, dy in self.made[e].ports[m].points:
                    boxes.append(ring((self.at[e][0] + dx, self.at[e][1] + dy)))
        return tuple(boxes)

    def _number(self, point: str) -> int:
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

    # --- words -----------------------------------------------------------------------------------

    def _name(self, n: int, over: bool) -> tuple[Text, ...] | None:
        """Return a body's late words beside it; None where there is no room."""
        body = self.made[n]
        if body.label is None:
            return ()
        x, y = sheet(self.at[n])
        coat = Coat(self.board, (), (), {}, self._pending(-1), over)
        for at in _corners(body):
            box = at.moved(x, y)
            texts = coat.beside(body.label, middle(box), box)
            if texts:
                return texts
        return None

    def _led(self, n: int) -> Led:
        way = self.led[n].way
        line = self._line(n, way)
        gaps = tuple(sheet(p) for p in self.board.crossings(way, n) if self._behind(n, p))
        coat = self._coat(n, way)
        arrow = self._arrow(n, coat)
        return Led(
            self.riser.pipes[n], tuple(line), self.led[n].marks, self.led[n].sizes, arrow, gaps
        )

    def _behind(self, n: int, p: Point) -> bool:
        """Whether a pipe runs behind the one it crosses: upright pipes stand in front, else the
        one that was led first."""
        mine = self.board.through[p][n]
        other, axis = next((q, x) for q, x in self.board.through[p].items() if q != n)
        if (mine == 0) != (axis == 0):
            return mine != 0
        return n > other

    def _arrow(self, n: int, coat: Coat) -> tuple[Spot, Spot] | None:
        if self.riser.pipes[n].line in ("vent", "cleanout"):
            return None
        taken = [mark.along for mark in self.led[n].marks]
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
        self.board.fix(arrow_box(best[1]))
        return best[1], best[2]


def _worth(way: Sequence[Point]) -> float:
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


def _corners(body: Body) -> list[Box]:
    """Return the places beside which a body's late words may stand: its dot, or its bar's ends."""
    if not body.bar:
        return [body.solid[0]]
    return [body.solid[-1], body.solid[0], *body.solid[1:-1]]
