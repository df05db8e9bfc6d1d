"""No symbol stands on a pipe that it is no part of: it would seem to be.

Symbols that do are moved one at a time to where they cause least trouble. What it costs to touch
another symbol, or to change places with one, rises from round to round, so that a crowd first
loosens and then settles; a way to stand in which symbols still touch is not taken. Of those in
which as little is amiss, pipes keep as nearly as they can the way that they run.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import product
from math import cos, pi, sin

from handbook.output.drawing.around import Around, Scene
from handbook.output.drawing.piped import Line
from handbook.output.drawing.sheet import gap
from handbook.pages.plan.shapes import Point

ASTRAY = 0.5
"""What each half side of a symbol costs that it stands off its place, the more the more runs to
it."""

BENT = 1.5
"""What it costs to turn a pipe by a right angle."""

TURNED = 0.2
"""From how far on it is tried whether a pipe need be turned."""

LONG, TAPE = 60.0, 2.0
"""Units of pipe that make it twice as dear to move the symbol at its end; a tape, as so many."""

EASY, EVEN = 0.2, 0.05
"""What costs no more stays where it is; and what is as good as another place."""

CLASH = (1.0, 3.0, 8.0, 20.0, 60.0, 60.0, 60.0)
"""What it costs, from round to round, that two symbols touch or have changed their order."""

NEVER = 1000.0
"""What that costs when ways to stand are compared: more than all else together."""

STEPS, RINGS, TURNS = 3, 20, 24
"""How many rings of places round its own a symbol is offered to its half side, and in all; and how
many places on each."""

WAYS = tuple((cos(2 * pi * n / TURNS), sin(2 * pi * n / TURNS)) for n in range(TURNS))


@dataclass
class Settling:
    """Symbols that are to stand clear of pipes, with how many tapes run to each."""

    scene: Scene
    taped: Sequence[int]
    spots: list[Point] = field(default_factory=list)
    outward: dict[int, list[Point]] = field(default_factory=dict)
    held: dict[int, float] = field(default_factory=dict)
    ending: dict[int, list[Line]] = field(default_factory=dict)

    def settled(self, start: Sequence[Point]) -> list[Point]:
        """Return where the symbols stand, as they did at the start if that is no worse."""
        self.spots = [*start]
        if not any(self._around(i).amiss(at, CLASH[-1]) for i, at in enumerate(start)):
            return self.spots
        order = [i for i in range(len(start)) if i not in self.scene.fixed]
        begun = product((self.scene.crowd.homes, start), (order, order[::-1]), (0.0, BENT))
        found = [[*start], *(self._loosened(*one) for one in begun)]
        return self._straightened(min(found, key=self._trouble), found)

    def _straightened(self, best: list[Point], others: Sequence[list[Point]]) -> list[Point]:
        """Return the best way to stand, with the symbols at the ends of each pipe that is turned
        in it as they stand in another way, where that is better still."""
        least = self._trouble(best)
        for line in self.scene.lines:
            for other in others if line.bent(best) > TURNED else ():
                tried = [other[i] if i in line.ends else at for i, at in enumerate(best)]
                trouble = self._trouble(tried)
                if trouble < least:
                    best, least = tried, trouble
        return best

    def _loosened(self, start: Sequence[Point], order: Sequence[int], bent: float) -> list[Point]:
        self.spots = [self.scene.crowd.kept(i, at) for i, at in enumerate(start)]
        for clash in CLASH:
            for i in order:
                self.spots[i] = self._best(i, clash, bent)
        return self.spots

    def _trouble(self, spots: Sequence[Point]) -> tuple[int, int, float]:
        """Return in how many ways symbols touch, how often one stands on another's pipe, and what
        such a way to stand costs."""
        self.spots = [*spots]
        around = [self._around(i) for i in range(len(spots))]
        amiss = sum(each.amiss(at, NEVER) for each, at in zip(around, spots, strict=True))
        foreign = sum(each.on_others(at) for each, at in zip(around, spots, strict=True))
        strayed = sum(self._strayed(i, at, BENT) for i, at in enumerate(spots))
        return int(amiss / NEVER), foreign, amiss + strayed

    def _around(self, i: int) -> Around:
        return Around(self.scene, i, self.spots, self.scene.crowd.reaches[i] * RINGS / STEPS)

    def _best(self, i: int, clash: float, bent: float) -> Point:
        """Return the place round a symbol's own where it costs least, on its side of every wall;
        where it stands, if that is easy."""
        crowd, around = self.scene.crowd, self._around(i)
        (x, y), reach, best = crowd.homes[i], crowd.reaches[i], self.spots[i]
        least = self._strayed(i, best, bent)
        least += around.amiss(best, clash)
        if least <= EASY:
            return best
        for ring in range(RINGS + 1):
            if self._holds(i) * ring / STEPS >= least:
                break
            far = reach * ring / STEPS
            for across, down in self._outward(i) if ring else ((0.0, 0.0),):
                at = (x + far * across, y + far * down)
                cost = self._strayed(i, at, bent)
                if cost < least:
                    cost += around.amiss(at, clash, least - cost)
                if cost < least - EVEN and crowd.kept(i, at) == at:
                    best, least = at, cost
        return best

    def _outward(self, i: int) -> list[Point]:
        """Return the directions in which a symbol may move, first away from the middle of all, so
        that a mirrored house is drawn mirrored."""
        if i not in self.outward:
            xs, ys = zip(*self.scene.crowd.homes, strict=True)
            x, y = self.scene.crowd.homes[i]
            dx, dy = x - sum(xs) / len(xs), y - sum(ys) / len(ys)
            self.outward[i] = sorted(WAYS, key=lambda way: -round(way[0] * dx + way[1] * dy, 1))
        return self.outward[i]

    def _strayed(self, i: int, at: Point, bent: float) -> float:
        """Return what it costs that a symbol stands off its thing's own place, and, where `bent`
        is a price, that the pipes that end at it are turned."""
        crowd = self.scene.crowd
        cost = self._holds(i) * gap(at, crowd.homes[i]) / crowd.reaches[i]
        if bent:
            was, self.spots[i] = self.spots[i], at
            cost += bent * sum(line.bent(self.spots) for line in self._ending(i))
            self.spots[i] = was
        return cost

    def _ending(self, i: int) -> list[Line]:
        """Return the pipes that end at a symbol."""
        if i not in self.ending:
            self.ending[i] = [line for line in self.scene.lines if i in line.ends]
        return self.ending[i]

    def _holds(self, i: int) -> float:
        """Return how dear it is to move a symbol: the longer the pipes that it would tilt, and the
        more tapes run to it, the more."""
        if i not in self.held:
            tilted = sum(gap(*line.points) for line in self._ending(i))
            self.held[i] = ASTRAY * (1 + tilted / LONG + TAPE * self.taped[i])
        return self.held[i]
