"""Shortest ways over whole houses, against a fine grid: random floors, doors, stairs, outdoors.

The reference joins a 3 in grid a room by door and stair nodes and runs scipy's Dijkstra over all
of it; see `grid_walk` and `test_spaces` for its error.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import hypot, inf
from pathlib import Path
from random import Random
from typing import Any

import pytest
from grid_walk import CELL, Grid
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import dijkstra
from shapely import Polygon, box, unary_union

from handbook.house.floor_plan import Anchor
from handbook.house.house import House, build
from handbook.record.grammar.record import Record

SQUARE = 72.0
COLUMNS, ROWS = 5, 4
XY = tuple[float, float]


@dataclass
class Floor:
    rooms: dict[str, list[XY]]
    doors: list[tuple[str, str, XY]]


def floor(random: Random, name: str) -> Floor:
    """Squares of 6 ft grown into rooms, doors in the middle of some shared edges."""
    while True:
        owner = grown(random, name)
        outlines = {room: outline(owner, room) for room in sorted(set(owner.values()))}
        if all(outlines.values()):
            break
    doors = []
    edges = list(shared(owner))
    random.shuffle(edges)
    joined: dict[str, str] = {room: room for room in outlines}
    for a, b, at in edges:
        if root(joined, a) != root(joined, b) or random.random() < 0.2:
            joined[root(joined, a)] = root(joined, b)
            doors.append((a, b, at))
    return Floor({room: corners for room, corners in outlines.items() if corners}, doors)


def root(joined: dict[str, str], room: str) -> str:
    while joined[room] != room:
        room = joined[room]
    return room


def grown(random: Random, name: str) -> dict[tuple[int, int], str]:
    squares = [(i, j) for i in range(COLUMNS) for j in range(ROWS)]
    seeds = random.sample(squares, 5)
    owner = {square: f"{name}{n}" for n, square in enumerate(seeds)}
    while len(owner) < len(squares):
        i, j = random.choice(sorted(owner))
        di, dj = random.choice([(1, 0), (-1, 0), (0, 1), (0, -1)])
        other = (i + di, j + dj)
        if other in squares and other not in owner:
            owner[other] = owner[i, j]
    return owner


def outline(owner: dict[tuple[int, int], str], room: str) -> list[XY]:
    mine = [s for s, name in owner.items() if name == room]
    whole = unary_union(
        [box(i * SQUARE, j * SQUARE, (i + 1) * SQUARE, (j + 1) * SQUARE) for i, j in mine]
    )
    if not isinstance(whole, Polygon) or whole.interiors:
        return []
    return [(x, y) for x, y in whole.exterior.coords][:-1]


def shared(owner: dict[tuple[int, int], str]) -> Any:
    for (i, j), room in sorted(owner.items()):
        for di, dj in ((1, 0), (0, 1)):
            other = owner.get((i + di, j + dj))
            if other is not None and other != room:
                half = SQUARE / 2
                at = (i * SQUARE + half + di * half, j * SQUARE + half + dj * half)
                yield room, other, at


def point(p: XY) -> list[str]:
    return [f"{p[0]} in", f"{p[1]} in"]


def house(floors: list[Floor], stairs: list[tuple[str, XY, str, XY]]) -> House:
    levels = []
    for number, each in enumerate(floors):
        rooms = [
            {"id": name, "name": name, "outline": [point(p) for p in corners]}
            for name, corners in each.rooms.items()
        ]
        doors = [{"between": [a, b], "at": point(at)} for a, b, at in each.doors]
        level = {"id": f"level{number}", "name": f"Level {number}", "elevation": f"{9 * number} ft"}
        levels.append({**level, "rooms": rooms, "doors": doors})
    flights = [
        {
            "id": f"stair{n}",
            "foot": {"room": a, "at": point(p)},
            "head": {"room": b, "at": point(q)},
        }
        for n, (a, p, b, q) in enumerate(stairs)
    ]
    data = {"format": "1", "house": {"name": "Random"}, "levels": levels, "stairs": flights}
    return build(Record.model_validate(data), Path())


class Reference:
    """One graph of all rooms' grids, doors and stairs."""

    def __init__(self, floors: list[Floor], stairs: list[tuple[str, XY, str, XY]]) -> None:
        self.grids = {room: Grid(c) for each in floors for room, c in each.rooms.items()}
        self.offset: dict[str, int] = {}
        self.links: list[tuple[int, int, float]] = []
        self.size = 0
        for room, grid in self.grids.items():
            self.offset[room] = self.size
            part = grid.links
            self.links += [
                (a + self.size, b + self.size, w)
                for a, b, w in zip(part.row.tolist(), part.col.tolist(), part.data, strict=True)
            ]
            self.size += grid.shape[0] * grid.shape[1]
        for each in floors:
            for a, b, at in each.doors:
                node = self.node()
                for room in (a, b):
                    self.beside(node, room, at)
        for a, p, b, q in stairs:
            foot, head = self.node(), self.node()
            self.beside(foot, a, p)
            self.beside(head, b, q)
            self.links.append((foot, head, hypot(hypot(p[0] - q[0], p[1] - q[1]), 108)))

    def node(self) -> int:
        self.size += 1
        return self.size - 1

    def beside(self, node: int, room: str, at: XY) -> None:
        """Join a point on a cell's corner or edge to the free cells of the room round it."""
        grid = self.grids[room]
        for dx in (-1, 1):
            for dy in (-1, 1):
                cell = grid.cell((at[0] + dx, at[1] + dy))
                if grid._free(*cell):
                    centre = grid.centre(cell)
                    far = hypot(centre[0] - at[0], centre[1] - at[1])
                    self.links.append((node, self.offset[room] + grid.number(cell), far))

    def length(self, a: tuple[str, XY], b: tuple[str, XY]) -> float:
        rows, columns, weights = zip(*self.links, strict=True)
        graph = coo_matrix((weights, (rows, columns)), shape=(self.size, self.size)).tocsr()
        numbers = [self.offset[r] + self.grids[r].number(self.grids[r].cell(p)) for r, p in (a, b)]
        return float(dijkstra(graph, directed=False, indices=numbers[0])[numbers[1]])


@pytest.mark.parametrize("seed", range(6))
def test_ways_over_random_floors_are_as_short_as_a_fine_grid_finds(seed: int) -> None:
    random = Random(seed)
    floors = [floor(random, name) for name in "abc"[: 1 + seed % 3]]
    stairs = []
    for low, high in pairwise(floors):
        foot, head = random.choice(sorted(low.rooms)), random.choice(sorted(high.rooms))
        stairs.append((foot, inside(low, foot), head, inside(high, head)))
    reference, plan = Reference(floors, stairs), house(floors, stairs).plan
    rooms = [room for each in floors for room in each.rooms]
    for _ in range(4):
        a, b = random.choice(rooms), random.choice(rooms)
        p, q = (reference.grids[room].some_cell(random) for room in (a, b))
        walk = plan.walks.to(Anchor(a, p), Anchor(b, q))
        assert walk is not None
        assert walk.length is not None
        ours = walk.length
        grids = reference.length((a, p), (b, q))
        bends = 4 * (len(walk.passages) + 2)  # each door and corner costs the grid a few cells
        assert ours <= grids + 1e-6
        assert grids <= 1.0275 * ours + bends * CELL


def inside(each: Floor, room: str) -> XY:
    """A point of a room on the corners of its cells."""
    i, j = next(
        (i, j)
        for i in range(COLUMNS)
        for j in range(ROWS)
        if Polygon(each.rooms[room]).contains(box(i * 72, j * 72, i * 72 + 72, j * 72 + 72))
    )
    return (i * SQUARE + 36, j * SQUARE + 36)


def test_what_no_door_leads_to_is_endlessly_far() -> None:
    alone = Floor(
        {"a": [(0, 0), (72, 0), (72, 72), (0, 72)], "b": [(72, 0), (144, 0), (72, 72)]}, []
    )
    plan = house([alone], []).plan
    assert plan.walks.distance(Anchor("a", (9, 9)), Anchor("b", (80, 9))) == inf
    assert plan.walks.to(Anchor("a", (9, 9)), Anchor("b", (80, 9))) is None
