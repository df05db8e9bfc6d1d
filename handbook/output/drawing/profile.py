"""A pressure profile as SVG: pressure against the length of pipe, from the meter to a fixture.

The thick line is at peak demand, the dashed one with nothing running; a drop that stands upright
is equipment. The things on the way are named under the axis, moved apart where they stand close.
"""

from collections.abc import Iterable, Iterator, Sequence

from handbook.output.drawing import svg
from handbook.output.drawing.metrics import Face, width
from handbook.output.fonts import FAMILY
from handbook.pages.content import Profile
from handbook.pages.plan.shapes import Point

WIDE, HIGH = 460.0, 210.0
LEFT, RIGHT, TOP = 34.0, 10.0, 16.0
TYPE = 9.0
APART = TYPE * 1.2
"""Between two names that stand beside each other under the axis."""
REACH = 18.0
"""How far the names hang below the axis, so that their leaders can fan out."""


def drawn(profile: Profile) -> str:
    """Return the SVG of a profile; it has two points at least."""
    plot = _Plot(profile)
    pieces = "".join((*plot.frame(), *plot.lines(), *plot.names()))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {svg.num(WIDE)} '
        f'{svg.num(plot.tall)}" font-family="{FAMILY}" font-size="{svg.num(TYPE)}" '
        f'fill="{svg.INK}">{pieces}</svg>'
    )


class _Plot:
    def __init__(self, profile: Profile) -> None:
        self.profile, self.marks = profile, profile.marks
        highest = max(max(mark.before, mark.rest_before) for mark in self.marks)
        self.step = next(step for step in (10, 20, 50, 100, 200, 500) if highest / step < 7)
        self.top = self.step * (int(highest / self.step) + 1)
        self.longest = max(mark.along for mark in self.marks) or 1.0
        names = max(width(mark.label, TYPE) for mark in self.marks)
        self.tall = HIGH + REACH + names + 4

    def x(self, along: float) -> float:
        return LEFT + (WIDE - LEFT - RIGHT) * along / self.longest

    def y(self, pressure: float) -> float:
        return HIGH - (HIGH - TOP) * max(0.0, pressure) / self.top

    def frame(self) -> Iterator[str]:
        """Yield the axis, a line at each step of pressure, and the need as a line of its own."""
        for pressure in range(0, self.top + 1, self.step):
            level = self.y(pressure)
            line = svg.path(((LEFT, level), (WIDE - RIGHT, level)))
            thin = 0.6 if pressure == 0 else 0.2
            yield svg.stroke(line, "p-step", thin, svg.INK if pressure == 0 else svg.WALL)
            yield _right(str(pressure), LEFT - 4, level + TYPE * 0.35)
        yield svg.text(self.profile.pressure_unit, 0, TOP - 7, TYPE)
        level = self.y(self.profile.need)
        line = svg.path(((LEFT, level), (WIDE - RIGHT, level)))
        yield svg.stroke(line, "p-need", 1.0, svg.INK, (1, 3))
        yield from _clear(self.profile.needed, LEFT + 4, level - 3, TYPE, "Italic")

    def lines(self) -> Iterator[str]:
        """Yield both pressures; the one at rest is named above its beginning, the other below."""
        rest = self._line((m.along, v) for m in self.marks for v in (m.rest_before, m.rest_behind))
        busy = self._line((m.along, v) for m in self.marks for v in (m.before, m.behind))
        yield svg.stroke(svg.path(rest), "p-rest", 1.0, svg.QUIET, (5, 3))
        yield from _clear(self.profile.still, LEFT + 4, rest[0][1] - 3, TYPE, "Italic")
        yield svg.stroke(svg.path(busy), "p-peak", 2.0, svg.WAY)
        yield from _clear(self.profile.busy, LEFT + 4, busy[1][1] + TYPE * 1.5, TYPE, "Bold")

    def _line(self, values: Iterable[tuple[float, float]]) -> list[Point]:
        return [(self.x(along), self.y(pressure)) for along, pressure in values]

    def names(self) -> Iterator[str]:
        """Yield a leader and a name for each thing on the way."""
        places = [self.x(mark.along) for mark in self.marks]
        for mark, at, moved in zip(self.marks, places, _apart(places), strict=True):
            low = HIGH + REACH
            leader = svg.path(((at, HIGH), (at, HIGH + 3), (moved, low - 3), (moved, low)))
            yield svg.stroke(leader, "p-leader", 0.4, svg.QUIET)
            turn = f'transform="rotate(90 {svg.num(moved - TYPE * 0.35)} {svg.num(low + 2)})"'
            name = svg.text(mark.label, moved - TYPE * 0.35, low + 2, TYPE)
            yield name.replace("<text ", f"<text {turn} ", 1)


def _clear(words: str, left: float, base: float, size: float, face: Face) -> Iterator[str]:
    """Yield words on a white band as wide as they are, so that no line runs through them."""
    band = f'x="{svg.num(left - 1)}" y="{svg.num(base - size * 0.8)}" fill="#ffffff"'
    wide, high = width(words, size, face) + 2, size
    yield f'<rect {band} width="{svg.num(wide)}" height="{svg.num(high)}"/>'
    yield svg.text(words, left, base, size, face)


def _right(words: str, right: float, base: float, face: Face = "Regular") -> str:
    """Return words that end at `right`."""
    return svg.text(words, right - width(words, TYPE, face), base, TYPE, face)


def _apart(places: Sequence[float]) -> list[float]:
    """Return the places moved so that none is closer than `APART` to the one before it."""
    moved: list[float] = []
    for place in places:
        moved.append(max(place, moved[-1] + APART) if moved else place)
    most = WIDE - RIGHT
    for number in range(len(moved) - 1, -1, -1):
        moved[number] = min(moved[number], most)
        most = moved[number] - APART
    return moved
