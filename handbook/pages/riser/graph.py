"""A network made ready to be drawn: what only passes water on becomes a mark in a longer pipe.

Nodes and links come in as the record has them, one link a run, a valve or a body. Plain links
are drawn together into one point; nodes where one pipe simply goes on are taken out.
"""

from collections import Counter
from dataclasses import dataclass, field

from handbook.pages.riser.content import RiserMark, RiserPipe, RiserRun

Step = RiserMark | RiserRun


@dataclass(frozen=True)
class Link:
    """Joins two nodes; `items` stand in it in the order of its flow, `line` is how it is drawn.

    `plain` links have no length: their two nodes are one point.
    """

    a: str
    b: str
    line: str
    items: tuple[Step, ...] = ()
    plain: bool = False


@dataclass
class Joined:
    """Links drawn together. `points` are the nodes that must stay points."""

    links: list[Link]
    points: set[str]
    _same: dict[str, str] = field(default_factory=dict)

    def pipes(self) -> tuple[RiserPipe, ...]:
        """Return the pipes between points; each end is a node that `root` returns."""
        for link in self.links:
            if link.plain:
                self._join(link.a, link.b)
        links = [
            Link(self.root(link.a), self.root(link.b), link.line, link.items)
            for link in self.links
            if not link.plain
        ]
        return tuple(
            RiserPipe(link.a, link.b, link.line, link.items) for link in self._through(links)
        )

    def root(self, node: str) -> str:
        """Return the point that a node has become part of."""
        while self._same.get(node, node) != node:
            node = self._same[node]
        return node

    def _join(self, a: str, b: str) -> None:
        first, second = self.root(a), self.root(b)
        if first == second:
            return
        keep, lose = (second, first) if second in self.points else (first, second)
        self._same[lose] = keep

    def _through(self, links: list[Link]) -> list[Link]:
        """Put two links into one wherever a node only hands on what it gets."""
        for node in sorted({end for link in links for end in (link.a, link.b)} - self.points):
            into = [link for link in links if link.b == node]
            out = [link for link in links if link.a == node]
            if len(into) != 1 or len(out) != 1 or into[0] is out[0]:
                continue
            first, second = into[0], out[0]
            if first.a == second.b:
                continue
            line = "assumed" if "assumed" in (first.line, second.line) else first.line
            links[links.index(first)] = Link(first.a, second.b, line, (*first.items, *second.items))
            links.remove(second)
        return links


def ends(pipes: tuple[RiserPipe, ...]) -> Counter[str]:
    """Return how many pipes end at each node."""
    return Counter(end for pipe in pipes for end in (pipe.a, pipe.b))
