"""What is left of a file without what could not be read, so that the rest is checked all the same.

Only the least that makes a fault go away is taken out: a key, or the whole thing where its id is
wrong. The group it stood in keeps it as `lost`: a later check must not take a fact that is there
but wrong for one that is not there. What is left is never handed on as a record.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from handbook.record import shapes
from handbook.record.entry import Entry
from handbook.record.marks import MarkedDict, MarkedList, MarkedStr, Tree, child
from handbook.record.problems import Mark
from handbook.record.tree import tree_of

Way = tuple[str | int, ...]
_Step = tuple[MarkedDict | MarkedList, str | int]


def leave_out(tree: Tree, ways: Iterable[Way]) -> None:
    """Take what these ways lead to out of the tree; the file as a whole is left."""
    found: dict[tuple[int, str | int], list[_Step]] = {}
    for way in ways:
        steps = _least(_steps(tree, way))
        if steps:
            group, part = steps[-1]
            found[id(group), part] = steps
    for steps in sorted(found.values(), key=_last_item_first):
        _take_out(steps)


def _last_item_first(steps: list[_Step]) -> int:
    _, part = steps[-1]
    return -part if isinstance(part, int) else 0


def _take_out(steps: list[_Step]) -> None:
    group, part = steps[-1]
    inner = child(group, part)
    if inner is None:
        return
    for owner, key in reversed(steps):
        if isinstance(owner, MarkedDict):
            owner.lost.append((str(key), inner))
            break
    if isinstance(group, MarkedDict):
        del group[str(part)]
    elif isinstance(part, int):
        del group[part]


def _steps(tree: Tree, way: Way) -> list[_Step]:
    """Return the groups and lists on the way, each with the part that leads on."""
    steps: list[_Step] = []
    for part in way:
        inner = child(tree, part)
        if inner is not None and isinstance(tree, MarkedDict | MarkedList):
            steps.append((tree, part))
            tree = inner
    return steps


def _least(steps: list[_Step]) -> list[_Step]:
    """Stop at what can go by itself: of a list of words or points none can, the list goes."""
    while steps and isinstance(steps[-1][0], MarkedList) and not _is_group(*steps[-1]):
        steps = steps[:-1]
    return steps


def _is_group(group: MarkedDict | MarkedList, part: str | int) -> bool:
    return isinstance(child(group, part), MarkedDict)


def mend(
    tree: Tree, errors: Iterable[Mapping[str, Any]], models: Mapping[int, type[Entry]]
) -> None:
    """Take out what the errors of the validating library are about.

    What lacks a key that it needs is given an example of it, so that the rest of it is checked;
    a thing without an id, or a way that leads nowhere, is taken out itself. `models` says, by the
    identity of a tree's node, which entry the node was read as.
    """
    ways = []
    for error in errors:
        way: Way = error["loc"]
        if error["type"] == "missing":
            way = way[:-1]
            if _stand_in(tree, way, str(error["loc"][-1]), models):
                continue
        ways.append(way)
    leave_out(tree, ways)


def _stand_in(tree: Tree, way: Way, key: str, models: Mapping[int, type[Entry]]) -> bool:
    steps = _steps(tree, way)
    node = child(*steps[-1]) if steps else tree
    model = models.get(id(node))
    field = shapes.field_of(model, key) if model else None
    if not isinstance(node, MarkedDict) or field is None or shapes.needs_an_id(field):
        return False
    example = tree_of(shapes.example(key, field), node.mark.file)
    if isinstance(example, MarkedDict):
        node.update(example)
        # What is missing may be anything: no id of the example is held against the record.
        node.lost += example.items()
    return True


def ways_to(tree: Tree, marks: Iterable[Mark]) -> Iterator[Way]:
    """Yield the way to each value that stands at one of these marks."""
    wanted = set(marks)
    left: list[tuple[Tree, Way]] = [(tree, ())]
    while left:
        node, way = left.pop()
        if way and node.mark in wanted:
            yield way
            continue
        if isinstance(node, MarkedStr):
            continue
        inner = node.items() if isinstance(node, MarkedDict) else enumerate(node)
        left += [(each, (*way, part)) for part, each in inner]


def texts(node: Tree) -> Iterator[str]:
    """Yield every text in a part of the tree."""
    if isinstance(node, MarkedStr):
        yield str(node).strip()
        return
    for _, inner in _all_in(node):
        yield from texts(inner)


def ids_in(node: Tree) -> Iterator[str]:
    """Yield every id that is given in a part of the tree."""
    if isinstance(node, MarkedStr):
        return
    for key, inner in _all_in(node):
        if key == "id" and isinstance(inner, MarkedStr):
            yield str(inner).strip()
        yield from ids_in(inner)


def _all_in(node: MarkedDict | MarkedList) -> Iterator[tuple[str, Tree]]:
    """Yield what stands in a group or list by its key, what was taken out of it included."""
    if isinstance(node, MarkedList):
        yield from (("", inner) for inner in node)
    else:
        yield from node.items()
        yield from node.lost
