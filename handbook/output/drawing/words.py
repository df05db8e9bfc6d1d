"""The forms that a label may take: on one line, on several, or a number keyed to a list."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from handbook.output.drawing.metrics import DESCENT, Face, ascent, width
from handbook.output.drawing.sheet import Sheet
from handbook.output.typography import glue

SPACE, LEADING = 0.3, 0.12
"""Between a tag and the words behind it, and between rows, as shares of the type size."""

BALL = 1.62
"""Side of a keyed number's ring, as a share of the type size; two digits fit in it."""

TAG_ALONE = 2.0
"""What it costs to set a tag without its words."""

PER_ROW = (1, 2, 3, 4, 6)
"""How many tags may stand in a row beside a symbol that several things share."""


@dataclass(frozen=True)
class Run:
    """A piece of text in a row: where it starts from the row's left, its size and face."""

    text: str
    left: float
    size: float
    face: Face = "Regular"


@dataclass(frozen=True)
class Form:
    """One way to set a label. `dear` is what it costs beside the best.

    Where not all words stand on the map, `says` is what the list says: behind the number of a
    `keyed` form, which is a ring, or behind the tag `lead`, which is all that stands there.
    """

    rows: tuple[tuple[Run, ...], ...]
    width: float
    height: float
    dear: float = 0.0
    keyed: bool = False
    says: str = ""
    lead: str = ""


Row = list[tuple[str, Face]]
"""The pieces of one row: their words, and the face that they are set in."""


def tagged(entries: Iterable[tuple[str, str]], sheet: Sheet) -> list[Form]:
    """Return the forms of a mark's label, from its (tag, words)."""
    listed = list(entries)
    if len(listed) == 1:
        forms = _one(*listed[0], sheet)
        if all(listed[0]):
            return [*forms, _tag_alone(*listed[0], sheet)]
    elif any(words for _, words in listed):
        forms = [_form([[(tag, "Bold"), (words, "Regular")] for tag, words in listed], sheet)]
    else:
        forms = list(_many([tag for tag, _ in listed], sheet))
    says = "; ".join(" ".join(filter(None, entry)) for entry in listed)
    return _with_number(forms, sheet, says)


def plain(words: str, sheet: Sheet, face: Face = "Regular") -> list[Form]:
    """Return the forms of words without a tag: on one line, or broken into more."""
    forms = [_form([[(words, face)]], sheet)]
    forms += [_form(rows, sheet, 0.4 * len(rows)) for rows in _broken(words, face)]
    return _with_number(forms, sheet, words, 5.0 if face == "Italic" else 12.0)


def said(forms: Iterable[Form]) -> str:
    """Return all the words of a label, from its first form, which has them all."""
    rows = next(iter(forms)).rows
    return "; ".join(" ".join(run.text for run in row) for row in rows)


def _with_number(forms: list[Form], sheet: Sheet, says: str, dear: float = 12.0) -> list[Form]:
    """Add the number, where it is narrower than the narrowest words."""
    side = sheet.word * BALL
    if min(form.width for form in forms) > side * 1.6:
        forms.append(Form((), side, side, dear, keyed=True, says=says))
    return forms


def _one(tag: str, words: str, sheet: Sheet) -> list[Form]:
    """Return the forms of one tag and its words: in one row, or the words below the tag."""
    forms = [_form([[(tag, "Bold"), (words, "Regular")]], sheet)]
    head: list[Row] = [[(tag, "Bold")]] if tag else []
    if tag and words:
        forms.append(_form([*head, [(words, "Regular")]], sheet, 0.9))
    forms += [
        _form([*head, *rows], sheet, 0.7 + 0.2 * len(rows)) for rows in _broken(words, "Regular")
    ]
    return forms


def _tag_alone(tag: str, words: str, sheet: Sheet) -> Form:
    """Return the tag by itself; its words stand in the list."""
    return replace(_form([[(tag, "Bold")]], sheet, TAG_ALONE), says=words, lead=tag)


def _many(tags: list[str], sheet: Sheet) -> Iterator[Form]:
    """Yield several tags in one, two or more rows."""
    for count in PER_ROW:
        if count <= len(tags):
            rows = [" ".join(tags[i : i + count]) for i in range(0, len(tags), count)]
            yield _form([[(row, "Bold")] for row in rows], sheet, abs(len(rows) - 2) * 0.4)


def _broken(words: str, face: Face) -> Iterator[list[Row]]:
    """Yield words broken into two and into three rows."""
    pieces = glue(words).split(" ")
    for count in (2, 3):
        if len(pieces) >= count:
            yield [[(row, face)] for row in _balanced(pieces, count)]


def _balanced(words: list[str], count: int) -> list[str]:
    """Break words into `count` rows, the longest as short as can be."""
    if count == 1:
        return [" ".join(words)]
    ways = [
        [" ".join(words[:cut]), *_balanced(words[cut:], count - 1)]
        for cut in range(1, len(words) - count + 2)
    ]
    return min(ways, key=lambda rows: max(map(len, rows)))


def _form(rows: Iterable[Row], sheet: Sheet, dear: float = 0.0) -> Form:
    made = tuple(_row(row, sheet) for row in rows)
    wide = max(run.left + width(run.text, run.size, run.face) for row in made for run in row)
    high = sum(row_height(row) for row in made) + LEADING * sheet.word * (len(made) - 1)
    return Form(made, wide, high, dear)


def _row(texts: Row, sheet: Sheet) -> tuple[Run, ...]:
    runs: list[Run] = []
    left = 0.0
    for text, face in texts:
        if not text:
            continue
        size = sheet.tag if face == "Bold" else sheet.word
        runs.append(Run(glue(text), round(left, 2), size, face))
        left += width(text, size, face) + SPACE * size
    return tuple(runs)


def row_height(row: tuple[Run, ...]) -> float:
    """Return how high a row is, from the top of its tallest to the foot of its deepest letter."""
    return max(ascent(run.text, run.size) + DESCENT * run.size for run in row)


def baseline(row: tuple[Run, ...]) -> float:
    """Return how far below the top of a row its baseline lies."""
    return max(ascent(run.text, run.size) for run in row)
