"""The corners of a house or a room, named so that a stranger finds them.

Front is the side of the street where the record says where that is (`site: street`); else corners
are named by the compass (`site: north`), else as the plan lies. Left and right are as you face
the house from the street. In a room, where the back wall is another one for each who stands in it,
corners are named by the compass wherever north is recorded.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan2, degrees, dist, hypot
from typing import Literal

from handbook.answers.finding.sight import XY, Outline
from handbook.house.places import BY_EYE
from handbook.measures import Length, Units, say_length
from handbook.record.grammar.places import Site

AT_IN = 1.0
"""A corner this near to the outline's extreme is the extreme one."""
STRAIGHT = 0.17
"""The sine of ten degrees: a bend in a wall that is less is no corner to hold a tape at."""

_COMPASS = (
    *("north", "northeast", "east", "southeast"),
    *("south", "southwest", "west", "northwest"),
)
_OPPOSITE = dict(zip(_COMPASS, (*_COMPASS[4:], *_COMPASS[:4]), strict=True))


@dataclass(frozen=True)
class Corner:
    """A fixed point that a tape is held to; `x` and `y` in inches on the plan."""

    name: str
    x: float
    y: float

    @property
    def xy(self) -> XY:
        """Its point."""
        return self.x, self.y

    def brief(self, of: str) -> str:
        """Return its name where it is plain that it is a corner, and whose: `front left`."""
        return self.name.removesuffix(f" corner of {of}").replace(f" of {of}", "")


@dataclass(frozen=True)
class Frame:
    """Axes along the walls: `ahead` points from the street (or the foot of the plan) inward."""

    ahead: XY
    by: Literal["street", "compass", "plan"]
    north: float = 0.0
    street: str = ""
    """In a room: on which side of the house the street is."""

    def turned(self, point: XY) -> XY:
        """Return (to the right, ahead) of a point or a step."""
        (x, y), (ax, ay) = point, self.ahead
        return x * ay - y * ax, x * ax + y * ay

    def corner(self, right: bool, back: bool) -> str:
        """Return the name of one of the four extreme corners: `front left`."""
        if self.by == "compass":
            step = (1 if right else -1, 1 if back else -1)
            return self.wind(
                (
                    step[0] * self.ahead[1] + step[1] * self.ahead[0],
                    step[1] * self.ahead[1] - step[0] * self.ahead[0],
                )
            )
        side = "right" if right else "left"
        if self.by == "street":
            return f"{'back' if back else 'front'} {side}"
        return f"{'upper' if back else 'lower'} {side}"

    def toward(self, step: XY) -> str:
        """Return where a step on the plan leads: `toward the street`, `to the left`."""
        if self.by == "compass":
            return f"toward the {self.wind(step)}"
        right, back = self.turned(step)
        far = hypot(right, back) or 1.0
        words = []
        if abs(back) > STRAIGHT * 2 * far:
            near, beyond = (
                ("toward the street", "away from the street")
                if self.by == "street"
                else ("toward the foot of the plan", "toward the head of the plan")
            )
            words.append(beyond if back > 0 else near)
        if abs(right) > STRAIGHT * 2 * far:
            words.append("to the right" if right > 0 else "to the left")
        return " and ".join(words)

    @property
    def said(self) -> str:
        """How the names are meant, for the reader."""
        if self.by == "street":
            return (
                "front is the side toward the street; left and right as you face the "
                "house from the street"
            )
        if self.by == "compass":
            if not self.street:
                return "corners are named by the compass"
            return (
                "corners of rooms are named by the compass; the street is on the "
                f"{self.street} side of the house"
            )
        return "corners are named as the plan lies, its top up"

    def offset(self, step: XY, units: Units) -> str:
        """Return a step in words along the walls: `5 ft toward the street and 3 ft to the left`."""
        right, back = self.turned(step)
        (ax, ay), parts = self.ahead, []
        for far, (dx, dy) in ((back, (ax, ay)), (right, (ay, -ax))):
            if abs(far) > AT_IN:
                way = (dx, dy) if far > 0 else (-dx, -dy)
                toward = self.wind(way) if self.by == "compass" else self.toward(way)
                parts.append(f"{say_length(Length(abs(far)), units, BY_EYE)} {toward}")
        return " and ".join(parts)

    def wind(self, step: XY) -> str:
        """Return the side of the compass to which a step on the plan leads."""
        bearing = degrees(atan2(step[0], step[1])) - self.north
        return _COMPASS[round(bearing / 45) % 8]


def frame(site: Site | None, outline: Outline) -> Frame:
    """Return the axes by which the corners of an outline are named."""
    walls = _axes(outline)
    street = site.street if site else None
    if street is not None:
        ahead = max(walls, key=lambda axis: _before(axis, outline, (street.x, street.y)))
        return Frame(ahead, "street")
    up = max(walls, key=lambda axis: axis[1])
    if site and site.north is not None:
        return Frame(up, "compass", float(site.north))
    return Frame(up, "plan")


def room_frame(site: Site, outline: Outline) -> Frame:
    """Return the axes by which the corners of a room are named, along the walls of an outline."""
    axes = frame(site, outline)
    if site.north is None:
        return axes
    by = replace(axes, by="compass", north=float(site.north))
    return replace(by, street=_OPPOSITE[by.wind(axes.ahead)]) if axes.by == "street" else by


def _axes(outline: Outline) -> tuple[XY, ...]:
    """Return the four directions of the longest wall and square to it."""
    ends = list(zip(outline, (*outline[1:], outline[0]), strict=True))
    a, b = max(ends, key=lambda wall: dist(*wall))
    length = dist(a, b) or 1.0
    x, y = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    return (x, y), (-y, x), (-x, -y), (y, -x)


def _before(ahead: XY, outline: Outline, street: XY) -> float:
    """Return how far the street lies before an outline, looked at in a direction."""
    along = [x * ahead[0] + y * ahead[1] for x, y in outline]
    return min(along) - (street[0] * ahead[0] + street[1] * ahead[1])


def corners(outline: Outline, axes: Frame, of: str, bend: str, units: Units) -> tuple[Corner, ...]:
    """Return the corners of an outline, each with its own name.

    The four extreme ones are named outright, any other by how far it is from the nearest of those
    along the walls. `of` is `the house`; `bend` is what one that turns the other way is called.
    """
    ring = _bends(outline)
    if not ring:
        return ()
    turned = [axes.turned(point) for point in ring]
    named = _extremes(turned, axes)
    way = _turning(ring)
    found = []
    for index, (x, y) in enumerate(ring):
        name = named.get(index)
        text = f"{name} corner of {of}"
        if not name:
            start = min(named, key=lambda i: dist(ring[i], ring[index]))
            step = (x - ring[start][0], y - ring[start][1])
            kind = f"{bend}, " if _turn(ring, index) * way < 0 else "corner "
            text = f"{kind}{axes.offset(step, units)} from the {named[start]} corner of {of}"
        found.append(Corner(text, x, y))
    return tuple(found)


def _bends(outline: Outline) -> list[XY]:
    """Return the points at which a wall really turns."""
    last = len(outline)
    return [
        point
        for i, point in enumerate(outline)
        if abs(_turn([outline[i - 1], point, outline[(i + 1) % last]], 1)) > STRAIGHT
    ]


def _turn(ring: Sequence[XY], index: int) -> float:
    """Return the sine of the turn at a corner, left above zero."""
    a, b, c = ring[index - 1], ring[index], ring[(index + 1) % len(ring)]
    lengths = dist(a, b) * dist(b, c)
    cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    return cross / lengths if lengths else 0.0


def _turning(ring: Sequence[XY]) -> float:
    """Return above zero for an outline that runs round to the left."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))


def _extremes(turned: Sequence[XY], axes: Frame) -> dict[int, str]:
    """Return the names of the corners that stand in the corners of the box round the outline."""
    wide, deep = [p[0] for p in turned], [p[1] for p in turned]
    named = {}
    for right in (False, True):
        for back in (False, True):
            box = (max(wide) if right else min(wide), max(deep) if back else min(deep))
            index = min(range(len(turned)), key=lambda i: dist(turned[i], box))
            if dist(turned[index], box) <= AT_IN:
                named[index] = axes.corner(right, back)
    if not named:  # a bay or a cut at every corner: take the foremost left one to count from
        index = min(range(len(turned)), key=lambda i: (round(deep[i]), wide[i]))
        named[index] = {"street": "foremost left", "plan": "lowest left"}.get(
            axes.by, f"{axes.corner(False, False)}most"
        )
    return named
