"""A body of an isometric drawing: a point with all that belongs to it, from its own spot."""

from __future__ import annotations

from dataclasses import dataclass, field

from handbook.output.drawing.iso_grid import COLUMN, Box, Point, Spot, sheet
from handbook.output.drawing.iso_own import Named, along, square
from handbook.output.drawing.iso_text import Label, Text, around
from handbook.pages.riser.content import RiserMark, RiserPoint

ALL = frozenset(range(6))

SYMBOL = 4.6
"""Half the length of a symbol along its pipe; half its breadth is a little less."""

ROUND = 3.8
"""Half of a round symbol's breadth."""

FOOT = 7.0
"""Points round the foot of a stub that other bodies leave free."""


@dataclass(frozen=True)
class Port:
    """Where a pipe joins a body: grid points beside the body's own, and the directions it may
    leave in."""

    points: tuple[Point, ...]
    leaves: frozenset[int] = ALL
    at_foot: bool = False
    """Whether it is the foot of a stub rather than the body itself."""


@dataclass(frozen=True)
class Stub:
    """A fixture's short upright pipe, from its frame down to its port, and the mark in it."""

    pipe: int
    line: str
    column: int
    top: float
    foot: float
    mark: RiserMark | None
    texts: tuple[Text, ...] = ()


@dataclass(frozen=True)
class Body:
    """A point with everything that belongs to it, relative to its own spot on the sheet."""

    point: RiserPoint
    shape: str
    ports: dict[int, Port]
    frame: Box | None = None
    texts: tuple[Text, ...] = ()
    stubs: tuple[Stub, ...] = ()
    bar: tuple[Point, ...] = ()
    label: Label | None = None
    """Words that are placed beside it once its pipes are drawn."""
    solid: tuple[Box, ...] = field(default=())
    """What nothing else may cover."""

    @property
    def named(self) -> tuple[Named, ...]:
        """Its symbol, and those of its stubs with their words."""
        found = []
        for stub in self.stubs:
            if stub.mark:
                spot = (stub.column * COLUMN, (stub.top + stub.foot) / 2)
                found.append(Named(along(spot, (0.0, 1.0)), around(stub.texts)))
        return (Named(self.outline), *found)

    @property
    def outline(self) -> tuple[Spot, ...]:
        """The corners of its symbol."""
        if self.bar:
            return sheet(self.bar[0]), sheet(self.bar[-1])
        return square(self.frame or self.solid[0].grown(-self.spare))

    @property
    def spare(self) -> float:
        """How much smaller its symbol is than what is kept clear round it."""
        return 0.4 if self.shape in ("dot", "none") else SYMBOL + 0.4 - ROUND

    @property
    def room(self) -> tuple[Box, ...]:
        """What it takes while places are looked for: with space for pipes to come to its stubs."""
        feet = (
            Box(s.column * COLUMN - FOOT, s.foot - 3, s.column * COLUMN + FOOT, s.foot + FOOT)
            for s in self.stubs
        )
        return (*self.solid, *feet)

    @property
    def reach(self) -> Box:
        """The box round all its room."""
        room = self.room
        return Box(
            min(b.left for b in room),
            min(b.top for b in room),
            max(b.right for b in room),
            max(b.bottom for b in room),
        )
