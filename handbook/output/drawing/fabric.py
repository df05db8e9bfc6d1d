"""The house itself: walls with their thickness, doors with their swings, stairs with treads."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, sin

from handbook.output.drawing import svg
from handbook.output.drawing.board import Board
from handbook.output.drawing.sheet import gap
from handbook.pages.plan.shapes import Door, Flight, Plan, Point

FINE = 0.5
ARC = 6
"""Straight pieces by which a quarter circle is kept free of labels."""


def draw(plan: Plan, board: Board) -> None:
    """Draw walls, doors and stairs."""
    walls = [board.frame.line(wall) for wall in plan.walls]
    for wall in walls:
        board.keep_off_wall(wall)
    if walls:
        data = "".join(svg.path(wall, closed=True) for wall in walls)
        board.draw(svg.fill(data, "m-wall", svg.WALL))
    for door in plan.doors:
        if door.hinge and door.tip and door.shut:
            _swing(door, board)
    for flight in plan.flights:
        _flight(flight, board)


def _swing(door: Door, board: Board) -> None:
    """Draw a leaf standing open, and the quarter circle through which it shuts."""
    hinge, tip, shut = board.frame.line(p for p in (door.hinge, door.tip, door.shut) if p)
    turn = (tip[0] - hinge[0]) * (shut[1] - hinge[1]) - (tip[1] - hinge[1]) * (shut[0] - hinge[0])
    radius = svg.num(gap(hinge, tip))
    sweep = 1 if turn > 0 else 0
    arc = f"A{radius} {radius} 0 0 {sweep} {svg.num(shut[0])} {svg.num(shut[1])}"
    board.draw(svg.stroke(svg.path((hinge, tip)) + arc, "m-door", FINE))
    board.keep_off_line([hinge, tip], FINE)
    board.keep_off_line(_quarter(hinge, tip, shut), FINE)


def _quarter(hinge: Point, tip: Point, shut: Point) -> list[Point]:
    """Return points along the quarter circle from tip to shut, on the outside of it."""
    start = atan2(tip[1] - hinge[1], tip[0] - hinge[0])
    turn = atan2(shut[1] - hinge[1], shut[0] - hinge[0]) - start
    turn = (turn + 3.1416) % 6.2832 - 3.1416
    far = gap(hinge, tip)
    angles = [start + turn * i / ARC for i in range(ARC + 1)]
    return [(hinge[0] + cos(a) * far, hinge[1] + sin(a) * far) for a in angles]


def _flight(flight: Flight, board: Board) -> None:
    treads = [board.frame.line(tread) for tread in flight.treads]
    foot, end = board.frame.at(flight.foot), board.frame.at(flight.end)
    board.keep_off(board.frame.line(flight.outline))
    long = gap(foot, end)
    data = "".join(svg.path(tread) for tread in treads)
    lines = [svg.stroke(data, "m-tread", FINE, svg.QUIET)] if data else []
    if long:
        way = ((end[0] - foot[0]) / long, (end[1] - foot[1]) / long)
        lines += _line_of_travel(foot, end, way, board)
    board.draw(svg.group("m-stair", lines))


def _line_of_travel(foot: Point, end: Point, way: Point, board: Board) -> Sequence[str]:
    board.keep_off_line([foot, end], 5.0)
    return (
        svg.stroke(svg.path((foot, end)), "m-travel", 0.8),
        svg.fill(svg.arrow(end, way, 6.0), "m-travel-tip"),
    )
