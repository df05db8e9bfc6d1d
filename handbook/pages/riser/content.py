"""What a riser diagram holds: the levels, the points, the pipes between them, without geometry.

Output decides where on the sheet a point comes to lie; here stands only what the record says: on
which level, where on the plan, what is joined to what and with what on the way.
"""

from __future__ import annotations

from dataclasses import dataclass

OUTDOORS = "outside"
"""The level of everything out of doors; it stands beside the lowest level."""


@dataclass(frozen=True)
class RiserLevel:
    """One band of the diagram. `words` stand at its floor line; without words there is no line."""

    id: str
    words: str


@dataclass(frozen=True)
class RiserPoint:
    """A point that pipes run to. `symbol` is a row of the table `riser_marks`.

    `words` are its lines of text, the first of them bold. `at` is its place on the plan in feet
    and `height` its height above that level's floor, both None where not recorded. `things` are
    the ids of what it stands for.
    """

    id: str
    symbol: str
    words: tuple[str, ...]
    level: str
    at: tuple[float, float] | None = None
    height: float | None = None
    things: tuple[str, ...] = ()


@dataclass(frozen=True)
class RiserMark:
    """Something in a pipe: a valve, a meter, a trap. Fields as in `RiserPoint`."""

    symbol: str
    words: tuple[str, ...]
    level: str
    things: tuple[str, ...] = ()


@dataclass(frozen=True)
class RiserRun:
    """A recorded run of pipe: what is written beside it, such as `3/4`, `D7 3`."""

    words: str
    things: tuple[str, ...] = ()


@dataclass(frozen=True)
class RiserPipe:
    """A pipe from point `a` to point `b` with what stands in it, in the order of its flow.

    `line` is a row of the table `riser_lines`.
    """

    a: str
    b: str
    line: str
    items: tuple[RiserMark | RiserRun, ...] = ()


@dataclass(frozen=True)
class Riser:
    """A riser diagram. `levels` stand from the top down; `title` says it to those who cannot see
    it; `notes` are sentences under it, above all what is not recorded."""

    title: str
    levels: tuple[RiserLevel, ...]
    points: tuple[RiserPoint, ...]
    pipes: tuple[RiserPipe, ...]
    abbreviations: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Charted:
    """A diagram and the ids of what the record leaves open about it.

    `unjoined`: it stands in no line, because nothing says what it is joined to. `no_level`: it is
    drawn on the level of what it is joined to. `no_place`: it is drawn where there is room.
    """

    riser: Riser
    unjoined: tuple[str, ...]
    no_level: tuple[str, ...]
    no_place: tuple[str, ...]
