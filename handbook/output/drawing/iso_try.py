"""One try to lay out a riser diagram: every pipe led, every word put where it is clear."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from handbook.output.drawing.iso_board import NOBODY, Board
from handbook.output.drawing.iso_body import Body
from handbook.output.drawing.iso_drawn import Layout
from handbook.output.drawing.iso_dress import Coat
from handbook.output.drawing.iso_finish import led
from handbook.output.drawing.iso_grid import COLUMN, ROW, Box, Point, edge, edges_of, middle, sheet
from handbook.output.drawing.iso_lead import Leading, worth
from handbook.output.drawing.iso_own import Named
from handbook.output.drawing.iso_route import CROSSING
from handbook.output.drawing.iso_text import Text, around
from handbook.output.drawing.iso_zones import GUTTER, Zones

MOST_LIFTED = 0.35
"""How often, on average, a task may take up others before the try is given up."""

LEAST_LIFTED = 12

LONGER = 8.0
"""What a way may cost more so that a pipe's sizes stand beside it alone."""

NAMES, TITLES = -2, -100_000
"""The numbers of the first task of each kind that is not a pipe."""


@dataclass
class Try(Leading):
    """Leads every pipe and places every late word with the bodies where they are.

    A task is a pipe, by its number; the words of body n, as NAMES - n; or the title of zone n, as
    TITLES - n.
    """

    named: dict[int, tuple[Text, ...]] = field(default_factory=dict)
    titled: dict[int, tuple[Text, ...]] = field(default_factory=dict)
    stuck: tuple[int, ...] | None = None
    """The pipes of what finds no room even at the cost of all others."""

    def run(self) -> Layout | None:
        """Return the diagram, or None where something found no room."""
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
            tuple(led(self, n) for n in count),
            tuple(text for n in sorted(self.titled) for text in self.titled[n]),
            sum(worth(dressed.way) for dressed in self.led.values())
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
        self._reseat()
        return True

    def _smooth(self) -> None:
        """Lead each pipe once more, now that the others have found their ways."""
        self.history.clear()
        self.patient = False
        for _ in range(2):
            for n in sorted(self.led, key=lambda n: (-len(self.led[n].way), n)):
                old = self.led[n]
                self.board.lift(n)
                new = self.lead(n, over=False, most=worth(old.way))
                if new is not None:
                    self.led[n] = new
                self.board.lay(n, self.led[n].way, self.led[n].boxes, self.led[n].named)

    def _reseat(self) -> None:
        """Set each pipe's sizes once more, clear of what was led after them; where that is
        impossible, lead it another way if that is not much longer."""
        for _ in range(2):
            for n, dressed in sorted(self.led.items()):
                self.board.lift(n)
                self.picky = True
                found = self.sized(n, dressed) or self.lead(n, False, worth(dressed.way) + LONGER)
                self.picky = False
                self.led[n] = found or self.sized(n, dressed) or dressed
                self.board.lay(n, self.led[n].way, self.led[n].boxes, self.led[n].named)

    def _do(self, task: int, *, over: bool, tasks: deque[int] | None = None) -> bool:
        """Do one task; with `over`, at the cost of others, which are put back among the tasks."""
        way: Sequence[Point] = ()
        dressed, words = None, None
        if task >= 0:
            dressed = self.lead(task, over)
        elif task > TITLES:
            words = self._name(NAMES - task, over)
        else:
            words = self._title(TITLES - task, over)
        if dressed is None and words is None:
            return False
        way = dressed.way if dressed else ()
        boxes = dressed.boxes if dressed else [text.box for text in words or ()]
        named = dressed.named if dressed else []
        if words and TITLES < task < 0:
            named = [self._symbol(NAMES - task, around(words))]
        if over and tasks is not None:
            for other in sorted(self.board.in_the_way(task, way, boxes, named)):
                for one in edges_of(self.board.laid[other].way):
                    self.history[one] = self.history.get(one, 0.0) + 0.5
                self.board.lift(other)
                tasks.append(other)
        self.board.lay(task, way, boxes, named)
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
            for box in body.solid:
                own = box == body.frame or not body.stubs
                self.board.fix(box.moved(x, y), n if own else None)
            for named in body.named if body.shape != "none" or body.bar else ():
                self.board.name(named.moved(x, y))
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

    def _symbol(self, n: int, words: Box | None = None) -> Named:
        """Return a body's symbol where it stands."""
        return replace(self.made[n].named[0].moved(*sheet(self.at[n])), words=words)

    def _name(self, n: int, over: bool) -> tuple[Text, ...] | None:
        """Return a body's late words beside it; None where there is no room."""
        body = self.made[n]
        if body.label is None:
            return ()
        x, y = sheet(self.at[n])
        coat = Coat(self.board, (), (), {}, self.pending(-1), over)
        own = self._symbol(n)
        for at in _corners(body):
            box = at.moved(x, y)
            texts = coat.beside(body.label, middle(box), box, own)
            if texts:
                return texts
        return None


def board_of(shared: Zones) -> Board:
    """Return an empty board with the floor lines and the outer walls of a sheet."""
    rows = {round(zone.box.bottom / ROW) for zone in shared.zones}
    rows = {row for row in rows if row * ROW < shared.high - ROW}
    walls = tuple(
        (zone.box.left + COLUMN / 2, zone.box.top) for zone in shared.zones if zone.box.left > 0
    )
    return Board(Box(-1, -1, shared.wide + 1, shared.high + 1), frozenset(rows), walls)


def _corners(body: Body) -> list[Box]:
    """Return the places beside which a body's late words may stand: its dot, or its bar's ends."""
    if not body.bar:
        return [body.solid[0]]
    return [body.solid[-1], body.solid[0], *body.solid[1:-1]]
