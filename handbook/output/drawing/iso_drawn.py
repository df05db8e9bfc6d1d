"""What a laid out riser diagram consists of."""

from __future__ import annotations

from dataclasses import dataclass

from handbook.output.drawing.iso_body import Body
from handbook.output.drawing.iso_grid import Box, Point, Spot
from handbook.output.drawing.iso_own import Named
from handbook.output.drawing.iso_stretch import Placed
from handbook.output.drawing.iso_text import Text
from handbook.output.drawing.iso_zones import Zones
from handbook.pages.riser.content import Riser, RiserPipe, RiserRun


@dataclass(frozen=True)
class Led:
    """A pipe on the sheet: its corners, where it is broken because another runs in front of it."""

    pipe: RiserPipe
    line: tuple[Spot, ...]
    marks: tuple[Placed, ...]
    sizes: tuple[tuple[RiserRun, Text], ...]
    arrow: tuple[Spot, Spot] | None
    gaps: tuple[Spot, ...]


@dataclass(frozen=True)
class Dressed:
    """A pipe's way over the grid with what belongs to it."""

    way: tuple[Point, ...]
    marks: tuple[Placed, ...]
    sizes: tuple[tuple[RiserRun, Text], ...]

    @property
    def boxes(self) -> list[Box]:
        """What its marks, their words and its sizes take."""
        words = [text for mark in self.marks for text in mark.texts]
        words += [text for _, text in self.sizes]
        return [mark.box for mark in self.marks] + [text.box for text in words]

    @property
    def named(self) -> list[Named]:
        """Whose the words of its marks are."""
        return [mark.named for mark in self.marks]


@dataclass(frozen=True)
class Layout:
    """The whole diagram. `spots` are the bodies' places on the sheet, `labels` their late words."""

    riser: Riser
    zones: Zones
    bodies: tuple[Body, ...]
    spots: tuple[Spot, ...]
    labels: tuple[tuple[Text, ...], ...]
    led: tuple[Led, ...]
    titles: tuple[Text, ...]
    worth: float
    """What its pipes cost: steps, bends and crossings; less is better."""
