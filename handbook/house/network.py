"""The water network stripped to what shutting off needs: nodes, pipes, valves, supplies.

It knows nothing of records, rooms or wording, so that the search for valves can be read, and
tested on invented networks, by itself. Nodes are plain strings; nothing here has a unit.

Water passes a pipe both ways, or one way only (check valve, backflow preventer, the entry into a
fixture). A valve that is open passes both ways.
"""

from collections import deque
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

_NONE: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Pipe:
    """Joins nodes `a` and `b`; `one_way` lets water pass from `a` to `b` only."""

    a: str
    b: str
    one_way: bool = False
    id: str = ""


@dataclass(frozen=True)
class Valve:
    """Stands between nodes `a` and `b`.

    `closed`: it stands closed as a rule, and may be opened.
    `stuck`: it cannot be turned; where it stands open it is plain pipe.
    `holds=False`: it is known not to stop the water, and is plain pipe in every respect.
    `utility`: it belongs to the water utility.
    `only_for`: turning it serves these nodes alone; for any other target it is plain pipe.
    `order`: settles ties, smaller first.

    One handle that works two ports is two valves with one `id`: they turn together, as one valve.
    """

    id: str
    a: str
    b: str
    closed: bool = False
    stuck: bool = False
    holds: bool = True
    utility: bool = False
    only_for: frozenset[str] = frozenset()
    order: int = 0


@dataclass(frozen=True)
class Supply:
    """What people miss when `node` is dry; a sink's cold and its hot are two."""

    id: str
    node: str


@dataclass(frozen=True)
class Standing:
    """What each valve is good for at one moment, by id; an id in none of these is plain pipe."""

    may_close: frozenset[str]
    may_open: frozenset[str]
    fixed_shut: frozenset[str]

    @property
    def working(self) -> frozenset[str]:
        """The valves that can be turned, whichever way they stand."""
        return self.may_close | self.may_open

    def barred(
        self, close: Collection[str] = _NONE, opened: Collection[str] = _NONE
    ) -> frozenset[str]:
        """The valves that pass nothing once these are turned; turning plain pipe does nothing."""
        shut = self.may_close.intersection(close) | self.may_open.difference(opened)
        return shut | self.fixed_shut


@dataclass(frozen=True)
class Network:
    """Immutable. Raises ValueError if valves that share an id differ in more than their ports."""

    sources: frozenset[str]
    pipes: tuple[Pipe, ...] = ()
    valves: tuple[Valve, ...] = ()
    supplies: tuple[Supply, ...] = ()

    def __post_init__(self) -> None:
        for id_, ports in self.handles.items():
            if len({replace(port, a="", b="") for port in ports}) > 1:
                raise ValueError(f"valves that share the id {id_!r} differ in more than their ends")

    @cached_property
    def handles(self) -> Mapping[str, tuple[Valve, ...]]:
        """The ports that each valve id works: one, or several under one handle."""
        found: dict[str, tuple[Valve, ...]] = {}
        for valve in self.valves:
            found[valve.id] = (*found.get(valve.id, ()), valve)
        return found

    @cached_property
    def nodes(self) -> frozenset[str]:
        """Every node that anything here names."""
        links: tuple[Pipe | Valve, ...] = (*self.pipes, *self.valves)
        ends = {end for link in links for end in (link.a, link.b)}
        return self.sources | ends | {supply.node for supply in self.supplies}

    @cached_property
    def _ahead(self) -> dict[str, list[tuple[str, str]]]:
        """From each node: (next node, id of the valve between, or "" for pipe)."""
        ahead: dict[str, list[tuple[str, str]]] = {node: [] for node in self.nodes}
        for pipe in self.pipes:
            ahead[pipe.a].append((pipe.b, ""))
            if not pipe.one_way:
                ahead[pipe.b].append((pipe.a, ""))
        for valve in self.valves:
            ahead[valve.a].append((valve.b, valve.id))
            ahead[valve.b].append((valve.a, valve.id))
        return ahead

    @cached_property
    def _behind(self) -> dict[str, list[tuple[str, str]]]:
        """As `_ahead`, against the flow."""
        behind: dict[str, list[tuple[str, str]]] = {node: [] for node in self.nodes}
        for node, links in self._ahead.items():
            for other, valve in links:
                behind[other].append((node, valve))
        return behind

    def standing(self, targets: frozenset[str] = _NONE, failed: frozenset[str] = _NONE) -> Standing:
        """How the valves stand for someone who wants `targets` dry and cannot trust `failed`.

        A valve that has failed or does not hold is plain pipe even where it stands closed or
        stuck: water that might pass has to be reckoned with.
        """
        may_close: set[str] = set()
        may_open: set[str] = set()
        fixed_shut: set[str] = set()
        for valve in self.valves:
            if valve.id in failed or not valve.holds:
                continue
            if valve.stuck:
                if valve.closed:
                    fixed_shut.add(valve.id)
            elif not valve.only_for or valve.only_for & targets:
                (may_open if valve.closed else may_close).add(valve.id)
        return Standing(frozenset(may_close), frozenset(may_open), frozenset(fixed_shut))

    def downstream(
        self, starts: Iterable[str], barred: Collection[str], avoid: Collection[str] = _NONE
    ) -> set[str]:
        """Every node that water from `starts` reaches without passing `barred` or `avoid`."""
        return _spread(self._ahead, starts, barred, avoid)

    def upstream(self, ends: Iterable[str], barred: Collection[str]) -> set[str]:
        """Every node from which water reaches `ends` without passing a valve in `barred`."""
        return _spread(self._behind, ends, barred, _NONE)

    def way(self, targets: Collection[str], barred: Collection[str]) -> tuple[str, ...]:
        """Valves along one shortest way from a source to a target, the target's end first.

        Empty where no water arrives, or where no valve stands on that way.
        """
        came: dict[str, tuple[str, str]] = {}
        seen = set(self.sources)
        queue = deque(sorted(self.sources))
        while queue:
            node = queue.popleft()
            if node in targets:
                return tuple(_valves_back(came, node))
            for other, valve in self._ahead[node]:
                if other not in seen and valve not in barred:
                    seen.add(other)
                    came[other] = (node, valve)
                    queue.append(other)
        return ()

    def segments(
        self, targets: frozenset[str] = _NONE, failed: frozenset[str] = _NONE
    ) -> tuple[frozenset[str], ...]:
        """Groups of nodes with no working valve between them, in the order of their first names.

        A valve stuck closed also parts two segments; a one-way pipe parts none.
        """
        standing = self.standing(targets, failed)
        barred = standing.working | standing.fixed_shut
        both = {node: self._ahead[node] + self._behind[node] for node in self.nodes}
        seen: set[str] = set()
        groups = []
        for node in sorted(self.nodes):
            if node not in seen:
                group = _spread(both, (node,), barred, _NONE)
                seen |= group
                groups.append(frozenset(group))
        return tuple(groups)


def _spread(
    links: Mapping[str, list[tuple[str, str]]],
    starts: Iterable[str],
    barred: Collection[str],
    avoid: Collection[str],
) -> set[str]:
    seen = {node for node in starts if node in links and node not in avoid}
    waiting = list(seen)
    while waiting:
        for other, valve in links[waiting.pop()]:
            if other not in seen and valve not in barred and other not in avoid:
                seen.add(other)
                waiting.append(other)
    return seen


def _valves_back(came: Mapping[str, tuple[str, str]], node: str) -> Iterable[str]:
    while node in came:
        node, valve = came[node]
        if valve:
            yield valve
