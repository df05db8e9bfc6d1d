"""Where a label may stand: beside its symbol, along its line, inside its room; farther off with
a leader line. Only places that are clear of walls, symbols and lines are offered.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import cos, hypot, pi, sin

from handbook.output.drawing.apart import between, off_line
from handbook.output.drawing.place import Candidate, cross
from handbook.output.drawing.raster import Raster
from handbook.output.drawing.sheet import Box
from handbook.output.drawing.words import Form
from handbook.pages.plan.shapes import Point

CLEAR = 1.6
"""Units between a symbol, or a line, and the label beside it."""

NEAR = (5.0, 10.0, 16.0, 23.0, 31.0, 40.0)
FAR = (52.0, 66.0, 82.0, 100.0, 120.0, 145.0, 175.0, 210.0, 250.0, 300.0, 360.0)
"""How long leader lines may be, in units, tried from the shortest."""

TURN = tuple((round(cos(i * pi / 12), 4), round(sin(i * pi / 12), 4)) for i in range(24))
"""The directions of leader lines, 15 degrees apart."""

SIDES = (
    (1, 0, 0.0), (-1, 0, 0.3), (0, -1, 0.5), (0, 1, 0.6),
    (1, -1, 0.7), (-1, -1, 0.8), (1, 1, 0.9), (-1, 1, 1.0),
)  # fmt: skip
"""Where beside a symbol a label may stand, and what it costs: right, left, above, below, ..."""

OFF_SQUARE = 1.0
"""Units off a symbol's square at which a leader line to it starts."""

LEADER = 3.0
"""What it costs to need a leader line at all."""

WALL = 1.4
"""What it costs to have a wall between a symbol and the label beside it."""

CLOSE, NEARBY = 7.0, 0.6
"""What a label costs that is nearer than so many units to another's symbol."""

NEARER, AT_CORNER = 2.0, 3.0
"""Units by which a label without a leader line is nearer to its own symbol, or line, than to any
other; and at a corner of its symbol, where a round one leaves air."""

ALONG = 1.5
"""So many times as far off as its own line another line is from a pipe's label, at least."""

ACROSS = 9.0
"""What it costs that the leader line of a pipe's label crosses another pipe."""

BLOCK = 3
"""A symbol that so many tags share has a leader line to them."""

PER_UNIT = 0.12
"""What each unit of a leader line costs, and each that lies over a wall or a line again."""

MOST = 80
"""So many places are offered close by, and so many on short leader lines."""

OWN = 2.0
"""Units of a leader line that may lie on cells that its own symbol touches."""


@dataclass(frozen=True)
class Taken:
    """What labels must keep off: `hard`. `solid` is what leader lines must not pass either, and
    `walls` what should not come between a label and what it names."""

    hard: Raster
    solid: Raster
    walls: Raster


@dataclass
class Spots(ABC):
    """The places of one label, worked out only as far as they are asked for."""

    forms: Sequence[Form]
    rank: int
    taken: Taken
    _made: dict[int, list[Candidate]] = field(default_factory=dict)

    def candidates(self, stage: int) -> Sequence[Candidate]:
        """Places without a leader line, then with a short, then with a long one."""
        if stage not in self._made:
            found = self.close() if stage == 0 else self.led(NEAR if stage == 1 else FAR)
            best = sorted(found, key=lambda candidate: candidate.cost)
            self._made[stage] = best if stage == 2 else best[:MOST]
        return self._made[stage]

    def least(self, stage: int) -> float:
        """What any place of a stage costs at least: nothing, or what its leader line does."""
        return LEADER + PER_UNIT * (NEAR if stage == 1 else FAR)[0] if stage else 0.0

    @abstractmethod
    def close(self) -> Iterator[Candidate]:
        """Places that need no leader line."""

    @abstractmethod
    def led(self, lengths: Iterable[float]) -> Iterator[Candidate]:
        """Places at the end of a leader line."""

    def clear(self, form: Form, left: float, top: float) -> bool:
        """Whether a form would stand clear of everything but other labels."""
        return self.taken.hard.free(left, top, left + form.width, top + form.height)

    def around(
        self, at: Point, reach: float, lengths: Iterable[float], turns: Sequence[Point] = TURN
    ) -> Iterator[Candidate]:
        """Places round a point at the end of leader lines that start `reach` from it."""
        for length in lengths:
            for dx, dy in turns:
                out = (reach + OFF_SQUARE) / max(abs(dx), abs(dy))
                start = (at[0] + dx * out, at[1] + dy * out)
                end = (start[0] + dx * length, start[1] + dy * length)
                yield from self._ended(start, end, (dx, dy), length)

    def _ended(self, start: Point, end: Point, way: Point, length: float) -> Iterator[Candidate]:
        """The forms that stand clear at the end of one leader line."""
        fits = []
        for form in self.forms:
            left = end[0] + _hang(way[0], form.width)
            top = end[1] + _hang(way[1], form.height)
            if self.clear(form, left, top):
                fits.append((form, left, top))
        past = (start[0] + way[0] * OWN, start[1] + way[1] * OWN)
        if not fits or self.taken.solid.met(past, end):
            return
        cost = LEADER + PER_UNIT * (length + self.taken.hard.crossed(start, end))
        leader = (_round(start), _round(end))
        for form, left, top in fits:
            yield Candidate(cost + form.dear, form, round(left, 2), round(top, 2), leader)


@dataclass
class Beside(Spots):
    """A label for something at a point: a symbol of half-size `reach`."""

    at: Point = (0.0, 0.0)
    reach: float = 0.0
    tags: int = 1
    body: Box | None = None
    others: Sequence[Box] = ()
    """What its own symbol covers, where that is less than its square, and what others cover: a
    label must not seem to be theirs."""

    def close(self) -> Iterator[Candidate]:
        """Places that touch the symbol, and are nearer to it than to any other."""
        for form in self.forms if self.tags < BLOCK else ():
            for across, down, cost in SIDES:
                for slide in (0.0, -0.6, 0.6) if not (across and down) else (0.0,):
                    left = self._edge(0, across, form.width, slide * (not across))
                    top = self._edge(1, down, form.height, slide * (not down))
                    if self.clear(form, left, top) and self._own(form, left, top):
                        dear = cost + form.dear + (0.4 if slide else 0.0)
                        dear += self._behind_wall(form, left, top)
                        dear += self._beside_others(form, left, top)
                        yield Candidate(dear, form, round(left, 2), round(top, 2))

    def led(self, lengths: Iterable[float]) -> Iterator[Candidate]:
        """Places round the symbol."""
        for there in self.around(self.at, self.reach, lengths):
            dear = self._beside_others(there.form, there.left, there.top)
            yield replace(there, cost=there.cost + dear) if dear else there

    def _behind_wall(self, form: Form, left: float, top: float) -> float:
        middle = (left + form.width / 2, top + form.height / 2)
        return WALL if self.taken.walls.crossed(self.at, middle) else 0.0

    def _own(self, form: Form, left: float, top: float) -> bool:
        """Whether a label is clearly nearer to its own symbol than to any other."""
        label = (left, top, left + form.width, top + form.height)
        (x, y), reach = self.at, self.reach
        body = self.body or (x - reach, y - reach, x + reach, y + reach)
        beside = (left < body[2] and body[0] < label[2]) or (top < body[3] and body[1] < label[3])
        own = between(label, body) + (NEARER if beside else AT_CORNER)
        return all(between(label, other) > own for other in self.others)

    def _beside_others(self, form: Form, left: float, top: float) -> float:
        """Return what it costs that a label stands near other symbols."""
        label = (left, top, left + form.width, top + form.height)
        return sum(NEARBY for other in self.others if between(label, other) < CLOSE)

    def _edge(self, axis: int, way: int, size: float, slide: float) -> float:
        """Return where a label starts on one axis: before, behind or beside the symbol."""
        at = self.at[axis]
        if way:
            return at + self.reach + CLEAR if way > 0 else at - self.reach - CLEAR - size
        return at - size / 2 + slide * size / 2


@dataclass
class Along(Spots):
    """A label for a line, beside any part of it."""

    points: Sequence[Point] = ()
    thick: float = 1.0
    symbols: Sequence[Box] = ()
    lines: Sequence[Sequence[Point]] = ()
    """The symbols, and the other lines, to which a label must not seem to belong."""

    def close(self) -> Iterator[Candidate]:
        """Places to either side of the line, its middle first, nearer to it than to another."""
        for form in self.forms:
            for share in (0.5, 0.4, 0.6, 0.28, 0.72, 0.15, 0.85):
                (x, y), (nx, ny) = _part(self.points, share)
                off = abs(nx) * form.width / 2 + abs(ny) * form.height / 2
                off += self.thick / 2 + CLEAR
                for side in (1, -1):
                    left = x + nx * off * side - form.width / 2
                    top = y + ny * off * side - form.height / 2
                    if self.clear(form, left, top) and self._own(form, left, top):
                        cost = abs(share - 0.5) * 3 + form.dear
                        yield Candidate(cost, form, round(left, 2), round(top, 2))

    def led(self, lengths: Iterable[float]) -> Iterator[Candidate]:
        """Places round the middle of the line."""
        turns = TURN[::2] if lengths is NEAR else TURN
        for share in (0.5, 0.25, 0.75):
            at, _ = _part(self.points, share)
            for there in self.around(at, self.thick / 2, lengths, turns):
                crossed = sum(_over(there.leader, line) for line in self.lines)
                yield replace(there, cost=there.cost + ACROSS * crossed) if crossed else there

    def _own(self, form: Form, left: float, top: float) -> bool:
        """Whether a label is clearly nearer to its own line than to another, or to a symbol."""
        label = (left, top, left + form.width, top + form.height)
        own = ALONG * off_line(label, self.points) + NEARER
        return all(between(label, body) > own for body in self.symbols) and all(
            off_line(label, line) > own for line in self.lines
        )


def _over(leader: tuple[Point, Point] | None, line: Sequence[Point]) -> bool:
    return leader is not None and any(cross(*leader, a, b) for a, b in pairwise(line))


def _hang(way: float, size: float) -> float:
    """Return how a label hangs at a leader's end on one axis: behind it, before it, or centred."""
    if way > 0.4:
        return 1.2
    return -size - 1.2 if way < -0.4 else -size / 2


def _part(points: Sequence[Point], share: float) -> tuple[Point, Point]:
    """Return the point at a share of a line's length, and the direction across it there."""
    legs = [(a, b, hypot(b[0] - a[0], b[1] - a[1])) for a, b in pairwise(points)]
    left = sum(length for *_, length in legs) * share
    for a, b, length in legs:
        if length and left <= length:
            ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
            return (a[0] + ux * left, a[1] + uy * left), (uy, -ux)
        left -= length
    return points[-1], (0.0, -1.0)


def _round(point: Point) -> Point:
    return (round(point[0], 2), round(point[1], 2))
