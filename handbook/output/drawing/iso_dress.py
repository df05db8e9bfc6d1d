"""Puts on a pipe what belongs to it: its valves with their tags, its sizes, its arrow.

Every piece is put where it covers nothing. Where there is no such place the answer is None, and
the pipe is led another way.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from handbook.output.drawing.iso_board import Board
from handbook.output.drawing.iso_grid import COLUMN, ROW, Box, Point, Spot, covers, sheet
from handbook.output.drawing.iso_own import Named
from handbook.output.drawing.iso_own import along as laid_along
from handbook.output.drawing.iso_stretch import HALF, Placed, Stretch, symbol_box
from handbook.output.drawing.iso_text import Label, Text
from handbook.pages.riser.content import RiserMark, RiserRun

BESIDE = 1.9
"""Points between a pipe's middle and the words beside it."""

NEARER, CLOSE = (2 * BESIDE + 1.5, 2 * BESIDE), (BESIDE + 1.0, 0.0)
"""Points between a size and any other pipe, the best first: farther off than its own; and where
there is no such place."""

STEP = 2.25


@dataclass(frozen=True)
class Coat:
    """Dresses one pipe. `avoid` are spots that symbols keep away from: crossings.
    `zones` are the parts of the sheet of each level; `keep` are boxes better left free. With
    `over`, what other tasks have taken does not count. A `picky` one gives no size a place where
    another pipe is nearer."""

    board: Board
    parts: tuple[Stretch, ...]
    avoid: tuple[Spot, ...]
    zones: dict[str, tuple[Box, ...]]
    keep: tuple[Box, ...] = ()
    over: bool = False
    picky: bool = False

    @property
    def length(self) -> float:
        """The length of the whole pipe."""
        return sum(part.length for part in self.parts)

    def marks(self, items: Sequence[RiserMark | RiserRun]) -> tuple[Placed, ...] | None:
        """Place the marks, in their order, with room for the sizes between; None if impossible."""
        marks = [item for item in items if isinstance(item, RiserMark)]
        if not marks:
            return ()
        slots = self._slots()
        gaps = _gaps(items)
        return self._place(marks, gaps, slots, 0, -99.0, [])

    def _slots(self) -> list[tuple[float, Stretch]]:
        found = []
        for part in self.parts:
            room = part.length - 2 * (HALF + 1.6)
            count = int(room // STEP)
            found += (
                [
                    (part.start + HALF + 1.6 + n * room / max(1, count), part)
                    for n in range(count + 1)
                ]
                if room >= 0
                else []
            )
        return found

    def _place(  # noqa: PLR0913, PLR0917 - the state of a search, passed down its own steps
        self,
        marks: Sequence[RiserMark],
        gaps: Sequence[float],
        slots: Sequence[tuple[float, Stretch]],
        done: int,
        last: float,
        placed: list[Placed],
    ) -> tuple[Placed, ...] | None:
        if done == len(marks):
            return tuple(placed)
        need = gaps[done]
        rest = sum(gaps[done + 1 :])
        share = (done + 1) / (len(marks) + 1)
        ideal = max(last, 0.0) + need if done else share * self.length
        ideal = max(ideal, share * self.length)
        able = [s for s in slots if s[0] >= max(last, 0.0) + need and s[0] <= self.length - rest]
        tries = 0
        for along, part in sorted(able, key=lambda s: (abs(s[0] - ideal), s[0])):
            found = self._mark(marks[done], along, part, placed)
            if found is None:
                continue
            tries += 1
            whole = self._place(marks, gaps, slots, done + 1, along, [*placed, found])
            if whole is not None or tries > 3:
                return whole
        return None

    def _mark(
        self, mark: RiserMark, along: float, part: Stretch, placed: Sequence[Placed]
    ) -> Placed | None:
        spot = part.at(along)
        box = symbol_box(spot, part.unit)
        zones = self.zones.get(mark.level)
        if zones and not any(zone.holds(box) for zone in zones):
            return None
        if any(math.dist(spot, other) < HALF + 5.0 for other in self.avoid):
            return None
        if not self.board.unboxed(box, over=self.over):
            return None
        taken = [b for p in placed for b in (p.box, *(t.box for t in p.texts))]
        if any(box.meets(other) for other in taken):
            return None
        own = Named(laid_along(spot, part.unit))
        texts = self.beside(Label(mark.words), spot, box, own, taken, [p.named for p in placed])
        return Placed(mark, spot, part.unit, along, texts) if texts else None

    def beside(  # noqa: PLR0913, PLR0917 - what the words belong to, and what they keep clear of
        self,
        label: Label,
        spot: Spot,
        box: Box,
        own: Named,
        taken: Sequence[Box] = (),
        named: Sequence[Named] = (),
    ) -> tuple[Text, ...] | None:
        """Return words beside a symbol or a point, where they cover nothing and are read as its
        own; None if nowhere."""
        for strict in (True, False):
            for left, top, align in _around(label, spot, box):
                place = label.box(left, top)
                if not self._clear(place, taken):
                    continue
                if strict and any(place.meets(keep) for keep in self.keep):
                    continue
                mine = replace(own, words=place)
                if any(mine.mistaken(other) for other in named):
                    continue
                if self.board.plain(mine, over=self.over):
                    return label.at(left, top, align)
        return None

    def _clear(self, place: Box, taken: Sequence[Box]) -> bool:
        """Whether words may stand here: clear of what is laid, of this pipe, of what it carries."""
        if not self.board.free(place, over=self.over):
            return False
        near = place.grown(BESIDE)
        if any(covers(near.grown(-0.4), (part.a, part.b)) for part in self.parts):
            return False
        return not any(near.grown(-0.6).meets(other) for other in taken)

    # --- sizes ---------------------------------------------------------------------------------

    def size(self, words: str, start: float, end: float, taken: Sequence[Box] = ()) -> Text | None:
        """Return a run's size beside it, between two places along the pipe; None if nowhere.

        First where no other pipe is nearly as near, then where it is left better free, then any.
        """
        label = Label((words,), bold=False)
        middle = (start + end) / 2
        spots = []
        for part in self.parts:
            low, high = max(start, part.start), min(end, part.start + part.length)
            count = max(0, int((high - low) // STEP))
            if high >= low:
                spots += [
                    (low + (high - low) * (n / max(1, count)), part) for n in range(count + 1)
                ]
        spots.sort(key=lambda s: (abs(s[0] - middle), s[0]))
        for lone, strict in itertools.product(
            NEARER if self.picky else (*NEARER, *CLOSE), (True, False)
        ):
            for along, part in spots:
                for left, top in _sides(label, part, along):
                    place = label.box(left, top)
                    if strict and any(place.meets(keep) for keep in self.keep):
                        continue
                    if lone and self.board.piped(place.grown(lone)):
                        continue
                    if self._clear(place, taken):
                        return label.at(left, top)[0]
        return None


def _gaps(items: Sequence[RiserMark | RiserRun]) -> list[float]:
    """Return what is wanted before each mark: more where a size has to stand there."""
    gaps: list[float] = []
    wait = 2.0
    for item in items:
        if isinstance(item, RiserMark):
            gaps.append(HALF + wait + (HALF if gaps else 0.0))
            wait = 2.0
        else:
            wait = 9.0
    return gaps


def _around(label: Label, spot: Spot, box: Box) -> Iterator[tuple[float, float, float]]:
    """Yield places round a symbol, the best first: (left, top, alignment)."""
    x, y = spot
    wide, high = label.wide, label.high
    for far in (1.3, 2.6, 4.2, 6.0):
        right, left = box.right + far, box.left - far - wide
        above, below = box.top - far - high, box.bottom + far
        yield right, y - high / 2, 0.0
        yield left, y - high / 2, 1.0
        yield x - wide / 2, above, 0.5
        yield x - wide / 2, below, 0.5
        inset = min(2.0, far)
        yield right - inset, above + inset, 0.0
        yield right - inset, below - inset, 0.0
        yield left + inset, above + inset, 1.0
        yield left + inset, below - inset, 1.0
        yield x, above, 0.0
        yield x - wide, above, 1.0
        yield x, below, 0.0
        yield x - wide, below, 1.0
        for shift in (-6.0, 6.0, -3.0, 3.0):
            yield right, y - high / 2 + shift, 0.0
            yield left, y - high / 2 + shift, 1.0


def _sides(label: Label, part: Stretch, along: float) -> Iterator[Spot]:
    """Yield the top left corners of words on either side of a straight part."""
    x, y = part.at(along)
    ux, uy = part.unit
    nx, ny = -uy, ux
    if ny > 0:
        nx, ny = -nx, -ny
    reach = label.wide / 2 * abs(nx) + label.high / 2 * abs(ny) + BESIDE
    for far in (0.0, 1.5):
        for sign in (1, -1):
            cx, cy = x + sign * nx * (reach + far), y + sign * ny * (reach + far)
            yield cx - label.wide / 2, cy - label.high / 2


def arrow_box(spot: Spot) -> Box:
    """Return the box of a flow arrow."""
    return Box(spot[0] - 3.2, spot[1] - 3.2, spot[0] + 3.2, spot[1] + 3.2)


def ring(point: Point) -> Box:
    """Return the box round a point that its other pipes will need."""
    x, y = sheet(point)
    return Box(x - COLUMN * 1.6, y - ROW * 3, x + COLUMN * 1.6, y + ROW * 3)
