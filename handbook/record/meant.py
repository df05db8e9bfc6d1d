"""What was most likely meant by a key or a word that a record does not know: its hint."""

from __future__ import annotations

import re
from collections.abc import Iterable

from handbook.record import shapes
from handbook.record.entry import Entry
from handbook.record.instead import whole_meant
from handbook.record.marks import MarkedDict, MarkedStr, Tree
from handbook.record.other_words import key_for, word_for
from handbook.record.problems import nearest

MOST_CHOICES = 20


def key_meant(key: str, value: Tree, model: type[Entry], outer: list[type[Entry]]) -> str:
    """Say which key of the entry, of one inside it or of one around it was meant.

    What stands under the key says which: `at: 25 ft` is no point on a plan.
    """
    plain = key.strip().lower().replace("-", "_").replace(" ", "_")
    known = shapes.keys(model)
    one, many = plain.removesuffix("s"), f"{plain}s"
    for same in (plain, one, many):
        if same in known:
            return f"did you mean `{same}`?"
    return (
        _called_here(key, value, model)
        or _inside(plain, model)
        or _around(plain, outer)
        or _near(key, known)
        or f"is it indented under the right thing? Keys here are {listed(known)}{as_in(model)}"
    )


def _called_here(key: str, value: Tree, model: type[Entry]) -> str:
    fields = {name: shapes.field_of(model, name) for name in shapes.keys(model)}
    fit = [name for name, field in fields.items() if field and shapes.may_hold(field, value)]
    flat = [name for name in fit if (field := fields[name]) and not shapes.entries(field)]
    meant = (key_for(key, flat) if isinstance(value, MarkedStr) else []) or key_for(key, fit)
    if not meant:
        return ""
    if all(re.search(rf"\b{name}:", model.written) for name in meant):
        return f"here it is {_or(meant)}{as_in(model)}"
    field = fields[meant[0]]
    return f"here it is `{shapes.example(meant[0], field)}`" if field else ""


def _inside(plain: str, model: type[Entry]) -> str:
    for name in shapes.keys(model):
        field = shapes.field_of(model, name)
        for kind in shapes.entries(field) if field else []:
            if plain in shapes.keys(kind):
                return f"`{plain}` belongs under `{name}`"
    for name in shapes.keys(model):
        field = shapes.field_of(model, name)
        for kind in shapes.entries(field) if field else []:
            if kind.written and (meant := key_for(plain, shapes.keys(kind))):
                return f"it belongs under `{name}`, as `{meant[0]}`{as_in(kind)}"
    return ""


def _around(plain: str, outer: list[type[Entry]]) -> str:
    if any(plain in shapes.keys(each) for each in outer):
        return f"`{plain}` belongs further out: indent it less"
    return ""


def _near(key: str, known: list[str]) -> str:
    near = nearest(key, known)
    return f"did you mean `{near}`?" if near else ""


def word_meant(given: str, words: list[str]) -> str:
    """Return the words that were meant by one that is not among them, or nothing."""
    meant = word_for(given, words)
    near = nearest(given, words)
    return _or(meant or ([near] if near else []))


def said_elsewhere(given: str, key: str, model: type[Entry]) -> str:
    """Say under which other key of an entry a word belongs: a heater's `gas` is its `fuel`."""
    for other in shapes.keys(model):
        field = shapes.field_of(model, other)
        found = word_for(given, shapes.words(field)) if field and other != key else []
        if found:
            return f"is it its `{other}`? {_or(f'{other}: {word}' for word in found)}"
    return ""


def as_in(model: type[Entry]) -> str:
    """Point to how such an entry is written, where that is known."""
    return f", as in `{{{model.written}}}`" if model.written else ""


def listed(words: list[str]) -> str:
    """List words, not too many of them."""
    shown = ", ".join(words[:MOST_CHOICES])
    return f"{shown}, ..." if len(words) > MOST_CHOICES else shown


def _or(words: Iterable[str]) -> str:
    return " or ".join(f"`{word}`" for word in words)


def parted_by_a_comma(group: MarkedDict, key: str, model: type[Entry]) -> str:
    """Say that a comma inside braces ended the value before this key, where it stands alone."""
    before = _key_before(group, key)
    if not before:
        return ""
    value = str(group[before])
    if is_rest_of_a_number(group, key):
        whole = whole_meant(f"{value}{key}", shapes.field_of(model, before))
        unit = " and with its unit" if key[-1].isdigit() and not whole[-1].isdigit() else ""
        return f"write the number without its comma{unit}: `{before}: {whole}`"
    if tight := re.match(r"([a-z_]+):(\S.*)", key):
        return f"leave a space after the colon: `{tight[1]}: {tight[2]}`"
    whole = f"{value}, {key}".replace("'", "''")
    return f"the comma ended `{before}`; put text that has a comma in quotes: `'{whole}'`"


def is_rest_of_a_number(group: MarkedDict, key: str) -> bool:
    """Whether a key is what a comma cut off the number before it: `65,000 Btu/h`."""
    before = _key_before(group, key)
    return bool(before) and str(group[before])[-1].isdigit() and bool(re.match(r"\d{3}\b", key))


def with_rest(group: MarkedDict, key: str) -> str:
    """Return the text under a key, with what a comma inside braces cut off it."""
    after = list(group)[list(group).index(key) + 1 :][:1]
    rest = [each for each in after if _key_before(group, each) == key and ":" not in each]
    return ", ".join([str(group[key]), *rest])


def _key_before(group: MarkedDict, key: str) -> str:
    """Return the key before one that stands alone in the same line, if it has one text."""
    mark, keys = group.key_marks[key], list(group)
    before = keys[keys.index(key) - 1] if keys.index(key) else ""
    if not before or str(group[key]) or not isinstance(group[before], MarkedStr):
        return ""
    return before if group[before] and group.key_marks[before].line == mark.line else ""
