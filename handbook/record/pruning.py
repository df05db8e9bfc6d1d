"""An example without what a record has nothing for: a room that it has not, a point on no plan.

Whoever adds the example as it stands gets no second slip for it; what it needs and the record has
not, it cannot be shown for.
"""

from __future__ import annotations

import re

from handbook.record import ids, shapes
from handbook.record.entry import Entry
from handbook.record.fitting import Known, fitted
from handbook.record.grammar.places import OUTSIDE
from handbook.record.marks import MarkedDict, MarkedList, MarkedStr, Tree
from handbook.record.reads import ReadsPoint
from handbook.record.tree import tree_of


def pruned(written: str, model: type[Entry], there: Known) -> str:
    """Return the keys of an example entry, made to fit a record; empty where they cannot."""
    tree = tree_of(fitted(f"{{{written}}}", model, there), "")
    assert isinstance(tree, MarkedDict)
    own = {**there, **_given(tree, model)}
    kept = _kept(tree, model, own)
    return _said(kept)[1:-1] if kept else ""


def spread(group: str) -> list[str]:
    """Return the keys of a group in braces, one a line: below such a line more can be added."""
    tree = tree_of(group, "")
    assert isinstance(tree, MarkedDict)
    return [f"{key}: {_said(value)}" for key, value in tree.items()]


def _given(tree: MarkedDict, model: type[Entry]) -> dict[str, type[Entry]]:
    """Return what has an id in the example itself."""
    found = {str(tree["id"]): model} if "id" in tree else {}
    for key, value in tree.items():
        field = shapes.field_of(model, key)
        for inner in value if isinstance(value, MarkedList) else (value,):
            if isinstance(inner, MarkedDict) and field:
                found |= _given(inner, shapes.entries(field)[0])
    return found


def _kept(tree: MarkedDict, model: type[Entry], there: Known) -> MarkedDict | None:
    """Return an entry without the keys that the record has nothing for; None if it needs one."""
    kept = MarkedDict(tree.mark)
    for key, value in tree.items():
        field = shapes.field_of(model, key)
        if field is None:
            continue
        left = None if shapes.has(field, ReadsPoint) else _fit(value, key, model, there)
        if left is not None:
            kept[key] = left
        elif field.is_required():
            return None
    return kept or None


def _fit(value: Tree, key: str, model: type[Entry], there: Known) -> Tree | None:
    field = shapes.field_of(model, key)
    if isinstance(value, MarkedDict) and field is not None:
        return _kept(value, shapes.entries(field)[0], there)
    if isinstance(value, MarkedList):
        left = [_fit(each, key, model, there) for each in value]
        fit = MarkedList(value.mark)
        fit += [each for each in left if each is not None]
        whole = len(fit) == len(value) or (fit and key != "between")
        return fit if whole else None
    kinds = ids.may_be(model, key) or ids.points_at(model, key)
    if kinds is None or not isinstance(value, MarkedStr):
        return value
    kind = there.get(str(value))
    outdoors = str(value) == OUTSIDE
    return value if outdoors or (kind is not None and issubclass(kind, kinds)) else None


def _said(node: Tree) -> str:
    if isinstance(node, MarkedDict):
        return f"{{{', '.join(f'{key}: {_said(value)}' for key, value in node.items())}}}"
    if isinstance(node, MarkedList):
        return f"[{', '.join(map(_said, node))}]"
    return f"'{node}'" if re.search(r"[,:#{}\[\]]", node) else str(node)
