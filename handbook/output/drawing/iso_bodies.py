"""What stands at the points of an isometric drawing: how much room it takes, where pipes join it.

A fixture stands on its stubs, the stop of each on it: cold to the right, hot to the left. A
header is as long as its pipes need. Everything is measured from the body's own point.
"""

from __future__ import annotations

from handbook.output.drawing.iso_body import ALL, SYMBOL, Body, Port, Stub
from handbook.output.drawing.iso_grid import (
    COLUMN,
    DOWN,
    DOWN_LEFT,
    DOWN_RIGHT,
    ROW,
    UP_RIGHT,
    Box,
)
from handbook.output.drawing.iso_text import Label, Text, around
from handbook.pages.riser.content import Riser, RiserMark, RiserPipe, RiserPoint
from handbook.tables import table

BELOW = frozenset({DOWN, DOWN_LEFT, DOWN_RIGHT})
ASIDE = ALL - {DOWN}
PAD = 2.6
DOT = 1.7
MOST_AT_DOT = 4
"""Pipes that meet in a dot; where there are more, the point is drawn as a bar."""

HEADER_STEP = 3
TAG_GAP = 6.4
"""From the middle of a stub to the tag of its stop."""

STUB, PAIR = 8, 9
"""Rows from a fixture's middle to the foot of its stub: one alone, one of two."""

FRAMED = frozenset({"frame", "frame-double", "frame-round"})


def bodies(riser: Riser) -> tuple[Body, ...]:
    """Return the body of each point of a diagram, in their order."""
    marks = table("riser_marks").values
    made = []
    for point in riser.points:
        pipes = {n: p for n, p in enumerate(riser.pipes) if point.id in (p.a, p.b)}
        shape = marks[point.symbol]["shape"] if point.symbol in marks else "none"
        if point.symbol == "junction" and len(pipes) > 2 and _watery(pipes):
            shape = "dot"
        if shape == "frame":
            made.append(_fixture(point, pipes))
        elif shape in FRAMED:
            made.append(_equipment(point, shape, pipes))
        elif shape == "header" or (shape in ("dot", "none") and len(pipes) > MOST_AT_DOT):
            made.append(_header(point, shape, pipes))
        else:
            made.append(_dot(point, shape, pipes))
    return tuple(made)


def _watery(pipes: dict[int, RiserPipe]) -> bool:
    return all(pipe.line in ("cold", "hot", "return", "assumed") for pipe in pipes.values())


def own_mark(point: RiserPoint, pipe: RiserPipe) -> RiserMark | None:
    """Return the mark at a fixture itself: the stop at its end, the trap at its start."""
    item = pipe.items[-1] if pipe.items and pipe.b == point.id else None
    if pipe.a == point.id and pipe.items:
        item = pipe.items[0]
    if isinstance(item, RiserMark) and item.level == point.level and len(item.words) <= 2:
        return item
    return None


def _fixture(point: RiserPoint, pipes: dict[int, RiserPipe]) -> Body:
    label = Label(point.words)
    frame = _frame(label)
    ports = {n: Port(((0, 0),), ASIDE) for n, pipe in pipes.items() if _poured(point, pipe)}
    order = sorted(pipes.keys() - ports.keys(), key=lambda n: (pipes[n].line != "hot", n))
    columns = _columns(len(order))
    stubs = []
    for number, column in zip(order, columns, strict=True):
        mark = own_mark(point, pipes[number])
        rows = (PAIR if column % 2 else STUB) if mark else (5 if column % 2 else 4)
        left = column < 0 and len(order) > 1
        texts = _stop_texts(mark, column, frame.bottom, rows, left) if mark else ()
        foot = rows * ROW
        stubs.append(Stub(number, pipes[number].line, column, frame.bottom, foot, mark, texts))
        ports[number] = Port(((column, rows),), BELOW, at_foot=True)
    solid = [frame, *(around(s.texts) for s in stubs if s.texts)]
    solid += [Box(s.column * COLUMN - 4, s.top, s.column * COLUMN + 4, s.foot - 3) for s in stubs]
    return Body(
        point,
        "frame",
        ports,
        frame,
        label.at(-label.wide / 2, frame.top + PAD, 0.5),
        tuple(stubs),
        solid=tuple(solid),
    )


def _poured(point: RiserPoint, pipe: RiserPipe) -> bool:
    """Whether a pipe empties into a fixture, above its trap: a hose."""
    return pipe.line == "waste" and pipe.b == point.id


def _columns(count: int) -> tuple[int, ...]:
    """Return the columns of so many stubs side by side."""
    return tuple(range(-(count - 1), count, 2))


def _stop_texts(
    mark: RiserMark, column: int, top: float, rows: int, left: bool
) -> tuple[Text, ...]:
    label = Label(mark.words)
    middle = (top + rows * ROW) / 2
    x = column * COLUMN
    start = x - TAG_GAP - label.wide if left else x + TAG_GAP
    return label.at(start, middle - label.high / 2, 1.0 if left else 0.0)


def _frame(label: Label) -> Box:
    wide, high = label.wide / 2 + PAD + 0.6, label.high / 2 + PAD
    return Box(-wide, -high, wide, high)


def _equipment(point: RiserPoint, shape: str, pipes: dict[int, RiserPipe]) -> Body:
    label = Label(point.words or (point.id,))
    frame = _frame(label).grown(1.4 if shape == "frame-double" else 0.6)
    texts = label.at(-label.wide / 2, -label.high / 2, 0.5)
    ports = {number: Port(((0, 0),)) for number in pipes}
    return Body(point, shape, ports, frame, texts, solid=(frame,))


def _header(point: RiserPoint, shape: str, pipes: dict[int, RiserPipe]) -> Body:
    count = max(3, len(pipes))
    bar = tuple((HEADER_STEP * n, -HEADER_STEP * n) for n in range(count))
    bar = tuple((c - HEADER_STEP * (count // 2), r + HEADER_STEP * (count // 2)) for c, r in bar)
    port = Port(bar, ALL - {UP_RIGHT, DOWN_LEFT})
    solid = tuple(
        Box(c * COLUMN - 3.6, r * ROW - 3.6, c * COLUMN + 3.6, r * ROW + 3.6)
        for c, r in ((bar[0][0] + n, bar[0][1] - n) for n in range(bar[-1][0] - bar[0][0] + 1))
    )
    return Body(
        point,
        shape,
        dict.fromkeys(pipes, port),
        bar=bar,
        label=Label(point.words) if point.words else None,
        solid=solid,
    )


def _dot(point: RiserPoint, shape: str, pipes: dict[int, RiserPipe]) -> Body:
    half = {"dot": DOT, "none": DOT}.get(shape, SYMBOL + 0.4)
    leaves = {"vent": BELOW, "bulb": BELOW, "admit": BELOW, "open": BELOW}.get(shape, ALL)
    return Body(
        point,
        shape,
        dict.fromkeys(pipes, Port(((0, 0),), leaves)),
        label=Label(point.words) if point.words else None,
        solid=(Box(-half, -half, half, half),),
    )
