"""A fine grid to walk on, independent of the code under test: cells, and scipy's Dijkstra.

Outlines have their corners on whole feet, so that a 3 in cell lies wholly inside or outside.
"""

from collections.abc import Sequence
from math import hypot
from random import Random

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import dijkstra

CELL = 3.0
MOVES = [(1, 0), (0, 1), (1, 1), (1, -1), (2, 1), (1, 2), (2, -1), (1, -2)]

XY = tuple[float, float]


class Grid:
    """Cells inside an outline; with a margin, those outside of it, so many inches round it."""

    def __init__(self, outline: Sequence[XY], margin: float = 0) -> None:
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        self.left, self.low = min(xs) - margin, min(ys) - margin
        self.shape = (
            round((max(xs) + margin - self.left) / CELL),
            round((max(ys) + margin - self.low) / CELL),
        )
        inside = np.zeros(self.shape, dtype=bool)
        for i in range(self.shape[0]):
            for j in range(self.shape[1]):
                inside[i, j] = _within(self.centre((i, j)), outline)
        self.free = ~inside if margin else inside
        self.links = self._join()

    def centre(self, cell: tuple[int, int]) -> XY:
        return (self.left + (cell[0] + 0.5) * CELL, self.low + (cell[1] + 0.5) * CELL)

    def cell(self, point: XY) -> tuple[int, int]:
        return (int((point[0] - self.left) / CELL), int((point[1] - self.low) / CELL))

    def number(self, cell: tuple[int, int]) -> int:
        return cell[0] * self.shape[1] + cell[1]

    def some_cell(self, random: Random) -> XY:
        cells = np.argwhere(self.free)
        i, j = cells[random.randrange(len(cells))]
        return self.centre((int(i), int(j)))

    def _join(self) -> coo_matrix:
        rows, columns, weights = [], [], []
        for i, j in np.argwhere(self.free):
            for di, dj in MOVES:
                if all(self._free(i + a, j + b) for a, b in _passed(di, dj)):
                    rows.append(self.number((i, j)))
                    columns.append(self.number((i + di, j + dj)))
                    weights.append(CELL * hypot(di, dj))
        size = self.shape[0] * self.shape[1]
        return coo_matrix((weights, (rows, columns)), shape=(size, size))

    def _free(self, i: int, j: int) -> bool:
        return 0 <= i < self.shape[0] and 0 <= j < self.shape[1] and bool(self.free[i, j])

    def length(self, a: XY, b: XY) -> float:
        start, goal = self.number(self.cell(a)), self.number(self.cell(b))
        return float(dijkstra(self.links.tocsr(), directed=False, indices=start)[goal])


def _passed(di: int, dj: int) -> list[tuple[int, int]]:
    """The cells that a straight move touches."""
    sx, sy = (1 if di > 0 else -1), (1 if dj > 0 else -1)
    if 0 in (di, dj):
        return [(di, dj)]
    if abs(di) == abs(dj):
        return [(di, 0), (0, dj), (di, dj)]
    if abs(di) == 2:
        return [(sx, 0), (sx, dj), (di, dj)]
    return [(0, sy), (di, sy), (di, dj)]


def _within(point: XY, outline: Sequence[XY]) -> bool:
    """Even-odd rule by hand."""
    x, y = point
    odd = False
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            odd = not odd
    return odd


def rectilinear(random: Random, columns: int = 6, foot: float = 12.0) -> list[XY]:
    """A random simple outline on whole feet: towers of random height below and above a band."""
    edges = [0.0]
    for _ in range(columns):
        edges.append(edges[-1] + foot * random.randint(2, 5))
    tops = [foot * random.randint(2, 9) for _ in range(columns)]
    bottoms = [-foot * random.randint(0, 7) for _ in range(columns)]
    lower = [(x, low) for i, low in enumerate(bottoms) for x in (edges[i], edges[i + 1])]
    upper = [(x, high) for i, high in enumerate(tops) for x in (edges[i], edges[i + 1])]
    corners = [*lower, *upper[::-1]]
    return [p for at, p in enumerate(corners) if p != corners[at - 1]]
