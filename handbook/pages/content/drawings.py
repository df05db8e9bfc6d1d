"""What a page shows as a drawing, before it is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from handbook.pages.plan.shapes import Plan

Size = Literal["full", "half", "small"]
"""How much of a sheet of paper a map takes: the whole, half of it, or a sixth."""


@dataclass(frozen=True)
class Drawing:
    """A drawing of ours as SVG text, and a title that says it to those who cannot see it.

    Colours and type stand in attributes (`fill="..."`): the phone pages allow no inline styles.
    """

    svg: str
    title: str


@dataclass(frozen=True)
class Map:
    """A plan drawn to scale. `title` heads it and says it to those who cannot see it; `notes` are
    sentences under it, above all what is not drawn and why."""

    plan: Plan
    title: str
    notes: tuple[str, ...] = ()
    size: Size = "full"


@dataclass(frozen=True)
class ProfileMark:
    """A thing on a profile: how far along, and the pressure before and behind it.

    The first two while water runs, `rest_...` while none does.
    """

    label: str
    along: float
    before: float
    behind: float
    rest_before: float
    rest_behind: float


@dataclass(frozen=True)
class Profile:
    """Pressure along a way, drawn: `marks` in order, two at least, all in `pressure_unit`.

    `busy`, `still` and `needed` name the two lines and the level that is needed; `title` says
    the drawing to those who cannot see it.
    """

    title: str
    marks: tuple[ProfileMark, ...]
    need: float
    pressure_unit: str
    busy: str
    still: str
    needed: str


@dataclass(frozen=True)
class MapRow:
    """Small maps side by side, in the order in which they are read."""

    maps: tuple[Map, ...]
