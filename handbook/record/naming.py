"""Which id was meant by a name, or by an id in other letters: `Hall bath`, `Outside`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from handbook.record import ids
from handbook.record.marks import MarkedDict, MarkedStr, Tree
from handbook.record.problems import nearest

if TYPE_CHECKING:
    from handbook.record.fitting import Known

Names = Mapping[str, str]
"""The id of each thing that has a name, by the name in plain letters."""


def names_in(tree: Tree) -> dict[str, str]:
    """Return the names in the tree of a record, the first of each."""
    if isinstance(tree, MarkedStr):
        return {}
    found: dict[str, str] = {}
    if isinstance(tree, MarkedDict):
        own, name = tree.get("id"), tree.get("name")
        if isinstance(own, MarkedStr) and isinstance(name, MarkedStr):
            found[plain(name)] = str(own)
    for inner in tree.values() if isinstance(tree, MarkedDict) else tree:
        found = {**names_in(inner), **found}
    return found


def id_meant(text: str, kinds: ids.Kinds, there: Known, names: Names) -> str:
    """Return the id of one of these kinds that was most likely meant, or nothing."""
    fit = [name for name, kind in there.items() if issubclass(kind, kinds)]
    fit += ids.always(kinds)
    same = [name for name in fit if plain(name) == plain(text)]
    called = [name for name in fit if name == names.get(plain(text))]
    return next(iter((*same, *called)), None) or nearest(text, fit) or ""


def plain(text: str) -> str:
    """Return the letters and digits of a name, the rest of it as hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")
