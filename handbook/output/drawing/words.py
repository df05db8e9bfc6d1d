"""The forms that a label may take: on one line, on several, or a number keyed to a list."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from handbook.output.drawing.metrics import DESCENT, ascent, width
from handbook.output.drawing.sheet import Sheet
from handbook.output.typography import glue

GAP = 0.3
"""Between a tag and the words behind it, and between rows, as a share of the type size."""

BALL = 1.62
"""Side of a keyed number's ring, as a share of the type size; two digits fit in it."""

PER_ROW = (1, 2, 3, 4, 6)
"""How many tags may stand in a row beside a symbol that several things share."""


@dataclass(frozen=True)
class Run:
    """A piece of text in a row: where it starts from the row's left, its size and weight."""

    text: str
    left: float
    size: float
    bold: bool = False


@dataclass(frozen=True)
class Form:
    """One way to set a label. `dear` is what it costs beside the best; a `keyed` form is the
    ring for a number, whose words then stand in the list."""

    rows: tuple[tuple[Run, ...], ...]
    width: float
    height: float
    dear: float = 0.0
    keyed: bool = False
    says: str = ""


def tagged(entries: Iterable[tuple[str, str]], sheet: Sheet) -> list[Form]:
    """Return the forms of a mark's label, from its (tag, words)."""
    listed = list(entries)
    forms = []
    if len(listed) == 1:
        (tag, words) = listed[0]
        forms = [_form([row], sheet, cost) for cost, row in _one_row(tag, words)]
        forms += [_form(rows, sheet, 0.5 + len(rows) * 0.2) for rows in _rows(tag, words)]
    elif any(words for _, words in listed):
        forms = [_form([[(tag, True), (words, False)] for tag, words in listed], sheet)]
    else:
        tags = [tag for tag, _ in listed]
        for count in PER_ROW:
            rows = [tags[i : i + count] for i in range(0, len(tags), count)]
            if count <= len(tags):
                text = [[(" ".join(row), True)] for row in rows]
                forms.append(_form(text, sheet, abs(len(rows) - 2) * 0.4))
    says = "; ".join(" ".join(filter(None, entry)) for entry in listed)
    return _with_number(forms, sheet, says)


def plain(words: str, sheet: Sheet) -> list[Form]:
    """Return the forms of words without a tag: on one line, or broken into more."""
    forms = [_form([[(words, False)]], sheet)]
    forms += [_form(rows, sheet, 0.4 * len(rows)) for rows in _rows("", words)]
    return _with_number(forms, sheet, words)


def _with_number(forms: list[Form], sheet: Sheet, says: str) -> list[Form]:
    """Add the number, where it is narrower than the narrowest words."""
    side = sheet.word * BALL
    if min(form.width for form in forms) > side * 1.6:
        forms.append(Form((), side, side, 12.0, keyed=True, says=says))
    return forms


def _one_row(tag: str, words: str) -> Iterator[tuple[float, list[tuple[str, bool]]]]:
    yield 0.0, [(tag, True), (words, False)]


def _rows(tag: str, words: str) -> Iterator[list[list[tuple[str, bool]]]]:
    """Yield the ways to set a tag and its words in two and in three rows."""
    broken = words.split(" ")
    if tag and words:
        yield [[(tag, True)], [(words, False)]]
    for count in (2, 3):
        if len(broken) >= count:
            rows = [[(row, False)] for row in _balanced(broken, count)]
            yield [[(tag, True)], *rows] if tag else rows


def _balanced(words: list[str], count: int) -> list[str]:
    """Break words into `count` rows, the longest as short as can be."""
    if count == 1:
        return [" ".join(words)]
    ways = [
        [" ".join(words[:cut]), *_balanced(words[cut:], count - 1)]
        for cut in range(1, len(words) - count + 2)
    ]
    return min(ways, key=lambda rows: max(map(len, rows)))


def _form(rows: Iterable[list[tuple[str, bool]]], sheet: Sheet, dear: float = 0.0) -> Form:
    made = tuple(_row(row, sheet) for row in rows)
    wide = max(run.left + width(run.text, run.size, bold=run.bold) for row in made for run in row)
    high = sum(row_height(row) for row in made) + GAP * sheet.word * (len(made) - 1)
    return Form(made, wide, high, dear)


def _row(texts: Iterable[tuple[str, bool]], sheet: Sheet) -> tuple[Run, ...]:
    runs: list[Run] = []
    left = 0.0
    for text, bold in texts:
        if not text:
            continue
        size = sheet.tag if bold else sheet.word
        runs.append(Run(glue(text), round(left, 2), size, bold))
        left += width(text, size, bold=bold) + GAP * size
    return tuple(runs)


def row_height(row: tuple[Run, ...]) -> float:
    """Return how high a row is, from the top of its tallest to the foot of its deepest letter."""
    return max(ascent(run.text, run.size) + DESCENT * run.size for run in row)


def baseline(row: tuple[Run, ...]) -> float:
    """Return how far below the top of a row its baseline lies."""
    return max(ascent(run.text, run.size) for run in row)
