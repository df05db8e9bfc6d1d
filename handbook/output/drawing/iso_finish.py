"""The last touches to a pipe that has found its way: where it is broken, where its arrow stands."""

from __future__ import annotations

import math

from handbook.output.drawing.iso_drawn import Led
from handbook.output.drawing.iso_dress import Coat, arrow_box
from handbook.output.drawing.iso_grid import Point, Spot, sheet
from handbook.output.drawing.iso_lead import Leading
from handbook.output.drawing.iso_stretch import HALF


def led(it: Leading, n: int) -> Led:
    """Return a pipe as it is drawn: broken where another runs in front, with its arrow."""
    way = it.led[n].way
    line = it.line(n, way)
    gaps = tuple(sheet(p) for p in it.board.crossings(way, n) if _behind(it, n, p))
    coat = it.coat(n, way)
    arrow = _arrow(it, n, coat)
    return Led(it.riser.pipes[n], tuple(line), it.led[n].marks, it.led[n].sizes, arrow, gaps)


def _behind(it: Leading, n: int, p: Point) -> bool:
    """Whether a pipe runs behind the one it crosses: upright pipes stand in front, else the
    one that was led first."""
    mine = it.board.through[p][n]
    other, axis = next((q, x) for q, x in it.board.through[p].items() if q != n)
    if (mine == 0) != (axis == 0):
        return mine != 0
    return n > other


def _arrow(it: Leading, n: int, coat: Coat) -> tuple[Spot, Spot] | None:
    """Return where a pipe's arrow stands and points, or None."""
    if it.riser.pipes[n].line in ("vent", "cleanout"):
        return None
    taken = [mark.along for mark in it.led[n].marks]
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
            if not it.board.unboxed(arrow_box(spot)):
                continue
            score = abs(along - coat.length / 2)
            if best is None or score < best[0]:
                best = (score, spot, part.unit)
    if best is None:
        return None
    it.board.fix(arrow_box(best[1]))
    return best[1], best[2]
