"""A plan becomes one SVG drawing: house, lines, symbols, labels, scale bar, north and legend.

Where the labels do not all find a place, the map is laid out again with more margin round it, so
that nearly always each one does; what even then finds none is named under the map. A label is
never dropped in silence and never covers anything.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from handbook.output.drawing import fabric, labels, lines, svg
from handbook.output.drawing.board import Board
from handbook.output.drawing.furniture import NORTH, north_arrow, scale_bar
from handbook.output.drawing.legend import legend, unnamed
from handbook.output.drawing.place import Candidate, place, place_most
from handbook.output.drawing.raster import Raster
from handbook.output.drawing.sheet import Sheet, Standing, fit
from handbook.output.drawing.spots import Spots
from handbook.output.drawing.standing import standing
from handbook.output.drawing.symbols import symbol
from handbook.output.drawing.words import said
from handbook.output.fonts import FAMILY
from handbook.pages.plan.shapes import Plan
from handbook.tables import table


@dataclass(frozen=True)
class Try:
    """One way to lay a map out: how much more margin, and what leader lines may do if there is no
    other place: run on under symbols, cross one another."""

    more: float
    under_symbols: bool = False
    crossing: bool = False


TRIES = (
    Try(0.0),
    Try(14.0),
    Try(14.0, under_symbols=True),
    *(
        Try(more, under_symbols=True, crossing=True)
        for more in (14.0, 40.0, 90.0, 160.0, 260.0, 400.0)
    ),
)
CROWDED = Try(90.0, under_symbols=True, crossing=True)
"""How a map is laid out on which not all labels find a place."""


LOWEST = 100.0
"""Units that a plan is high at least."""

SMALLER = 5
"""So many times a plan is drawn smaller, if with its legend it is higher than a page."""


@lru_cache(maxsize=512)
def draw(plan: Plan, sheet: Sheet) -> str:
    """Return the SVG of a plan on a sheet; its width and height are the sheet's own unit.

    Raises ValueError for a plan without a single point.
    """
    board, bottom = _laid_out(plan, sheet) or _crowded(plan, sheet)
    for _ in range(SMALLER):
        if bottom <= sheet.tall:
            break
        plan_high = min(sheet.high, board.frame.height - 2 * sheet.margin)
        lower = max(plan_high - (bottom - sheet.tall) - 1, LOWEST)
        if lower >= sheet.high:
            break
        sheet = replace(sheet, high=lower)
        smaller = _laid_out(plan, sheet)
        if smaller is None:  # then it stays as high as it came out
            break
        board, bottom = smaller
    return _svg(board, bottom)


def _laid_out(plan: Plan, sheet: Sheet) -> tuple[Board, float] | None:
    """Return a finished drawing and how high it is; None if a label finds no place."""
    for way in TRIES:
        board, stands, wanted = _begun(plan, sheet, way)
        placed = place(wanted, crossing=way.crossing)
        if placed is not None:
            return _finished(plan, board, stands, placed)
    return None


def _crowded(plan: Plan, sheet: Sheet) -> tuple[Board, float]:
    """Return a drawing with as many labels as find a place; its foot names the others."""
    board, stands, wanted = _begun(plan, sheet, CROWDED)
    placed, left_out = place_most(wanted)
    return _finished(plan, board, stands, placed, [said(wanted[i].forms) for i in left_out])


def _begun(plan: Plan, sheet: Sheet, way: Try) -> tuple[Board, Sequence[Standing], list[Spots]]:
    """Return a drawing without its labels, what stands on it, and the labels to be placed."""
    board = Board(sheet, fit(plan, sheet, way.more))
    stands = standing(plan, board.frame, sheet.mark)
    fabric.draw(plan, board)
    lines.draw(plan, board, stands)
    for stand in stands:
        board.keep_off_mark(stand.at, stand.reach)
    taken = board.taken
    if way.under_symbols:
        taken = replace(taken, solid=Raster(sheet.wide, board.frame.height))
    return board, stands, list(labels.wanted(plan, board, stands, taken))


def _finished(
    plan: Plan,
    board: Board,
    stands: Sequence[Standing],
    placed: Sequence[Candidate],
    left_out: Sequence[str] = (),
) -> tuple[Board, float]:
    sheet = board.sheet
    board.pieces += labels.leaders(placed, stands, sheet.mark)
    for stand in stands:
        board.draw(_mark(stand, sheet))
    labels.draw(placed, board)
    middle = board.frame.height + NORTH
    board.draw(scale_bar(board.frame, sheet, middle - 6, metric=plan.metric))
    if plan.north is not None:
        board.draw(north_arrow(plan.north, sheet, sheet.wide - sheet.margin, middle))
    body, bottom = legend(plan, stands, placed, sheet, middle + NORTH + 4)
    rest, bottom = unnamed(left_out, sheet, bottom)
    board.draw(body + rest)
    return board, bottom + 2


def _mark(stand: Standing, sheet: Sheet) -> str:
    shape = symbol(table("map_marks").values[stand.mark.kind]["shape"], sheet.mark)
    ring = ""
    if stand.mark.ringed:
        ring = (
            f'<circle r="{svg.num(stand.reach - 1)}" fill="none" stroke="{svg.WAY}" '
            'stroke-width="1.8"/>'
        )
    kinds = " ".join(("m-mark", *stand.ids))
    return svg.group(kinds, (ring, shape), stand.at, stand.mark.turn)


def _svg(board: Board, high: float) -> str:
    wide, unit = svg.num(board.sheet.wide), board.sheet.unit
    tall = svg.num(high)
    size = f'width="{wide}{unit}" height="{tall}{unit}"' if unit == "pt" else ""
    return (
        f'<svg class="map" xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {wide} {tall}" '
        f'font-family="{FAMILY}" fill="{svg.INK}">{"".join(board.pieces)}</svg>'
    )
