"""Flow and pressure in a network of pipes, loops and outlets included: numbers alone.

It knows nothing of houses. Head is in psi: the pressure at a node plus what its height is worth.
Flows are in gallons per minute (gpm), positive from a link's `a` to its `b`.

Method: Newton's method on flows and heads together, the global gradient algorithm (Todini and
Pilati, 1988). Each step solves one set of linear equations for the heads; numpy does that. An
outlet is a link into the open air. What passes one way only is very steep against it. A reducing
valve either holds the head behind it, is wide open, or is shut by a higher one; which of them is
tried, and tried again until it agrees with what was found.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from handbook.house.losses import Law, Square

_STEEP = 1e5
"""psi a gpm against a one-way passage: what would leak back is below a thousandth of a gpm."""
_FLAT = 1e-6
"""psi a gpm: the least slope that any link has, so that the equations can be solved."""
_STIFF = 1e-4
"""psi a gpm: the least that a reducing valve falls by, so that two of them can share a flow."""
_TRICKLE = 0.01
"""gpm: below it a law is taken as a straight line, for its slope would vanish at rest."""
_CLOSE = 1e-6
"""gpm: the steps end when no flow changes by more."""
_MOST_STEPS = 400
_MOST_TURNS = 50
_AIR = "~"


@dataclass(frozen=True)
class Link:
    """Joins nodes `a` and `b`; `one_way` lets water pass from `a` to `b` only."""

    id: str
    a: str
    b: str
    law: Law
    one_way: bool = False


@dataclass(frozen=True)
class Reducer:
    """A reducing valve from `a` to `b`: it keeps the head at `b` from rising above `head`.

    `falls` is how many psi lower it holds for each gpm that passes.
    """

    id: str
    a: str
    b: str
    head: float
    falls: float = 0.0


@dataclass(frozen=True)
class Outlet:
    """An opening at a node: gpm = `k` sqrt(psi); `height` is what its height is worth, in psi."""

    id: str
    node: str
    k: float
    height: float = 0.0


@dataclass(frozen=True)
class Solved:
    """Heads by node, in psi; flows by the id of link, reducer and outlet, in gpm.

    What no water reaches is in neither.
    """

    heads: Mapping[str, float]
    flows: Mapping[str, float]


class UnsolvedError(RuntimeError):
    """The steps did not settle. No network that can be built should do this: a bug of ours."""


def solve(
    sources: Mapping[str, float],
    links: Sequence[Link],
    reducers: Sequence[Reducer] = (),
    outlets: Sequence[Outlet] = (),
) -> Solved:
    """Return heads and flows with `sources` held at their heads and `outlets` open."""
    wet = reached(sources, links, reducers)
    running = [link for link in links if link.a in wet and link.b in wet]
    reducing = [valve for valve in reducers if valve.a in wet and valve.b not in sources]
    for outlet in outlets:
        if outlet.node in wet:
            law = Square(1.0, outlet.k)
            running.append(Link(outlet.id, outlet.node, _AIR + outlet.id, law, one_way=True))
    air = {_AIR + outlet.id: outlet.height for outlet in outlets}
    work = _Work({**sources, **air}, running, reducing, wet - set(sources))
    for _ in range(_MOST_TURNS):
        rests = work.settle()
        if not work.turned() and rests:
            return work.solved()
    raise UnsolvedError("flows and reducing valves do not come to rest")


def reached(
    sources: Mapping[str, float], links: Sequence[Link], reducers: Sequence[Reducer] = ()
) -> set[str]:
    """Return every node that water from the sources can get to."""
    ahead: dict[str, list[str]] = {}
    for link in links:
        ahead.setdefault(link.a, []).append(link.b)
        if not link.one_way:
            ahead.setdefault(link.b, []).append(link.a)
    for valve in reducers:
        ahead.setdefault(valve.a, []).append(valve.b)
    seen, waiting = set(sources), list(sources)
    while waiting:
        fresh = [node for node in ahead.get(waiting.pop(), ()) if node not in seen]
        seen.update(fresh)
        waiting += fresh
    return seen


_Stand = Literal["holds", "open", "shut"]


@dataclass
class _Work:
    """The state of one solution while it is looked for."""

    fixed: Mapping[str, float]
    links: Sequence[Link]
    reducers: Sequence[Reducer]
    free: set[str]
    flows: list[float] = field(default_factory=list)
    heads: dict[str, float] = field(default_factory=dict)
    passed: list[float] = field(default_factory=list)
    stands: list[_Stand] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.flows = [1.0] * len(self.links)
        self.passed = [0.0] * len(self.reducers)
        self.stands = ["open"] * len(self.reducers)
        self.rows = {node: row for row, node in enumerate(sorted(self.free))}

    def settle(self) -> bool:
        """Step until no flow changes, the reducing valves standing as they do; whether it does."""
        return any(
            self._step(0.5 if step > _MOST_STEPS // 4 else 1.0) < _CLOSE
            for step in range(_MOST_STEPS)
        )

    def _step(self, share: float) -> float:
        """Take one step of Newton's method, or a share of it; return the largest change."""
        import numpy as np

        size = len(self.rows) + len(self.reducers)
        left, right = np.zeros((size, size)), np.zeros(size)
        slopes = [_slope(link, flow) for link, flow in zip(self.links, self.flows, strict=True)]
        for link, flow, (loss, slope) in zip(self.links, self.flows, slopes, strict=True):
            # flow' = flow + (head_a - head_b - loss) / slope; what enters a node leaves it again
            rest = flow - loss / slope
            for node, other, sign in ((link.a, link.b, -1.0), (link.b, link.a, 1.0)):
                row = self.rows.get(node)
                if row is None:
                    continue
                left[row, row] += 1 / slope
                right[row] += sign * rest
                if other in self.rows:
                    left[row, self.rows[other]] -= 1 / slope
                else:
                    right[row] += self.fixed[other] / slope
        for number, valve in enumerate(self.reducers):
            self._reducer(left, right, len(self.rows) + number, number, valve)
        found = np.linalg.solve(left, right).tolist()
        self.heads = {node: found[row] for node, row in self.rows.items()}
        self.passed = found[len(self.rows) :]
        return self._move(slopes, share)

    def _reducer(self, left: object, right: object, row: int, number: int, valve: Reducer) -> None:
        """Write a reducing valve's own equation, and its flow into those of its two nodes."""
        import numpy as np

        assert isinstance(left, np.ndarray)
        assert isinstance(right, np.ndarray)
        a, b = self.rows.get(valve.a), self.rows[valve.b]
        left[b, row] -= 1
        if a is not None:
            left[a, row] += 1
        if self.stands[number] == "holds":
            falls = max(valve.falls, _STIFF)
            left[row, b], left[row, row], right[row] = 1.0, falls, valve.head
            return
        left[row, b] = -1.0
        left[row, row] = -(_FLAT if self.stands[number] == "open" else _STEEP)
        if a is not None:
            left[row, a] = 1.0
        else:
            right[row] = -self.fixed[valve.a]

    def _move(self, slopes: Sequence[tuple[float, float]], share: float) -> float:
        largest = 0.0
        for number, (link, (loss, slope)) in enumerate(zip(self.links, slopes, strict=True)):
            change = share * (self._head(link.a) - self._head(link.b) - loss) / slope
            self.flows[number] += change
            largest = max(largest, abs(change))
        return largest

    def _head(self, node: str) -> float:
        return self.heads[node] if node in self.heads else self.fixed[node]

    def turned(self) -> bool:
        """Let each reducing valve stand as its heads and its flow ask; whether any has moved."""
        before = list(self.stands)
        self.stands = [self._stand(number) for number in range(len(self.reducers))]
        return self.stands != before

    def _stand(self, number: int) -> _Stand:
        valve, flow = self.reducers[number], self.passed[number]
        ahead, behind = self._head(valve.a), self._head(valve.b)
        holds = valve.head - valve.falls * flow
        match self.stands[number]:
            case "holds":
                if flow < -_CLOSE * 10:
                    return "shut"
                return "open" if ahead < behind - 1e-6 else "holds"
            case "open":
                if flow < -_CLOSE * 10:
                    return "shut"
                return "holds" if behind > holds + 1e-6 else "open"
            case "shut":
                return "holds" if behind < min(ahead, valve.head) - 1e-6 else "shut"

    def solved(self) -> Solved:
        """Return what was found."""
        heads = {node: head for node, head in self.fixed.items() if not node.startswith(_AIR)}
        return Solved({**heads, **self.heads}, dict(self._named()))

    def _named(self) -> Iterator[tuple[str, float]]:
        for link, flow in zip(self.links, self.flows, strict=True):
            yield link.id, flow
        for valve, flow in zip(self.reducers, self.passed, strict=True):
            yield valve.id, flow


def _slope(link: Link, flow: float) -> tuple[float, float]:
    """Return a link's loss and slope at a flow of either sign."""
    if flow < 0 and link.one_way:
        return _STEEP * flow, _STEEP
    size = abs(flow)
    if size < _TRICKLE:
        slope = max(link.law.loss(_TRICKLE)[0] / _TRICKLE, _FLAT)
        return slope * flow, slope
    loss, slope = link.law.loss(size)
    return (loss if flow > 0 else -loss), max(slope, _FLAT)
