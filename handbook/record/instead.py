"""What was meant where a text cannot be read: a word for a hole, a group's only key, a bare number.

Each returns a hint, or nothing where it has none.
"""

from __future__ import annotations

import re

from pydantic.fields import FieldInfo

from handbook.measures import NotationError
from handbook.record import bounds, ids, shapes
from handbook.record.bounds import Within
from handbook.record.entry import Entry
from handbook.record.fitting import Known
from handbook.record.knowing import KnownMarker
from handbook.record.notation import ID_PATTERN
from handbook.record.reads import Reads

UNKNOWN = ("tbd", "?", "??", "todo", "to do", "not known", "don't know", "unk", "tba", "pending")
ABSENT = ("n/a", "na", "no", "nil", "-", "not there", "not any", "without")

UNITS_SAID = {
    "btu": "Btu/h",
    "btus": "Btu/h",
    "btu/hour": "Btu/h",
    "btu per hour": "Btu/h",
    "lb": "psi",
    "lbs": "psi",
    "pounds": "psi",
    "gals": "gal",
}
"""Units as people say them, for hints only: an input in "Btu" is meant an hour. Common practice,
no source."""


def hole_meant(text: str, field: FieldInfo) -> str:
    """Say how a record writes what somebody does not know, or did not find."""
    word = text.strip().lower()
    if word in UNKNOWN:
        return "what is not known is `unknown`, or its key is left out"
    may_be_absent = any(p.absent for p in shapes.parts_of(field) if isinstance(p, KnownMarker))
    if word in ABSENT and may_be_absent:
        return "if there isn't one, write `none`; what is not known is `unknown`"
    return "leave its key out, or write `unknown`" if word in ABSENT else ""


def group_meant(key: str, text: str, kind: type[Entry], there: Known) -> str:
    """Put a text that stands in a group's place under the key that it was most likely meant for.

    Of what has an id of its own the text is that id, or none of its keys: an example says more.
    """
    if not key or "id" in shapes.keys(kind):
        return ""
    inner, value = _points_there(text, kind, there), text.strip()
    if not inner and (needed := _needs(value, kind)):
        inner, value = needed
    inner = inner or _points(text, kind)
    return f"did you mean `{key}: {{{inner}: {value}}}`?" if inner else ""


def _points_there(text: str, kind: type[Entry], there: Known) -> str:
    """The key that may point at what the record has by this id."""
    found = there.get(text.strip())
    pointers = ((key, ids.points_at(kind, key)) for key in shapes.keys(kind))
    fit = (key for key, kinds in pointers if kinds and found and issubclass(found, kinds))
    return next(fit, "")


def _points(text: str, kind: type[Entry]) -> str:
    """The key that points on in the line, for an id that the record has not."""
    lines = [key for key in ("from", "to") if ids.points_at(kind, key)]
    return lines[0] if lines and re.fullmatch(ID_PATTERN.strip("^$"), text.strip()) else ""


def _needs(text: str, kind: type[Entry]) -> tuple[str, str] | None:
    """The only key that the group cannot do without, with the text if it can stand there."""
    needed = [key for key in shapes.keys(kind) if _is_needed(kind, key)]
    field = shapes.field_of(kind, needed[0]) if len(needed) == 1 else None
    reads = _reads(field) if field else None
    if field is None or reads is None:
        return None
    for value in (text, *_with_unit(text, field)):
        try:
            reads.parse(value)
        except NotationError:
            continue
        return needed[0], value
    return None


def _is_needed(kind: type[Entry], key: str) -> bool:
    field = shapes.field_of(kind, key)
    return field is not None and field.is_required()


def unit_meant(text: str, field: FieldInfo) -> str:
    """Ask whether a bare number was meant in the unit in which it would be usual."""
    like = _with_unit(text, field)
    return f"did you mean {' or '.join(f'`{each}`' for each in like)}?" if like else ""


def unit_said(text: str, field: FieldInfo) -> str:
    """Return a figure with the unit that the record knows for the one that was said, or nothing."""
    said = re.fullmatch(r"([\d.,/ -]*[\d.])\s*(\D+)", text.strip(), re.ASCII)
    unit = UNITS_SAID.get(" ".join(said[2].lower().split())) if said else None
    reads = _reads(field)
    if said is None or unit is None or reads is None:
        return ""
    figure = f"{said[1].replace(',', '')} {unit}"
    try:
        reads.parse(figure)
    except NotationError:
        return ""
    return figure


def whole_meant(text: str, field: FieldInfo | None) -> str:
    """Return a figure that a comma parted, put together, with the unit that was meant."""
    if field is None:
        return text
    return unit_said(text, field) or next(iter(_with_unit(text, field)), text)


def _with_unit(text: str, field: FieldInfo) -> tuple[str, ...]:
    within = next((part for part in shapes.parts_of(field) if isinstance(part, Within)), None)
    reads = _reads(field)
    if within is None or reads is None:
        return ()
    return bounds.with_unit(text, reads.parse, bounds.bounds(within.name, reads.parse))


def _reads(field: FieldInfo) -> Reads | None:
    return next((part for part in shapes.parts_of(field) if isinstance(part, Reads)), None)
