"""Finds the way of a pipe over the grid: short, with few bends, crossing others straight over."""

from __future__ import annotations

import heapq
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from handbook.output.drawing.iso_board import Board
from handbook.output.drawing.iso_grid import Edge, Point, distance, edge, sheet, step

BEND, SHARP, CROSSING, CROWD = 2.2, 4.0, 2.6, 0.16
MOST = 60_000
"""Steps of the search before a way counts as not to be found."""


@dataclass(frozen=True)
class Wish:
    """From where to where: points with the directions that may be left or arrived in."""

    pipe: int
    starts: Mapping[Point, Collection[int]]
    goals: Mapping[Point, Collection[int]]
    """Directions of the last step, seen along the pipe."""
    owners: frozenset[int]
    """Bodies whose boxes it may enter."""


def route(board: Board, wish: Wish, dear: Mapping[Edge, float]) -> list[Point] | None:
    """Return the best way as neighbouring points, or None. `dear` edges cost that much more."""
    goals = wish.goals

    def left(p: Point) -> int:
        return min(distance(p, goal) for goal in goals)

    queue: list[tuple[float, int, Point, int]] = []
    best: dict[tuple[Point, int], float] = {}
    came: dict[tuple[Point, int], tuple[Point, int]] = {}
    tie = 0
    for start in wish.starts:
        if not _joint_free(board, start, wish):
            continue
        best[start, -1] = 0.0
        heapq.heappush(queue, (float(left(start)), tie, start, -1))
        tie += 1
    while queue and tie < MOST:
        _, _, p, direction = heapq.heappop(queue)
        cost = best[p, direction]
        if p in goals and direction in goals[p] and direction >= 0:
            return _back(came, (p, direction))
        for turn in _turns(board, p, direction, wish):
            q = step(p, turn)
            price = _price(board, wish, p, q, turn)
            if price is None:
                continue
            price += dear.get(edge(p, q), 0.0) + _bend(direction, turn)
            state, whole = (q, turn), cost + price
            if whole < best.get(state, 1e9) - 1e-9:
                best[state], came[state] = whole, (p, direction)
                tie += 1
                heapq.heappush(queue, (whole + left(q), tie, q, turn))
    return None


def _turns(board: Board, p: Point, direction: int, wish: Wish) -> Collection[int]:
    if direction < 0:
        return wish.starts[p]
    if p in board.through:
        return (direction,)
    return [t for t in range(6) if (t - direction) % 6 != 3]


def _bend(direction: int, turn: int) -> float:
    if direction < 0 or direction == turn:
        return 0.0
    return BEND if (turn - direction) % 6 in (1, 5) else SHARP


def _price(board: Board, wish: Wish, p: Point, q: Point, turn: int) -> float | None:
    """Return what a step costs, or None where it is not to be made."""
    one = edge(p, q)
    if one in board.pipes or board.floor_between(p, q):
        return None
    if one in board.blocked and not board.blocked[one] <= wish.owners:
        return None
    x, y = sheet(q)
    whole = board.whole
    if not (whole.left <= x <= whole.right and whole.top <= y <= whole.bottom):
        return None
    price = 1.0 + CROWD * board.crowded.get(q, 0)
    if q in wish.goals:
        return price if _joint_free(board, q, wish) and turn in wish.goals[q] else None
    if q in board.joints:
        return None
    if q in board.through:
        if any(axis == turn % 3 for _, axis in board.through[q]) or len(board.through[q]) > 1:
            return None
        price += CROSSING
    return price


def _joint_free(board: Board, p: Point, wish: Wish) -> bool:
    """Whether a pipe may end here: no stranger runs over the point."""
    return p not in board.through


def _back(
    came: Mapping[tuple[Point, int], tuple[Point, int]], state: tuple[Point, int]
) -> list[Point]:
    way = [state[0]]
    while state in came:
        state = came[state]
        way.append(state[0])
    return way[::-1]
