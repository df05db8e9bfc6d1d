"""Places labels so that none covers another, however crowded: the best free place in turn, then
exchanges of places as long as they make the whole better.

Every label brings its candidates, which are already clear of walls, symbols and lines. No chance
is involved, so the same map comes out the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Protocol

from handbook.output.drawing.words import Form
from handbook.pages.plan.shapes import Point

APART = 1.0
"""Units that leader lines stay off labels."""

BETWEEN = 3.2
"""Units that two labels stay apart: more than the space between two words, lest they read as one
block."""

MOVED = 2
"""So many labels may have to move for one other."""

SWEEPS = 6
CONTENT = 1.5
"""A label whose place costs no more than this is left where it is."""

STAGES = 3
"""A label's places come in so many stages: close by, on a short leader line, on a long one."""


@dataclass(frozen=True)
class Candidate:
    """A place for a label: a form of it, its top left corner, a leader line from what it names."""

    cost: float
    form: Form
    left: float
    top: float
    leader: tuple[Point, Point] | None = None
    right: float = field(init=False)
    bottom: float = field(init=False)
    reach: tuple[float, float, float, float] = field(init=False)
    """Left, top, right and bottom of label and leader line together, with the room that the one
    more to the left, or higher up, of two keeps free."""

    def __post_init__(self) -> None:
        right, bottom = self.left + self.form.width, self.top + self.form.height
        xs = (self.left, right, *(x for x, _ in self.leader or ()))
        ys = (self.top, bottom, *(y for _, y in self.leader or ()))
        object.__setattr__(self, "right", right)
        object.__setattr__(self, "bottom", bottom)
        object.__setattr__(self, "reach", (min(xs), min(ys), max(xs) + BETWEEN, max(ys) + APART))


class Wanted(Protocol):
    """A label to be placed. Candidates come in stages, nearest first, each sorted by cost."""

    rank: int

    def candidates(self, stage: int) -> Sequence[Candidate]:
        """The places of one stage that are clear of everything but other labels."""

    def least(self, stage: int) -> float:
        """What any place of a stage costs at least, known before they are looked for."""


def place(wanted: Sequence[Wanted], *, crossing: bool = False) -> list[Candidate] | None:
    """Return a place for each label, or None where one of them finds none.

    With `crossing`, leader lines may cross one another; none ever runs through a label.
    """
    table = _Table(wanted, crossing)
    order = sorted(
        range(len(wanted)), key=lambda i: (-wanted[i].rank, len(wanted[i].candidates(0)), i)
    )
    for i in order:
        if not (table.settle(i) or table.make_room(i)):
            return None
    for _ in range(SWEEPS):
        if not sum(table.improve(i) for i in order):
            break
    return [table.chosen[i] for i in range(len(wanted))]


def place_most(wanted: Sequence[Wanted]) -> tuple[list[Candidate], list[int]]:
    """Return places for as many labels as find one, and the numbers of those that do not.

    Leader lines may cross one another.
    """
    table = _Table(wanted, crossing=True)
    order = sorted(range(len(wanted)), key=lambda i: (-wanted[i].rank, i))
    left_out = [i for i in order if not (table.settle(i) or table.make_room(i))]
    return [table.chosen[i] for i in sorted(table.chosen)], sorted(left_out)


class _Table:
    """What has been chosen so far."""

    def __init__(self, wanted: Sequence[Wanted], crossing: bool) -> None:
        self.wanted, self.crossing = wanted, crossing
        self.chosen: dict[int, Candidate] = {}

    def settle(self, i: int) -> bool:
        """Give a label its best free place; whether there is one."""
        best = self._best(i)
        if best:
            self.chosen[i] = best
        return best is not None

    def make_room(self, i: int) -> bool:
        """Give a label a place that others hold, who find others; whether that works."""
        for stage in range(2):
            for candidate in self.wanted[i].candidates(stage):
                if self._exchange(i, candidate, float("inf")):
                    return True
        return False

    def improve(self, i: int) -> bool:
        """Find a label a better place, if need be at the cost of others; whether it moved."""
        cost = self.chosen[i].cost
        if cost <= CONTENT:
            return False
        far = self.chosen[i].leader or self.chosen[i].form.keyed
        for stage in range(STAGES if far else 1):
            if self.wanted[i].least(stage) >= cost - 0.3:
                break
            for candidate in self.wanted[i].candidates(stage):
                if candidate.cost >= cost - 0.3:
                    break
                if self._exchange(i, candidate, cost - candidate.cost - 0.3):
                    return True
        return False

    def _exchange(self, i: int, candidate: Candidate, gain: float) -> bool:
        """Take a place, moving those that hold it if they lose less than `gain` by it."""
        held = self._holders(i, candidate)
        if len(held) > MOVED:
            return False
        before = {j: self.chosen.pop(j) for j in (i, *held) if j in self.chosen}
        self.chosen[i] = candidate
        lost = 0.0
        for j in held:
            if not self.settle(j):
                break
            lost += self.chosen[j].cost - before[j].cost
        else:
            if not held or lost < gain:
                return True
        for j in (i, *held):
            self.chosen.pop(j, None)
        self.chosen |= before
        return False

    def _best(self, i: int) -> Candidate | None:
        for stage in range(STAGES):
            for candidate in self.wanted[i].candidates(stage):
                if not self._holders(i, candidate, most=0):
                    return candidate
        return None

    def _holders(self, i: int, candidate: Candidate, most: int = MOVED) -> list[int]:
        """Return which other labels a candidate would cover; one more than `most` at most."""
        held = []
        left, top, right, bottom = candidate.reach
        for j, other in self.chosen.items():
            its = other.reach
            if left >= its[2] or its[0] >= right or top >= its[3] or its[1] >= bottom:
                continue
            if j != i and _clash(candidate, other, self.crossing):
                held.append(j)
                if len(held) > most:
                    break
        return held


def _clash(a: Candidate, b: Candidate, may_cross: bool) -> bool:
    """Whether one label, or its leader line, covers another whose reach it meets."""
    if (
        a.left < b.right + BETWEEN
        and b.left < a.right + BETWEEN
        and a.top < b.bottom + APART
        and b.top < a.bottom + APART
    ):
        return True
    if b.leader and _through(b.leader, a):
        return True
    if not a.leader:
        return False
    if _through(a.leader, b):
        return True
    return b.leader is not None and not may_cross and cross(*a.leader, *b.leader)


def _through(leader: tuple[Point, Point], label: Candidate) -> bool:
    """Whether a line comes within APART of a label's rectangle (Liang and Barsky's clipping)."""
    (ax, ay), (bx, by) = leader
    across = _inside(ax, bx - ax, label.left - APART, label.right + APART)
    if across is None:
        return False
    down = _inside(ay, by - ay, label.top - APART, label.bottom + APART)
    return down is not None and max(across[0], down[0]) <= min(across[1], down[1])


def _inside(start: float, step: float, low: float, high: float) -> tuple[float, float] | None:
    """Return between which shares of a line one of its coordinates is within bounds."""
    if step == 0:
        return (0.0, 1.0) if low <= start <= high else None
    enters, leaves = (low - start) / step, (high - start) / step
    if step < 0:
        enters, leaves = leaves, enters
    return (enters, leaves) if enters <= 1 and leaves >= 0 else None


def cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two straight lines a-b and c-d meet."""
    return _turn(a, b, c) * _turn(a, b, d) <= 0 and _turn(c, d, a) * _turn(c, d, b) <= 0


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
