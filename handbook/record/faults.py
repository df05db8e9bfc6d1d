"""Errors of the fields, said in our words at their place in the file.

The validating library says where in the models a value did not fit; here that is followed down
the tree to a mark, and put into words that need no knowledge of models.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from pydantic.fields import FieldInfo

from handbook.measures import NotationError
from handbook.record import ids, no_break, shapes
from handbook.record.entry import Entry
from handbook.record.fitting import fitted, known_in
from handbook.record.grammar.common import Place
from handbook.record.instead import group_meant, hole_meant, unit_meant, unit_said
from handbook.record.marks import MarkedDict, MarkedList, MarkedStr, Tree, child
from handbook.record.meant import (
    as_in,
    is_rest_of_a_number,
    key_meant,
    listed,
    parted_by_a_comma,
    word_meant,
)
from handbook.record.naming import id_meant, names_in
from handbook.record.problems import Mark, Problem, nearest
from handbook.record.reads import ReadsPoint
from handbook.record.whereabouts import are_words, in_place, says_where

ASKED = "did you mean "


class Faults:
    """Turns the errors of one file into problems.

    `models` says, by the identity of a tree's node, which entry the node was read as.
    """

    def __init__(self, tree: Tree, model: type[Entry], models: Mapping[int, type[Entry]]) -> None:
        self.tree, self.model, self.models = tree, model, models
        self.known, self.names = known_in(tree, models), names_in(tree)

    def problems(self, errors: Iterable[Mapping[str, Any]]) -> Iterator[Problem]:
        """Yield a problem for each error of the validating library."""
        for error in errors:
            fault = _Fault(self, error)
            if not fault.is_told_already:
                mark, message, hint = _SAID.get(error["type"], _other)(fault)
                hint = fault.hole_meant or hint
                yield Problem(mark, message, self._fitted(hint, fault))

    def _fitted(self, hint: str, fault: _Fault) -> str:
        """Make what a hint shows to be written, between backticks, fit this record.

        What is asked back is the writer's own, and stays.
        """
        if hint.startswith(ASKED):
            return hint
        pieces = hint.split("`")
        kinds = [*reversed(fault.models), *(shapes.entries(fault.field) if fault.field else ())]
        for number in range(1, len(pieces), 2):
            shown = pieces[number]
            of_kind = [kind for kind in shapes.kinds(self.model) if shown == f"{{{kind.written}}}"]
            for kind in (*of_kind, *kinds):
                pieces[number] = fitted(pieces[number], kind, self.known)
                if pieces[number] != shown:
                    break
        return "`".join(pieces)


class _Fault:
    """One error: the way down to it, the key it is about, and the field that was meant."""

    def __init__(self, faults: Faults, error: Mapping[str, Any]) -> None:
        self.error = error
        self.known, self.names = faults.known, faults.names
        self.way: list[Tree] = [faults.tree]
        self.key_mark: Mark | None = None
        self.key = ""
        self.models = [faults.models.get(id(faults.tree), faults.model)]
        self.field: FieldInfo | None = None
        for part in error["loc"]:
            self._step(part, faults.models)

    def _step(self, part: str | int, models: Mapping[int, type[Entry]]) -> None:
        node = self.way[-1]
        if isinstance(part, str):
            self.field = shapes.field_of(self.models[-1], part) or self.field
            self.key = part
        if isinstance(node, MarkedDict) and isinstance(part, str):
            self.key_mark = node.key_marks.get(part, self.key_mark)
        inner = child(node, part)
        if inner is None:
            return
        self.way.append(inner)
        if id(inner) in models:
            self.models.append(models[id(inner)])

    @property
    def node(self) -> Tree:
        return self.way[-1]

    @property
    def mark(self) -> Mark:
        return self.node.mark

    @property
    def is_told_already(self) -> bool:
        """Whether another error says it: about the key that is meant, or a number's rest."""
        kind = self.error["type"]
        return (kind == "missing" and self.is_misspelt) or (
            kind == "value_error" and self.is_cut_by_a_comma
        )

    @property
    def is_cut_by_a_comma(self) -> bool:
        """Whether a comma between braces cut a number in two here, which its rest reports."""
        group = self.way[-2] if len(self.way) > 1 else None
        if not isinstance(group, MarkedDict) or self.key not in group:
            return False
        after = list(group)[list(group).index(self.key) + 1 :][:1]
        return bool(after) and is_rest_of_a_number(group, after[0])

    @property
    def is_misspelt(self) -> bool:
        """Whether a missing key stands there after all, misspelt, which is reported already."""
        known = shapes.keys(self.models[-1])
        given = self.node if isinstance(self.node, MarkedDict) else {}
        return nearest(self.key, [key for key in given if key not in known]) is not None

    @property
    def hole_meant(self) -> str:
        """What to write where the text says that something is not known, or is not there."""
        is_unknown_key = self.error["type"] == "extra_forbidden"
        if self.field is None or is_unknown_key or not isinstance(self.node, MarkedStr):
            return ""
        return hole_meant(str(self.node), self.field)

    @property
    def named(self) -> str:
        return f"`{self.key}`: " if self.key else ""


Said = tuple[Mark, str, str]


def _unknown_key(fault: _Fault) -> Said:
    """The node is the value under the unknown key; its entry is the model last met."""
    *outer, model = fault.models
    group = fault.way[-2] if len(fault.way) > 1 else None
    parted = parted_by_a_comma(group, fault.key, model) if isinstance(group, MarkedDict) else ""
    hint = parted or _place_meant(fault) or key_meant(fault.key, fault.node, model, outer)
    return fault.key_mark or fault.mark, f"`{fault.key}` is not a key here", hint


def _place_meant(fault: _Fault) -> str:
    """Words under a key that says where are a place: beside others, or in the one that stands."""
    group = fault.way[-2] if len(fault.way) > 1 else None
    if not isinstance(group, MarkedDict) or not says_where(fault.key, fault.node, fault.models[-1]):
        return ""
    inner = in_place(str(fault.node), fault.known, fault.names)
    if inner and "place" in group:
        return f"it belongs under `place`, as `{inner}`"
    return f"here it is `place: {{{inner}}}`" if inner else ""


def _missing_key(fault: _Fault) -> Said:
    if isinstance(fault.error["loc"][-1], int):
        return _too_few(fault)
    hint = f"add `{shapes.example(fault.key, fault.field)}`" if fault.field else ""
    if fault.models[-1].written:
        hint = f"add `{fault.key}`{as_in(fault.models[-1])}"
    return _entry_mark(fault), f"`{fault.key}` is missing here", hint


def _too_few(fault: _Fault) -> Said:
    stand = len(fault.error["input"])
    message = f"{fault.named}{stand} {'stands' if stand == 1 else 'stand'} here; more belong here"
    return fault.mark, message, f"write it{as_in(fault.models[-1])}"


def _entry_mark(fault: _Fault) -> Mark:
    """Where an entry is named: its key, or in a list, and at the top, its first line."""
    if len(fault.way) > 1 and isinstance(fault.way[-2], MarkedDict):
        return fault.key_mark or fault.mark
    return fault.mark


def _wrong_word(fault: _Fault) -> Said:
    words = shapes.words(fault.field) if fault.field else []
    given = fault.error["input"]
    if not isinstance(given, str):
        return (
            fault.mark,
            f"{fault.named}{_shape(given)} stands where one word belongs",
            _one_of(words),
        )
    if not given.strip():
        return fault.mark, f"{fault.named}nothing is written here", _one_of(words)
    hint = _one_of(words)
    meant = word_meant(given, words)
    if meant and len(words) > 1:
        hint = f"did you mean {meant}? It is {hint}"
    return fault.mark, f"{fault.named}{str(given)!r} is not known here", hint


def _one_of(words: list[str]) -> str:
    return f"one of {listed(words)}" if len(words) > 1 else f"write {listed(words) or 'a word'}"


def _not_a_list(fault: _Fault) -> Said:
    given = fault.error["input"]
    if fault.field and shapes.entries(fault.field):
        hint = f"start each item with a dash: `- {{{shapes.item_example(fault.field)}}}`"
    else:
        shown = shapes.example(fault.key, fault.field) if fault.field else ""
        if fault.key and isinstance(given, str) and re.fullmatch(r"[\w-]+", given):
            shown = f"{fault.key}: [{given}]"
        hint = f"write `{shown}`" if shown else ""
    hint += _or_nothing(given)
    return _shape_mark(fault), f"{fault.named}a list belongs here, but {_stands(given)}", hint


def _not_a_group(fault: _Fault) -> Said:
    given = fault.error["input"]
    kinds = shapes.entries(fault.field) if fault.field and fault.key else [fault.models[-1]]
    hint = ""
    if kinds:
        shown = shapes.entry_example(kinds[0])
        hint = f"write its keys under it, indented, or in braces: `{{{shown}}}`"
    if isinstance(given, list):
        hint += "; it is only one, so without a dash"
    if kinds and kinds[0].text_examples:
        hint += f"; or in short `{kinds[0].text_examples[0]}`"
    elif kinds and isinstance(given, str):
        hint = no_break.in_text(given) or _group_meant(fault, given, kinds[0]) or hint
    hint += _or_nothing(given)
    if not fault.key:
        hint = "start with `house:`, and write its keys under it"
    return (
        _shape_mark(fault),
        f"{fault.named}a group of keys belongs here, but {_stands(given)}",
        hint,
    )


def _group_meant(fault: _Fault, given: str, kind: type[Entry]) -> str:
    if kind is Place and are_words(fault.node):
        inner = in_place(given, fault.known, fault.names)
        return f"{ASKED}`{fault.key}: {{{inner}}}`?" if inner else ""
    return group_meant(fault.key, given, kind, fault.known)


def _shape_mark(fault: _Fault) -> Mark:
    return fault.mark if isinstance(fault.node, MarkedStr | MarkedList) else _entry_mark(fault)


def _or_nothing(given: object) -> str:
    empty = isinstance(given, str) and not given.strip()
    return ", or leave the key out" if empty else ""


def _stands(given: object) -> str:
    if isinstance(given, str) and not given.strip():
        return "nothing is written"
    return f"{_shape(given)} stands here"


def _shape(given: object) -> str:
    if isinstance(given, Mapping):
        return "a group of keys"
    return "a list" if isinstance(given, list | tuple) else "one text"


def _wrong_value(fault: _Fault) -> Said:
    error = fault.error.get("ctx", {}).get("error")
    if isinstance(error, NotationError):
        return fault.mark, fault.named + error.message, _value_meant(fault, error) or error.hint
    return fault.mark, f"{fault.named}{error or fault.error['msg']}", ""


def _value_meant(fault: _Fault, error: NotationError) -> str:
    """Ask for what was meant by one text that is no value here: a name, words, a bare number."""
    if not isinstance(fault.node, MarkedStr) or fault.field is None:
        return ""
    given, model = str(fault.node), fault.models[-1]
    kinds = ids.points_at(model, fault.key)
    if kinds and error.message.endswith("cannot be an id"):
        found = id_meant(given, kinds, fault.known, fault.names)
        return f"{ASKED}`{found}`?" if found else ""
    if model is Place and shapes.has(fault.field, ReadsPoint) and are_words(fault.node):
        return _words_meant(fault, in_place(given, fault.known, fault.names))
    if error.message.endswith("has no unit"):
        return unit_meant(given, fault.field)
    said = unit_said(given, fault.field)
    return f"{ASKED}`{said}`?" if said else ""


def _words_meant(fault: _Fault, inner: str) -> str:
    """Put words that stand for a point under the key of the place that takes them."""
    key = inner.partition(":")[0]
    if key and key in fault.way[-2]:
        return f"words go under `{key}`, which stands here already"
    return f"{ASKED}`{inner}`?" if inner else ""


def _too_many(fault: _Fault) -> Said:
    context = fault.error["ctx"]
    most = context.get("max_length")
    wanted = f"at most {most}" if most is not None else f"at least {context['min_length']}"
    message = f"{fault.named}{context['actual_length']} stand here; {wanted} can"
    return fault.mark, message, ""


def _other(fault: _Fault) -> Said:
    given = fault.error["input"]
    said = f"{str(given)!r}" if isinstance(given, str) else _shape(given)
    hint = f"write it like `{shapes.example(fault.key, fault.field)}`" if fault.field else ""
    return fault.mark, f"{fault.named}{said} does not fit here", hint


_SAID: dict[str, Callable[[_Fault], Said]] = {
    "extra_forbidden": _unknown_key,
    "missing": _missing_key,
    "literal_error": _wrong_word,
    "tuple_type": _not_a_list,
    "list_type": _not_a_list,
    "model_type": _not_a_group,
    "dict_type": _not_a_group,
    "value_error": _wrong_value,
    "assertion_error": _wrong_value,
    "too_long": _too_many,
    "too_short": _too_many,
}
