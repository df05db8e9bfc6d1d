"""What a field of the grammar may hold, read off its annotation, for hints and examples."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any, Literal, get_args, get_origin

from pydantic.fields import FieldInfo

from handbook import measures
from handbook.record.entry import Entry, key_of
from handbook.record.marks import MarkedStr, Tree
from handbook.record.notation import parse_id
from handbook.record.reads import Reads, ReadsPoint

MEASURES = (
    measures.Flow,
    measures.HeatRate,
    measures.Length,
    measures.PipeSize,
    measures.Pressure,
    measures.Slope,
    measures.Temperature,
    measures.Volume,
)


def keys(model: type[Entry]) -> list[str]:
    """Return the keys that an entry may have, as written in the file."""
    return [key_of(name) for name in model.model_fields]


def field_of(model: type[Entry], key: str) -> FieldInfo | None:
    """Return the field that is written with this key."""
    return next((f for name, f in model.model_fields.items() if key_of(name) == key), None)


def parts(annotation: object) -> Iterator[object]:
    """Yield an annotation and all that it is made of; entries are not looked into."""
    yield annotation
    if get_origin(annotation) is not Literal:
        for part in get_args(annotation):
            yield from parts(part)


def parts_of(field: FieldInfo) -> Iterator[Any]:
    """Yield all that a field's annotation is made of."""
    yield from field.metadata
    yield from parts(field.annotation)


def words(field: FieldInfo) -> list[str]:
    """Return the words that the field chooses from, if it is a choice."""
    return [w for p in parts_of(field) if get_origin(p) is Literal for w in get_args(p)]


def entries(field: FieldInfo) -> list[type[Entry]]:
    """Return the kinds of entry that the field may hold."""
    return [p for p in parts_of(field) if isinstance(p, type) and issubclass(p, Entry)]


@cache
def kinds(model: type[Entry]) -> tuple[type[Entry], ...]:
    """Return every kind of entry that one may hold at any depth, itself first."""
    met = {model: None}
    for each in (inner for field in model.model_fields.values() for inner in entries(field)):
        met |= dict.fromkeys(kinds(each))
    return tuple(met)


def has(field: FieldInfo, kind: type) -> bool:
    """Whether the field is made of something of this kind."""
    return any(isinstance(part, kind) for part in parts_of(field))


def needs_an_id(field: FieldInfo) -> bool:
    """Whether the field holds an id, or an entry that cannot do without one."""
    if any(isinstance(p, Reads) and p.parse is parse_id for p in parts_of(field)):
        return True
    inner = (f for kind in entries(field) for f in kind.model_fields.values())
    return any(needs_an_id(each) for each in inner if each.is_required())


def is_list(field: FieldInfo) -> bool:
    """Whether the field holds a list."""
    return any(get_origin(part) in (tuple, list) for part in parts_of(field))


def may_hold(field: FieldInfo, value: Tree) -> bool:
    """Whether what is written may stand in the field, by its shape: a measure is one text."""
    one_text = (p for p in parts_of(field) if isinstance(p, Reads) and p.kind in MEASURES)
    one = any(one_text) and not is_list(field)
    return isinstance(value, MarkedStr) or not one


def example(key: str, field: FieldInfo, depth: int = 2) -> str:
    """Show how the field is written, on one line: `at: [12 ft 6 in, 3 ft]`."""
    return f"{key}: {_value(field, depth)}"


def item_example(field: FieldInfo) -> str:
    """Show one value of the field, without its key; of a list, one item."""
    for kind in entries(field):
        return entry_example(kind)
    return _plain_value(field)


def entry_example(model: type[Entry], depth: int = 1) -> str:
    """Show an entry as its kind is written, or else the keys it needs: `id: W1`."""
    if model.written:
        return model.written
    needed = [(n, f) for n, f in model.model_fields.items() if f.is_required()]
    shown = needed or list(model.model_fields.items())[:1]
    return ", ".join(example(key_of(name), field, depth - 1) for name, field in shown[:2])


def _value(field: FieldInfo, depth: int) -> str:
    kinds = entries(field)
    if kinds and kinds[0].text_examples:
        value = kinds[0].text_examples[0]
    elif kinds and depth > 0:
        value = f"{{{entry_example(kinds[0], depth)}}}"
    else:
        value = "..." if kinds else _plain_value(field)
    if any(isinstance(part, ReadsPoint) for part in parts_of(field)) and is_list(field):
        value += ", ..."  # one point of an outline says little
    return f"[{value}]" if is_list(field) else value


def _plain_value(field: FieldInfo) -> str:
    if field.examples:
        return str(field.examples[0])
    for part in parts_of(field):
        if isinstance(part, Reads | ReadsPoint) and part.examples:
            return part.examples[0]
    choice = words(field)
    return str(choice[0]) if choice else "..."


def written(model: type[Entry], path: Sequence[str]) -> list[str]:
    """Show how what a path of keys leads to is written, as the lines of a record.

    Empty where the path leads to no field: it is not a path but words.
    """
    lines: list[str] = []
    pad = ""
    for key in path[:-1]:
        field = field_of(model, key)
        if field is None or not entries(field):
            return []
        lines.append(f"{pad}{key}:")
        if is_list(field):
            lines.append(f"{pad}  - id: ...")
            pad += "  "
        pad, model = pad + "  ", entries(field)[0]
    last = field_of(model, path[-1])
    return [*lines, *(pad + line for line in _last(path[-1], last))] if last else []


def _last(key: str, field: FieldInfo) -> list[str]:
    """Show one field, a long entry on the line below its key."""
    kinds = entries(field)
    if not kinds or not kinds[0].written:
        return [example(key, field)]
    return [f"{key}:", f"  {'- ' if is_list(field) else ''}{{{kinds[0].written}}}"]
