"""Every label of a map: which there are, where they were placed, and how they are drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import dist

from handbook.output.drawing import svg
from handbook.output.drawing.board import Board
from handbook.output.drawing.led_to import led_to
from handbook.output.drawing.metrics import width
from handbook.output.drawing.piped import led
from handbook.output.drawing.place import Candidate
from handbook.output.drawing.raster import Raster
from handbook.output.drawing.room_spots import Within
from handbook.output.drawing.sheet import Standing
from handbook.output.drawing.spots import Along, Beside, Spots, Taken
from handbook.output.drawing.words import BALL, LEADING, baseline, plain, row_height, tagged
from handbook.pages.plan.shapes import GROUND, Plan, Point
from handbook.tables import table

INTO = 0.8
"""Units that a leader line runs on, past the corner at which its label was placed."""

ON_STAIR = 0.2
"""How far up a flight its word is led from: where one starts, but clear of what stands there."""


def wanted(plan: Plan, board: Board, stands: Sequence[Standing], taken: Taken) -> Iterator[Spots]:
    """Yield every label of a map with the places that it may take."""
    frame, sheet = board.frame, board.sheet
    for stand in stands:
        if stand.entries:
            forms = tagged(stand.entries, sheet)
            others = [other.body for other in stands if other is not stand]
            yield Beside(
                forms,
                stand.mark.rank,
                taken,
                at=stand.at,
                reach=stand.reach,
                tags=len(stand.entries),
                body=stand.body,
                others=others,
            )
    yield from _along(plan, board, stands, taken)
    for flight in plan.flights:
        if not flight.word:
            continue
        (ax, ay), (bx, by) = frame.line((flight.foot, flight.end))
        at = (ax + (bx - ax) * ON_STAIR, ay + (by - ay) * ON_STAIR)
        yield Beside(plain(flight.word, sheet), 1, taken, at=at, reach=0.5)
    for room in plan.rooms:
        outline = frame.line(room.outline)
        inner = Raster(sheet.wide, frame.height)
        inner.take_inside(outline)
        free = inner.without(taken.hard)
        yield Within(plain(room.name, sheet, "Italic"), 0, taken, free=free, outline=outline)


def _along(plan: Plan, board: Board, stands: Sequence[Standing], taken: Taken) -> Iterator[Along]:
    """Yield the labels of ties and pipes."""
    looks, terse, frame = table("map_lines").values, board.sheet.terse, board.frame
    lines = [("tie", frame.line((tie.corner, tie.to)), tie.words) for tie in plan.ties]
    lines += [
        (pipe.kind, [*points], _short(pipe.label) if terse else pipe.label)
        for pipe, points in zip(plan.pipes, led(plan, frame, stands), strict=True)
    ]
    bodies = [stand.body for stand in stands]
    for number, (kind, points, words) in enumerate(lines):
        if words:
            others = [
                line
                for n, (other, line, _) in enumerate(lines)
                if n != number
                if other not in GROUND
            ]
            forms = plain(words, board.sheet)
            yield Along(
                forms,
                1,
                taken,
                points=points,
                thick=looks[kind]["width"],
                symbols=bodies,
                lines=others,
            )


def _short(label: str) -> str:
    return label.split(" ", 1)[0]


def numbered(placed: Sequence[Candidate]) -> dict[Candidate, int]:
    """Return the numbers of those labels that stand in the list, in reading order."""
    keyed = sorted((c for c in placed if c.form.keyed), key=lambda c: (round(c.top / 12), c.left))
    return {candidate: number for number, candidate in enumerate(keyed, 1)}


def draw(placed: Sequence[Candidate], board: Board) -> None:
    """Draw the labels, and their leader lines under everything else that is drawn later."""
    numbers = numbered(placed)
    for candidate in placed:
        if candidate in numbers:
            board.draw(ball(numbers[candidate], candidate.left, candidate.top, board.sheet.word))
        else:
            board.draw(_label(candidate, board))


def leaders(placed: Sequence[Candidate], stands: Sequence[Standing], size: float) -> list[str]:
    """Return the leader lines."""
    found = [_led(c.leader, stands, size) for c in placed if c.leader]
    return [svg.stroke(svg.path(line), "m-leader", 0.5) for line in found]


def _led(
    leader: tuple[Point, Point], stands: Sequence[Standing], size: float
) -> tuple[Point, Point]:
    """Return a leader line that runs up to its symbol, and on a little into the room round its
    label's words."""
    (ax, ay), (bx, by) = leader
    longer = 1 + INTO / (dist(*leader) or 1)
    return led_to((ax, ay), stands, size), (ax + (bx - ax) * longer, ay + (by - ay) * longer)


def _label(candidate: Candidate, board: Board) -> str:
    top, texts = candidate.top, []
    for row in candidate.form.rows:
        base = top + baseline(row)
        texts += [
            svg.text(run.text, candidate.left + run.left, base, run.size, run.face) for run in row
        ]
        top += row_height(row) + LEADING * board.sheet.word
    return svg.group("m-label", texts)


def ball(number: int, left: float, top: float, size: float) -> str:
    """Return a number in a ring, as it stands on the map and in the list."""
    half = size * BALL / 2
    x, y = left + half, top + half
    text = str(number)
    return svg.group(
        "m-number",
        (
            f'<circle cx="{svg.num(x)}" cy="{svg.num(y)}" r="{svg.num(half - 0.4)}" fill="#fff" '
            f'stroke="{svg.INK}" stroke-width="0.7"/>',
            svg.text(text, x - width(text, size) / 2, y + size * 0.34, size),
        ),
    )
