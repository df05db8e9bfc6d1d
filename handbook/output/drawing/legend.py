"""The legend: exactly the symbols and lines that are on the map, and the list of its numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from handbook.output.drawing import svg
from handbook.output.drawing.labels import ball, numbered
from handbook.output.drawing.lines import moved
from handbook.output.drawing.metrics import width
from handbook.output.drawing.place import Candidate
from handbook.output.drawing.sheet import Sheet, Standing
from handbook.output.drawing.standing import UNSEEN, by_number
from handbook.output.drawing.symbols import symbol
from handbook.output.drawing.words import BALL
from handbook.output.typography import glue
from handbook.pages.plan.shapes import Plan
from handbook.tables import table

SAMPLE = 26.0
"""Units that a sample of a line, or a symbol, takes before its words."""

SHARED = "one symbol, several tags: they stand too close together to draw apart"
NOT_SEEN = "nobody saw it: its place was told, or read off a drawing, and is about right"
NO_ROOM = "on the map, but too crowded to be named there"
MOVED = "the dot is where it is; its symbol had no room there"
RINGED = "what this map is about"


@dataclass(frozen=True)
class Entry:
    """A line of the legend: its sample, drawn with its middle at (0, 0) in `room` units, and its
    words."""

    sample: str
    words: str
    room: float = SAMPLE


def legend(
    plan: Plan, stands: Sequence[Standing], placed: Sequence[Candidate], sheet: Sheet, top: float
) -> tuple[str, float]:
    """Return the legend's SVG and the height down to which it reaches."""
    entries = (*_symbols(stands, sheet), *_lines(plan), *_remarks(stands, sheet))
    body, bottom = _set(entries, sheet, top)
    keys = [*_tags(placed, sheet), *_numbers(placed, sheet)]
    listed, bottom = _set(keys, sheet, bottom + (2.0 if keys else 0.0))
    return svg.group("m-legend", body) + (svg.group("m-keys", listed) if keys else ""), bottom


def _symbols(stands: Sequence[Standing], sheet: Sheet) -> Iterator[Entry]:
    known = table("map_marks").values
    found = {stand.mark.kind for stand in stands}
    for kind, looks in known.items():
        if kind in found:
            short = f"{looks['short']}: " if looks["short"] else ""
            yield Entry(symbol(looks["shape"], sheet.mark), short + looks["words"])


def _tags(placed: Sequence[Candidate], sheet: Sheet) -> Iterator[Entry]:
    """Yield the words of tags that stand on the map by themselves."""
    alone = {it.form.lead: it.form.says for it in placed if it.form.lead}
    for tag in sorted(alone, key=by_number):
        yield _words(tag, alone[tag], sheet)


def _words(sample: str, words: str, sheet: Sheet) -> Entry:
    """Return a line whose sample is itself words of the map, set as tags are."""
    wide = width(sample, sheet.tag, "Bold")
    text = svg.text(sample, -wide / 2, sheet.tag * 0.34, sheet.tag, "Bold")
    return Entry(text, words, max(wide + 6, SAMPLE))


def _numbers(placed: Sequence[Candidate], sheet: Sheet) -> Iterator[Entry]:
    half = sheet.word * BALL / 2
    for candidate, number in numbered(placed).items():
        yield Entry(ball(number, -half, -half, sheet.word), candidate.form.says)


def unnamed(names: Sequence[str], sheet: Sheet, top: float) -> tuple[str, float]:
    """Return the SVG of what the map has no room to name, and down to where it reaches."""
    if not names:
        return "", top
    words = f"{NO_ROOM}: {'; '.join(dict.fromkeys(names))}"
    listed, bottom = _set([Entry("", words, 0.0)], sheet, top)
    return svg.group("m-keys", listed), bottom


def _lines(plan: Plan) -> Iterator[Entry]:
    found = {pipe.kind for pipe in plan.pipes}
    found |= {"tie"} if plan.ties else set()
    found |= {"way"} if plan.ways else set()
    for kind, looks in table("map_lines").values.items():
        if kind in found:
            colour = svg.WAY if kind == "way" else svg.INK
            data = svg.path(((-SAMPLE / 2 + 3, 0.0), (SAMPLE / 2 - 3, 0.0)))
            line = svg.stroke(data, "m-sample", looks["width"], colour, looks["dash"])
            yield Entry(line, looks["words"])


def _remarks(stands: Sequence[Standing], sheet: Sheet) -> Iterator[Entry]:
    if any(stand.mark.ringed for stand in stands):
        half = sheet.mark / 2
        circle = f'<circle r="{svg.num(half)}" fill="none" stroke="{svg.WAY}" stroke-width="1.6"/>'
        yield Entry(circle, RINGED)
    if any(UNSEEN in word for stand in stands for entry in stand.entries for word in entry):
        yield _words(UNSEEN, NOT_SEEN, sheet)
    if any(stand.moved for stand in stands):
        yield Entry(moved((-SAMPLE / 4, 0.0), (SAMPLE / 4, 0.0)), MOVED)
    shared = [stand.mark for stand in stands if len(stand.entries) > 1]
    if shared:
        shape = table("map_marks").values[shared[0].kind]["shape"]
        yield Entry(symbol(shape, sheet.mark), SHARED)


def _set(entries: Sequence[Entry], sheet: Sheet, top: float) -> tuple[list[str], float]:
    """Set entries one after another, as many to a row as fit."""
    pitch = max(sheet.word * 1.45, sheet.mark * 1.15)
    limit = sheet.wide - 2 * sheet.margin
    pieces: list[str] = []
    left, row = 0.0, top
    for entry in entries:
        lines = _broken(glue(entry.words), limit - entry.room, sheet)
        wide = entry.room + max(width(line, sheet.word) for line in lines) + 12
        if left and left + wide > limit + 12:
            left, row = 0.0, row + pitch
        x, middle = sheet.margin + left, row + pitch / 2
        base = middle + sheet.word * 0.34
        texts = [
            svg.text(line, x + entry.room, base + i * sheet.word * 1.2, sheet.word)
            for i, line in enumerate(lines)
        ]
        inner = (svg.group("m-symbol", (entry.sample,), (x + entry.room / 2 - 1, middle)), *texts)
        pieces.append(svg.group("m-entry", inner))
        left += wide
        row += (len(lines) - 1) * sheet.word * 1.2
    return pieces, row + pitch if entries else top


def _broken(words: str, limit: float, sheet: Sheet) -> list[str]:
    """Break words into lines that are no longer than `limit`."""
    lines = [""]
    for word in words.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and width(longer, sheet.word) > limit:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines
