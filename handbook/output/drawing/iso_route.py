"""Finds the way of a pipe over the grid: short, with few bends, crossing others straight over."""

from __future__ import annotations

import heapq
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from math import ceil, floor

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
    With `over`, what other tasks have taken is dear instead of closed.
    """

    starts: Mapping[Point, Collection[int]]
    goals: Mapping[Point, Collection[int]]
    owners: frozenset[int]
    home: Box
    never: frozenset[int] = frozenset()
    over: bool = False


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
        self.queue: list[tuple[float, int, Point, int]] = []
        self.steps: dict[tuple[Point, int], tuple[Point, float] | None] = {}
        self.left: dict[Point, int] = {}
        whole, home = board.whole, wish.home
        self.columns = ceil(whole.left / COLUMN), floor(whole.right / COLUMN)
        self.rows = ceil(whole.top / ROW), floor(whole.bottom / ROW)
        self.home_columns = home.left / COLUMN, home.right / COLUMN
        self.home_rows = home.top / ROW, home.bottom / ROW

    def run(self) -> list[Point] | None:
        goals = self.wish.goals
        for start in self.wish.starts:
            if self.wish.over or start not in self.board.through:
                self._reach((start, -1), 0.0, None)
        while self.queue:
            _, _, p, direction = heapq.heappop(self.queue)
            if direction >= 0 and p in goals and direction in goals[p]:
                return self._back((p, direction))
            cost = self.best[p, direction]
            for turn in self._turns(p, direction):
                found = self._step(p, turn)
                if found is not None:
                    q, price = found
                    self._reach((q, turn), cost + price + _bend(direction, turn), (p, direction))
        return None

    def _reach(self, state: State, cost: float, came: State | None) -> None:
        if cost >= self.best.get(state, 1e9) - 1e-9:
            return
        self.best[state] = cost
        if came is not None:
            self.came[state] = came
        p = state[0]
        if p not in self.left:
            self.left[p] = min(distance(p, goal) for goal in self.wish.goals)
        heapq.heappush(self.queue, (cost + self.left[p], len(self.best), p, state[1]))

    def _turns(self, p: Point, direction: int) -> Collection[int]:
        if direction < 0:
            return [t for t in self.wish.starts[p] if t not in self.wish.never]
        if p in self.board.through and not self.wish.over:
            return (direction,)
        return [t for t in _AHEAD[direction] if t not in self.wish.never]

    def _step(self, p: Point, turn: int) -> tuple[Point, float] | None:
        """Return where a step leads and what it costs, or None where it is not to be made."""
        key = (p, turn)
        if key not in self.steps:
            self.steps[key] = self._priced(p, turn)
        return self.steps[key]

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
