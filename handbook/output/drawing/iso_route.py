"""Finds the way of a pipe over the grid: short, with few bends, crossing others straight over."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
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


_Step = tuple[int, int, int, float]
"""The turn it takes, the point it leads to, the state that is reached, its price."""

_Bends = tuple[float, ...]
_TURNS = range(6)
_FAR = 1e9

_BITS = 12
"""A point is one number while a way is looked for: its column, and its row in this many bits. A
state is a point with the direction it was reached in, one higher, in three bits more; 0 at a start.
In their order they are as points and directions are."""


class _Search:
    """One search, best first."""

    def __init__(self, board: Board, wish: Wish, dear: Mapping[Edge, float]) -> None:
        self.board, self.wish, self.dear = board, wish, dear
        self.best: dict[int, float] = {}
        self.came: dict[int, int] = {}
        self.queue: list[tuple[float, int, int]] = []
        self.goals = [
            (_code(p), tuple(_LEFT[turn in arrive][turn] for turn in range(6)))
            for p, arrive in wish.goals.items()
        ]
        whole, home = board.whole, wish.home
        self.columns = ceil(whole.left / COLUMN), floor(whole.right / COLUMN)
        self.rows = ceil(whole.top / ROW), floor(whole.bottom / ROW)
        self.home_columns = home.left / COLUMN, home.right / COLUMN
        self.home_rows = home.top / ROW, home.bottom / ROW
        self.turns = [(t, dx, dy) for t, (dx, dy) in enumerate(DIRECTIONS) if t not in wish.never]

    def run(self) -> list[Point] | None:
        best, came, queue, most = self.best, self.came, self.queue, self.wish.most
        done, known = set[int](), dict[int, tuple[Sequence[_Bends], Sequence[_Step]]]()
        arrivals = {_code(p): arrive for p, arrive in self.wish.goals.items()}
        goal, ahead = self.goals[0] if len(self.goals) == 1 else (0, ({},) * 6)
        self._start()
        while queue:
            least, _, state = heappop(queue)
            if least > most:
                return None
            if state in done:
                continue
            done.add(state)
            code, facing = state >> 3, state & 7
            if facing and code in arrivals and facing - 1 in arrivals[code]:
                return self._back(state)
            if code not in known:
                known[code] = self._onward(_point(code))
            bends, steps = known[code]
            cost, dearer = best[state], bends[facing]
            for turn, to, after, price in steps:
                sum_so_far = cost + price + dearer[turn]
                if sum_so_far >= best.get(after, _FAR) - 1e-9:
                    continue
                best[after] = sum_so_far
                came[after] = state
                left = ahead[turn].get(goal - to)
                whole = sum_so_far + (self._least(to, turn) if left is None else left)
                if whole <= most:
                    heappush(queue, (whole, len(best), after))
        return None

    def _start(self) -> None:
        for start in self.wish.starts:
            if self.wish.over or start not in self.board.through:
                code = _code(start)
                left = min(distance(start, goal) for goal in self.wish.goals)
                self.best[code << 3] = 0.0
                heappush(self.queue, (float(left), len(self.best), code << 3))

    def _least(self, code: int, turn: int) -> float:
        """Return what the rest of the way costs at the least: its steps and its bends."""
        least = inf
        for goal, left in self.goals:
            found = left[turn].get(goal - code)
            if found is None:
                (x, y), (gx, gy) = _point(code), _point(goal)
                may = left[turn] is _LEFT[True][turn]
                found = left[turn][goal - code] = _ahead(turn, gx - x, gy - y, may)
            least = min(least, found)
        return least

    def _onward(self, p: Point) -> tuple[Sequence[_Bends], Sequence[_Step]]:
        """Return what bends cost at a point, by how it was reached, and the steps from it."""
        steps = self._steps(p)
        if p in self.wish.starts:
            leaves = self.wish.starts[p]
            first = tuple(0.0 if turn in leaves else inf for turn in _TURNS)
            return (first, *_BENDS[1:]), steps
        through = p in self.board.through and not self.wish.over
        return (_STRAIGHT if through else _BENDS), steps

    def _steps(self, p: Point) -> list[_Step]:
        """Return the steps that may be taken from a point, with their prices."""
        board, over = self.board, self.wish.over
        pipes, barred, fixed, crowded = board.pipes, board.barred, board.fixed, board.crowded
        found, (left, right), (top, bottom) = [], self.columns, self.rows
        for turn, dx, dy in self.turns:
            q = column, row = p[0] + dx, p[1] + dy
            if not (left <= column <= right and top <= row <= bottom):
                continue
            one = (p, q) if dx > 0 or dy == 2 else (q, p)
            if one in fixed and not fixed[one] <= self.wish.owners:
                continue
            closed = one in pipes or one in barred
            if (closed and not over) or (dx and min(p[1], row) in board.floor_rows):
                continue
            came = self._over(q, turn)
            if came is None:
                continue
            price = 1.0 + CROWD * crowded.get(q, 0) + self.dear.get(one, 0.0)
            if not self._at_home(column, row):
                price += ASTRAY
            code = (column << _BITS) + row
            state = code << 3 | turn + 1
            found.append((turn, code, state, price + (OVER if closed else 0.0) + came))
        return found

    def _at_home(self, column: int, row: int) -> bool:
        left, right = self.home_columns
        return left <= column <= right and self.home_rows[0] <= row <= self.home_rows[1]

    def _over(self, q: Point, turn: int) -> float | None:
        """Return what it costs to come to a point because of the pipes there, or None."""
        board, wish = self.board, self.wish
        others = board.through.get(q)
        if q in wish.goals:
            if turn not in wish.goals[q]:
                return None
            return 0.0 if others is None else (OVER if wish.over else None)
        if q in board.joints:
            if not wish.over or NOBODY in board.joints[q]:
                return None
            return OVER
        if others is None:
            return 0.0
        if turn % 3 in others.values() or len(others) > 1:
            return OVER if wish.over else None
        return CROSSING

    def _back(self, state: int) -> list[Point]:
        way = [_point(state >> 3)]
        while state in self.came:
            state = self.came[state]
            way.append(_point(state >> 3))
        return way[::-1]


def _code(p: Point) -> int:
    return (p[0] << _BITS) + p[1]


def _point(code: int) -> Point:
    return code >> _BITS, code & ((1 << _BITS) - 1)


def _bend(direction: int, turn: int) -> float:
    if turn == direction:
        return 0.0
    return (0.0, BEND, SHARP, inf, SHARP, BEND)[(turn - direction) % 6]


_BENDS: tuple[_Bends, ...] = (
    (0.0,) * 6,
    *(tuple(_bend(direction, turn) for turn in _TURNS) for direction in _TURNS),
)
"""What a bend costs, by how a point was reached and the turn; first at a start. None turns back."""

_STRAIGHT: tuple[_Bends, ...] = tuple(
    tuple(0.0 if bend == 0.0 else inf for bend in bends) for bends in _BENDS
)
"""The same where another pipe is crossed, straight over."""

_LEFT: tuple[tuple[dict[int, float], ...], ...] = tuple(
    tuple({} for _ in _TURNS) for _ in (False, True)
)
"""What is known of the rest of ways: by whether they may arrive in the direction they go in, by
that direction, by how far off the goal is."""


def _ahead(direction: int, across: int, down: int, may_arrive: bool) -> float:
    """Return the least that it costs to come so far across and down, going in a direction."""
    steps = distance((0, 0), (across, down))
    if direction < 0 or not steps:
        return steps + (0.0 if may_arrive or direction < 0 else BEND)
    dx, dy = DIRECTIONS[direction]
    if (across, down) == (steps * dx, steps * dy):
        return steps + (0.0 if may_arrive else BEND)
    for turn in ((direction + 1) % 6, (direction - 1) % 6):
        tx, ty = DIRECTIONS[turn]
        size = dx * ty - dy * tx
        if (across * ty - down * tx) * size >= 0 and (dx * down - dy * across) * size > 0:
            return steps + BEND
    return steps + 2 * BEND
