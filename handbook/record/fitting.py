"""An example made to fit a record: a free id, and rooms and things that this record has.

Whoever copies an example as it stands must not get a second slip for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from handbook.record import ids, shapes
from handbook.record.grammar.places import OUTSIDE
from handbook.record.marks import MarkedDict, MarkedList, MarkedStr, Tree
from handbook.record.problems import RecordError
from handbook.record.tree import tree_of

if TYPE_CHECKING:
    from handbook.record.entry import Entry

Known = Mapping[str, "type[Entry]"]
"""What kind of entry has each id of a record."""


def known(record: Entry) -> Known:
    """Return the ids of a record that could be read."""
    return {name: type(entry) for name, entry, _ in ids.declared(record)}


def known_in(tree: Tree, models: Mapping[int, type[Entry]]) -> Known:
    """Return the ids in the tree of a record with faults; `models` says what was read as what."""
    found: dict[str, type[Entry]] = {}
    left = [tree]
    while left:
        node = left.pop()
        if isinstance(node, MarkedStr):
            continue
        name = node.get("id") if isinstance(node, MarkedDict) else None
        if isinstance(name, MarkedStr) and id(node) in models:
            found[str(name)] = models[id(node)]
        left += reversed(list(node.values() if isinstance(node, MarkedDict) else node))
    return found


def fitted(example: str, model: type[Entry], there: Known) -> str:
    """Return an example of keys of `model` with its ids made to fit; other text as it is."""
    try:
        tree = tree_of(example, "")
    except RecordError:
        return example
    if not isinstance(tree, MarkedDict) or not set(tree) <= set(shapes.keys(model)):
        return example
    words = list(_words(tree, model))
    new = _new_words(words, there)
    lines = example.split("\n")
    for word, _ in sorted(words, key=lambda each: each[0].mark, reverse=True):
        at = word.mark.column - 1
        line = lines[word.mark.line - 1]
        lines[word.mark.line - 1] = line[:at] + new[word] + line[at + len(word) :]
    return "\n".join(lines)


Word = tuple[MarkedStr, ids.Kinds | None]
"""An id in an example: one that it gives (None), or one that it points at, and what it may be."""


def _new_words(words: Iterable[Word], there: Known) -> dict[str, str]:
    """Return what to write for each id of an example; the same for the same."""
    words = list(words)
    taken = {name.casefold() for name in (*there, *ids.TAKEN)}
    # What the record has by the example's own word is that, so that no other word becomes it too.
    given = {word for word, kinds in words if kinds is None}
    new = {
        str(word): str(word)
        for word, kinds in words
        if kinds and word not in given and _may_be(word, kinds, there)
    }
    for word, kinds in words:
        if word not in new:
            used = new.values()
            new[word] = _one_of(word, kinds, there, used) if kinds else free(word, taken)
    return new


def _words(tree: MarkedDict, model: type[Entry]) -> Iterator[Word]:
    """Yield each id of an example."""
    for key, value in tree.items():
        field = shapes.field_of(model, key)
        inner = shapes.entries(field)[:1] if field else []
        kinds = ids.may_be(model, key)
        for each in value if isinstance(value, MarkedList) else (value,):
            if isinstance(each, MarkedDict) and inner:
                yield from _words(each, inner[0])
            elif each == OUTSIDE:
                continue  # every record has it
            elif isinstance(each, MarkedStr) and (key == "id" or kinds) and each.strip("."):
                yield each, kinds


def free(name: str, taken: set[str]) -> str:
    """Return the id, or the first of its kind that nothing in the record has."""
    if name.casefold() not in taken:
        return name
    head = name.rstrip("0123456789") if name[-1].isdigit() else f"{name}-"
    number = 2
    while f"{head}{number}".casefold() in taken:
        number += 1
    return f"{head}{number}"


def _one_of(name: str, kinds: ids.Kinds, there: Known, used: Iterable[str]) -> str:
    """Return an id of the record that may stand here, one like the example's first."""
    left = [each for each in there if _may_be(each, kinds, there) and each not in used]
    alike = [each for each in left if _letters(each) == _letters(name)]
    return next(iter((*alike, *left, name)))


def _may_be(name: str, kinds: ids.Kinds, there: Known) -> bool:
    return name in there and issubclass(there[name], kinds)


def _letters(name: str) -> str:
    return name.rstrip("0123456789").casefold()
