"""Pipes with their flow, ties, and the way to walk."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from handbook.output.drawing import svg
from handbook.output.drawing.board import Board
from handbook.output.drawing.sheet import gap
from handbook.pages.plan.shapes import Pipe, Plan, Point, Tie
from handbook.tables import table

HEAD = 6.5
"""Length of a flow arrow's head in units; on a shorter pipe it is as long as the pipe allows."""

EVERY = 64.0
"""Units between arrowheads on the way to walk."""


def draw(plan: Plan, board: Board, ends: Sequence[tuple[Point, float]] = ()) -> None:
    """Draw every line of a plan. `ends` are the symbols' places and half sides: the way to walk
    stops short of them."""
    for pipe in plan.pipes:
        _pipe(pipe, board)
    for tie in plan.ties:
        _tie(tie, board)
    for way in plan.ways:
        _way(board.frame.line(way), board, ends)


def _pipe(pipe: Pipe, board: Board) -> None:
    kind = table("map_lines").values[pipe.kind]
    points = board.frame.line(pipe.points)
    board.keep_off_line(points, kind["width"])
    drawn = [svg.stroke(svg.path(points), "m-pipe", kind["width"], dash=kind["dash"])]
    if pipe.flows:
        a, b = max(pairwise(points), key=lambda leg: gap(*leg))
        drawn += _flow(a, b, board)
    board.draw(svg.group("m-line", drawn))


def _flow(a: Point, b: Point, board: Board) -> list[str]:
    long = gap(a, b)
    if long < 1:
        return []
    size = min(HEAD, long * 0.8)
    way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
    tip_at = min(long / 2 + size / 2, long)
    tip = (a[0] + way[0] * tip_at, a[1] + way[1] * tip_at)
    back = (tip[0] - way[0] * size, tip[1] - way[1] * size)
    board.keep_off_line([back, tip], size * 0.84)
    return [svg.fill(svg.arrow(tip, way, size), "m-flow")]


def _tie(tie: Tie, board: Board) -> None:
    kind = table("map_lines").values["tie"]
    points = board.frame.line((tie.corner, tie.to))
    board.keep_off_line(points, kind["width"])
    board.draw(svg.stroke(svg.path(points), "m-tie", kind["width"]))


def _way(points: list[Point], board: Board, ends: Sequence[tuple[Point, float]]) -> None:
    kind = table("map_lines").values["way"]
    points = _stopped(points, ends)
    board.keep_off_line(points, kind["width"])
    heads = [
        svg.fill(svg.arrow(tip, way, 9.0), "m-way-tip", svg.WAY) for tip, way in _heads(points)
    ]
    for tip, way in _heads(points):
        back = (tip[0] - way[0] * 9, tip[1] - way[1] * 9)
        board.keep_off_line([back, tip], 8.0)
    line = svg.stroke(svg.path(points), "m-way-line", kind["width"], svg.WAY)
    board.draw(svg.group("m-way", (line, *heads)))


def _stopped(points: list[Point], ends: Sequence[tuple[Point, float]]) -> list[Point]:
    """Cut the way off where it reaches the symbol that it leads to."""
    *before, a, b = points
    long = gap(a, b)
    near = [reach for at, reach in ends if gap(at, b) < reach]
    short = min(max(near, default=0.0) + 1.5, long * 0.8) if near else 0.0
    if not long or not short:
        return points
    share = (long - short) / long
    return [*before, a, (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)]


def _heads(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Return where arrowheads sit, tip and direction: at the end, and on long legs on the way."""
    found = []
    for a, b in pairwise(points):
        long = gap(a, b)
        if not long:
            continue
        way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
        last = b == points[-1]
        count = int(long // EVERY) + (1 if last else 0)
        for i in range(1, count + 1):
            far = long if last and i == count else long * i / (count + (0 if last else 1))
            found.append(((a[0] + way[0] * far, a[1] + way[1] * far), way))
    return found
