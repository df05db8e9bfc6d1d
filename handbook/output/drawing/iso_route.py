"""Finds the way of a pipe over the grid: short, with few bends, crossing others straight over."""

from __future__ import annotations

import heapq
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache
from math import ceil, floor, inf

from handbook.output.drawing.iso_board import NOBODY, Board
from handbook.output.drawing.iso_grid import (
    COLUMN,
    DIRECTIONS,
    ROW,
    Box,
    Edge,
    Point,
    distance,
)

BEND, SHARP, CROSSING, CROWD, ASTRAY, OVER = 3.4, 8.0, 2.0, 0.06, 3.0, 4.0
"""What a bend costs, a sharp one, a crossing, a neighbour, a step where a pipe has no business, a
step over what another task has taken; in steps."""


@dataclass(frozen=True)
class Wish:
    """From where to where: points with the directions that may be left or arrived in.

    `goals` have the directions of the last step. `owners` are bodies whose boxes it may enter,
    `home` the part of the sheet that it should keep to, `never` directions that it must not take.
    With `over`, what other tasks have taken is dear instead of closed. A way that costs more than
    `most` is not wanted.
    """

    starts: Mapping[Point, Collection[int]]
    goals: Mapping[Point, Collection[int]]
    owners: frozenset[int]
    home: Box
    never: frozenset[int] = frozenset()
    over: bool = False
    most: float = inf


def route(board: Board, wish: Wish, dear: Mapping[Edge, float]) -> list[Point] | None:
    """Return the best way as neighbouring points, or None. `dear` edges cost that much more."""
    return _Search(board, wish, dear).run()


State = tuple[Point, int]


class _Search:
    """One search, best first. A state is a point and the direction it was reached in."""

    def __init__(self, board: Board, wish: Wish, dear: Mapping[Edge, float]) -> None:
        self.board, self.wish, self.dear = board, wish, dear
        self.best: dict[State, float] = {}
        self.came: dict[State, State] = {}
        self.queue: list[tuple[float, int, State]] = []
        self.steps: dict[State, tuple[Point, float] | None] = {}
        self.left: dict[State, float] = {}
        whole, home = board.whole, wish.home
        self.columns = ceil(whole.left / COLUMN), floor(whole.right / COLUMN)
        self.rows = ceil(whole.top / ROW), floor(whole.bottom / ROW)
        self.home_columns = home.left / COLUMN, home.right / COLUMN
        self.home_rows = home.top / ROW, home.bottom / ROW

    def run(self) -> list[Point] | None:
        goals, done = self.wish.goals, set[State]()
        for start in self.wish.starts:
            if self.wish.over or start not in self.board.through:
                self._reach((start, -1), 0.0)
        while self.queue:
            least, _, state = heapq.heappop(self.queue)
            if least > self.wish.most:
                return None
            if state in done:
                continue
            done.add(state)
            p, direction = state
            if direction >= 0 and p in goals and direction in goals[p]:
                return self._back(state)
            cost, bends = self.best[state], _BENDS[direction]
            for turn in self._turns(p, direction):
                step = (p, turn)
                if step not in self.steps:
                    self.steps[step] = self._priced(p, turn)
                found = self.steps[step]
                if found is not None and self._reach(
                    (found[0], turn), cost + found[1] + bends[turn]
                ):
                    self.came[found[0], turn] = state
        return None

    def _reach(self, state: State, cost: float) -> bool:
        """Come to a state; say whether that is cheaper than any way known before."""
        if cost >= self.best.get(state, 1e9) - 1e-9:
            return False
        self.best[state] = cost
        left = self.left.get(state)
        if left is None:
            left = self.left[state] = self._least(*state)
        heapq.heappush(self.queue, (cost + left, len(self.best), state))
        return True

    def _least(self, p: Point, direction: int) -> float:
        """Return what the rest of the way costs at the least: its steps and its bends."""
        return min(
            _ahead(direction, x - p[0], y - p[1], direction in arrive)
            for (x, y), arrive in self.wish.goals.items()
        )

    def _turns(self, p: Point, direction: int) -> Collection[int]:
        if direction < 0:
            return [t for t in self.wish.starts[p] if t not in self.wish.never]
        if p in self.board.through and not self.wish.over:
            return (direction,)
        return [t for t in _AHEAD[direction] if t not in self.wish.never]

    def _priced(self, p: Point, turn: int) -> tuple[Point, float] | None:
        board, wish = self.board, self.wish
        dx, dy = DIRECTIONS[turn]
        q = (p[0] + dx, p[1] + dy)
        if not (
            self.columns[0] <= q[0] <= self.columns[1] and self.rows[0] <= q[1] <= self.rows[1]
        ):
            return None
        if dx and min(p[1], q[1]) in board.floor_rows:
            return None
        one = (p, q) if p < q else (q, p)
        if one in board.fixed and not board.fixed[one] <= wish.owners:
            return None
        price = 1.0 + CROWD * board.crowded.get(q, 0) + self.dear.get(one, 0.0)
        if not (
            self.home_columns[0] <= q[0] <= self.home_columns[1]
            and self.home_rows[0] <= q[1] <= self.home_rows[1]
        ):
            price += ASTRAY
        if one in board.pipes or one in board.barred:
            if not wish.over:
                return None
            price += OVER
        over = self._over(q, turn)
        return None if over is None else (q, price + over)

    def _over(self, q: Point, turn: int) -> float | None:
        """Return what it costs to come to a point because of the pipes there, or None."""
        board, wish = self.board, self.wish
        if q in wish.goals:
            if turn not in wish.goals[q]:
                return None
            return 0.0 if q not in board.through else (OVER if wish.over else None)
        if q in board.joints:
            if not wish.over or NOBODY in board.joints[q]:
                return None
            return OVER
        others = board.through.get(q)
        if others is None:
            return 0.0
        if turn % 3 in others.values() or len(others) > 1:
            return OVER if wish.over else None
        return CROSSING

    def _back(self, state: State) -> list[Point]:
        way = [state[0]]
        while state in self.came:
            state = self.came[state]
            way.append(state[0])
        return way[::-1]


_AHEAD = tuple(tuple(t for t in range(6) if (t - d) % 6 != 3) for d in range(6))


def _bend(direction: int, turn: int) -> float:
    if direction in (-1, turn):
        return 0.0
    return BEND if (turn - direction) % 6 in (1, 5) else SHARP


_BENDS = tuple(tuple(_bend(direction, turn) for turn in range(6)) for direction in (*range(6), -1))
"""By direction and turn; the last row is that of a start, which has no direction yet."""


@cache
def _ahead(direction: int, across: int, down: int, may_arrive: bool) -> float:
    """Return the least that it costs to come so far across and down, going in a direction."""
    steps = distance((0, 0), (across, down))
    if direction < 0 or not steps:
        return steps + (0.0 if may_arrive or direction < 0 else BEND)
    dx, dy = DIRECTIONS[direction]
    rest = (across - steps * dx, down - steps * dy)
    if rest == (0, 0):
        return steps + (0.0 if may_arrive else BEND)
    for turn in ((direction + 1) % 6, (direction - 1) % 6):
        tx, ty = DIRECTIONS[turn]
        if any(
            (across - k * dx, down - k * dy) == ((steps - k) * tx, (steps - k) * ty)
            for k in range(steps)
        ):
            return steps + BEND
    return steps + 2 * BEND
