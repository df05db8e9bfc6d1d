"""Pipes with their flow, ties, and the way to walk."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, product

from handbook.output.drawing import svg
from handbook.output.drawing.board import Board
from handbook.output.drawing.piped import led
from handbook.output.drawing.sheet import Standing, gap
from handbook.pages.plan.shapes import Pipe, Plan, Point, Tie
from handbook.tables import table

HEADS = (6.5, 5.0, 3.6)
"""Lengths that a flow arrow's head may have, in units; the longest that finds a clear place."""

SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
"""Where on a pipe its flow arrow may sit, the best first."""

OFF_SYMBOL = 1.0
"""Units that a flow arrow keeps off a symbol."""

FINE, SPOT = 0.6, 1.3
"""How thick the line is from a moved symbol to where its thing is, and half the dot there."""

EVERY = 64.0
"""Units between arrowheads on the way to walk."""

TIP, LEAST = 9.0, 5.0
"""How long such a head is, and on a short leg at least: on a shorter one it would point nowhere."""


def draw(plan: Plan, board: Board, stands: Sequence[Standing] = ()) -> None:
    """Draw every line of a plan. Pipes run to the symbols at their ends. The way to walk stops
    short of the symbols that stand on it, flow arrows keep off them, and ties run to where their
    thing is, as moved symbols do."""
    ends = [(stand.at, stand.reach) for stand in stands]
    for pipe, points in zip(plan.pipes, led(plan, board.frame, stands), strict=True):
        _pipe(pipe, points, board, ends)
    for tie in plan.ties:
        _tie(tie, board)
    for stand in stands:
        if stand.moved:
            _moved(stand, board)
    for way in plan.ways:
        _way(board.frame.line(way), board, ends)


def _pipe(
    pipe: Pipe, points: Sequence[Point], board: Board, symbols: Sequence[tuple[Point, float]]
) -> None:
    kind = table("map_lines").values[pipe.kind]
    board.keep_off_line(points, kind["width"])
    drawn = [svg.stroke(svg.path(points), "m-pipe", kind["width"], dash=kind["dash"])]
    if pipe.flows:
        drawn += _flow(points, board, symbols)
    board.draw(svg.group("m-line", drawn))


def _flow(
    points: Sequence[Point], board: Board, symbols: Sequence[tuple[Point, float]]
) -> list[str]:
    """Draw the arrow of a pipe's flow where it is clear of symbols; none where the symbols at its
    ends leave no room."""
    legs = sorted(pairwise(points), key=lambda leg: -gap(*leg))
    for size in HEADS:
        for (a, b), share in product(legs, SHARES):
            long = gap(a, b)
            if long * min(share, 1 - share) < size / 2:
                continue
            way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
            middle = (a[0] + way[0] * long * share, a[1] + way[1] * long * share)
            if all(_clear(middle, size, at, reach) for at, reach in symbols):
                return [_head(middle, way, size, board)]
    return []


def _clear(middle: Point, size: float, at: Point, reach: float) -> bool:
    off = max(abs(middle[0] - at[0]), abs(middle[1] - at[1]))
    return off >= reach + size / 2 + OFF_SYMBOL


def _head(middle: Point, way: Point, size: float, board: Board) -> str:
    tip = (middle[0] + way[0] * size / 2, middle[1] + way[1] * size / 2)
    back = (middle[0] - way[0] * size / 2, middle[1] - way[1] * size / 2)
    board.keep_off_line([back, tip], size * 0.84)
    return svg.fill(svg.arrow(tip, way, size), "m-flow")


def _moved(stand: Standing, board: Board) -> None:
    """Draw from a symbol that had to be moved to where its thing is."""
    board.keep_off_line((stand.home, stand.at), FINE)
    (x, y), far = stand.home, SPOT + FINE
    board.keep_off(((x - far, y - far), (x + far, y - far), (x + far, y + far), (x - far, y + far)))
    board.draw(moved(stand.home, stand.at))


def moved(home: Point, at: Point) -> str:
    """Return the line from a moved symbol, with a dot where its thing is."""
    x, y = svg.num(home[0]), svg.num(home[1])
    dot = f'<circle cx="{x}" cy="{y}" r="{svg.num(SPOT)}"/>'
    return svg.group("m-moved", (svg.stroke(svg.path((home, at)), "m-off", FINE), dot))


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
        svg.fill(svg.arrow(tip, way, size), "m-way-tip", svg.WAY)
        for tip, way, size in _heads(points)
    ]
    for tip, way, size in _heads(points):
        back = (tip[0] - way[0] * size, tip[1] - way[1] * size)
        board.keep_off_line([back, tip], size * 8 / 9)
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


def _heads(points: Sequence[Point]) -> list[tuple[Point, Point, float]]:
    """Return where arrowheads sit, tip, direction and length: at the end, and on long legs on the
    way; none longer than its leg."""
    found = []
    for a, b in pairwise(points):
        long = gap(a, b)
        if long < LEAST:
            continue
        way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
        last = b == points[-1]
        count = int(long // EVERY) + (1 if last else 0)
        for i in range(1, count + 1):
            far = long if last and i == count else long * i / (count + (0 if last else 1))
            tip = (a[0] + way[0] * far, a[1] + way[1] * far)
            found.append((tip, way, min(TIP, long)))
    return found
