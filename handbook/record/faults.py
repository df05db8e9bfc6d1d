"""Errors of the fields, said in our words at their place in the file.

The validating library says where in the models a value did not fit; here that is followed down
the tree to a mark, and put into words that need no knowledge of models.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from handbook.measures import NotationError
from handbook.record import ids, no_break, shapes
from handbook.record.entry import Entry
from handbook.record.fault import Fault, Read
from handbook.record.fitting import fitted, known_in
from handbook.record.grammar.common import Place
from handbook.record.instead import group_meant, unit_meant, unit_said
from handbook.record.marks import MarkedDict, MarkedList, MarkedStr, Tree
from handbook.record.meant import (
    as_in,
    key_meant,
    listed,
    parted_by_a_comma,
    said_elsewhere,
    with_rest,
    word_meant,
)
from handbook.record.naming import id_meant, names_in
from handbook.record.problems import Mark, Problem
from handbook.record.reads import ReadsPoint
from handbook.record.whereabouts import are_words, in_place, says_where

ASKED = "did you mean "


class Faults:
    """Turns the errors of one file into problems.

    `models` says, by the identity of a tree's node, which entry the node was read as.
    """

    def __init__(self, tree: Tree, model: type[Entry], models: Mapping[int, type[Entry]]) -> None:
        self.read = Read(tree, model, models, known_in(tree, models), names_in(tree))

    def problems(self, errors: Iterable[Mapping[str, Any]]) -> Iterator[Problem]:
        """Yield a problem for each error of the validating library."""
        for error in errors:
            fault = Fault(self.read, error)
            if not fault.is_told_already:
                mark, message, hint = _SAID.get(error["type"], _other)(fault)
                hint = fault.hole_meant or hint
                yield Problem(mark, message, self._fitted(hint, fault))

    def _fitted(self, hint: str, fault: Fault) -> str:
        """Make what a hint shows to be written, between backticks, fit this record.

        What is asked back is the writer's own, and stays.
        """
        if hint.startswith(ASKED):
            return hint
        pieces = hint.split("`")
        kinds = [*reversed(fault.models), *(shapes.entries(fault.field) if fault.field else ())]
        for number in range(1, len(pieces), 2):
            shown = pieces[number]
            of_kind = [
                kind for kind in shapes.kinds(self.read.model) if shown == f"{{{kind.written}}}"
            ]
            for kind in (*of_kind, *kinds):
                pieces[number] = fitted(pieces[number], kind, self.read.known)
                if pieces[number] != shown:
                    break
        return "`".join(pieces)


Said = tuple[Mark, str, str]


def _unknown_key(fault: Fault) -> Said:
    """The node is the value under the unknown key; its entry is the model last met."""
    *outer, model = fault.models
    group = fault.way[-2] if len(fault.way) > 1 else None
    parted = parted_by_a_comma(group, fault.key, model) if isinstance(group, MarkedDict) else ""
    hint = parted or _place_meant(fault) or key_meant(fault.key, fault.node, model, outer)
    return fault.key_mark or fault.mark, f"`{fault.key}` is not a key here", hint


def _place_meant(fault: Fault) -> str:
    """Words under a key that says where are a place: beside others, or in the one that stands."""
    group = fault.way[-2] if len(fault.way) > 1 else None
    if not isinstance(group, MarkedDict) or not says_where(fault.key, fault.node, fault.models[-1]):
        return ""
    inner = in_place(with_rest(group, fault.key), fault.known, fault.names)
    if inner and "place" in group:
        return f"it belongs under `place`, as `{inner}`"
    return f"here it is `place: {{{inner}}}`" if inner else ""


def _missing_key(fault: Fault) -> Said:
    if isinstance(fault.error["loc"][-1], int):
        return _too_few(fault)
    hint = f"add `{shapes.example(fault.key, fault.field)}`" if fault.field else ""
    if fault.models[-1].written:
        hint = f"add `{fault.key}`{as_in(fault.models[-1])}"
    return _entry_mark(fault), f"`{fault.key}` is missing here", hint


def _too_few(fault: Fault) -> Said:
    stand = len(fault.error["input"])
    message = f"{fault.named}{stand} {'stands' if stand == 1 else 'stand'} here; more belong here"
    return fault.mark, message, f"write it{as_in(fault.models[-1])}"


def _entry_mark(fault: Fault) -> Mark:
    """Where an entry is named: its key, or in a list, and at the top, its first line."""
    if len(fault.way) > 1 and isinstance(fault.way[-2], MarkedDict):
        return fault.key_mark or fault.mark
    return fault.mark


def _wrong_word(fault: Fault) -> Said:
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
    if elsewhere := said_elsewhere(given, fault.key, fault.models[-1]):
        hint = f"{elsewhere}; `{fault.key}` is {_one_of(words)}"
    return fault.mark, f"{fault.named}{str(given)!r} is not known here", hint


def _one_of(words: list[str]) -> str:
    return f"one of {listed(words)}" if len(words) > 1 else f"write {listed(words) or 'a word'}"


def _not_a_list(fault: Fault) -> Said:
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


def _not_a_group(fault: Fault) -> Said:
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


def _group_meant(fault: Fault, given: str, kind: type[Entry]) -> str:
    if kind is Place and are_words(fault.node):
        inner = in_place(given, fault.known, fault.names)
        return f"{ASKED}`{fault.key}: {{{inner}}}`?" if inner else ""
    return group_meant(fault.key, given, kind, fault.known)


def _shape_mark(fault: Fault) -> Mark:
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


def _wrong_value(fault: Fault) -> Said:
    error = fault.error.get("ctx", {}).get("error")
    if isinstance(error, NotationError):
        return fault.mark, fault.named + error.message, _value_meant(fault, error) or error.hint
    return fault.mark, f"{fault.named}{error or fault.error['msg']}", ""


def _value_meant(fault: Fault, error: NotationError) -> str:
    """Ask for what was meant by one text that is no value here: a name, words, a bare number."""
    if not isinstance(fault.node, MarkedStr) or fault.field is None:
        return ""
    given, model = str(fault.node), fault.models[-1]
    kinds = ids.points_at(model, fault.key)
    if kinds and error.message.endswith("cannot be an id"):
        found = id_meant(given, kinds, fault.known, fault.names)
        return f"{ASKED}`{found}`?" if found else _ids_there(fault, kinds)
    if model is Place and shapes.has(fault.field, ReadsPoint) and are_words(fault.node):
        return _words_meant(fault, in_place(given, fault.known, fault.names))
    if error.message.endswith("has no unit"):
        return unit_meant(given, fault.field)
    said = unit_said(given, fault.field)
    return f"{ASKED}`{said}`?" if said else ""


def _ids_there(fault: Fault, kinds: ids.Kinds) -> str:
    """List what may be pointed at: a new id made of the words would lead nowhere."""
    fit = [name for name, kind in fault.known.items() if issubclass(kind, kinds)]
    fit += ids.always(kinds)
    return f"write an id that the record has: {listed(fit)}" if fit else ""


def _words_meant(fault: Fault, inner: str) -> str:
    """Put words that stand for a point under the key of the place that takes them."""
    key = inner.partition(":")[0]
    if key and key in fault.way[-2]:
        return f"words go under `{key}`, which stands here already"
    return f"{ASKED}`{inner}`?" if inner else ""


def _too_many(fault: Fault) -> Said:
    context = fault.error["ctx"]
    most = context.get("max_length")
    wanted = f"at most {most}" if most is not None else f"at least {context['min_length']}"
    message = f"{fault.named}{context['actual_length']} stand here; {wanted} can"
    return fault.mark, message, ""


def _other(fault: Fault) -> Said:
    given = fault.error["input"]
    said = f"{str(given)!r}" if isinstance(given, str) else _shape(given)
    hint = f"write it like `{shapes.example(fault.key, fault.field)}`" if fault.field else ""
    return fault.mark, f"{fault.named}{said} does not fit here", hint


_SAID: dict[str, Callable[[Fault], Said]] = {
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
