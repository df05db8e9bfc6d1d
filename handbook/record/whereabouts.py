"""Where something is, written in words under a key that is for a point, a distance or a thing."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from handbook.record import ids, shapes
from handbook.record.grammar.common import Place
from handbook.record.instead import ABSENT, UNKNOWN
from handbook.record.marks import MarkedStr, Tree
from handbook.record.naming import Names, id_meant, plain
from handbook.record.other_words import key_for

if TYPE_CHECKING:
    from handbook.record.entry import Entry
    from handbook.record.fitting import Known

_HOLES = ("none", "unknown", *UNKNOWN, *ABSENT)


def are_words(value: Tree) -> bool:
    """Whether a value is words: what begins with a figure is a measure, and a hole says nothing."""
    if not isinstance(value, MarkedStr) or value.strip().lower() in _HOLES:
        return False
    return re.match(r"[^\W\d_]", value.strip()) is not None


def says_where(key: str, value: Tree, model: type[Entry]) -> bool:
    """Whether a key that an entry has not, with words under it, says where the entry's thing is."""
    is_where = key in ("at", "where") or key_for(key, ("place", "where"))
    return "place" in shapes.keys(model) and bool(is_where) and are_words(value)


def in_place(text: str, there: Known, names: Names) -> str:
    """Write words as a key of a place: `room: den` where they name one, else `where: ...`.

    Nothing where they are the id of a thing: a sensor `at: WH1` watches it.
    """
    text = text.strip()
    for key in ("level", "room"):
        kinds = ids.points_at(Place, key)
        found = id_meant(text, kinds, there, names) if kinds else ""
        if found and plain(text) in (
            plain(found),
            *(n for n, own in names.items() if own == found),
        ):
            return f"{key}: {found}"
    return "" if text in there else f"where: {quoted(text)}"


def quoted(text: str) -> str:
    """Quote a text that would not stay one between braces."""
    doubled = text.replace("'", "''")
    return f"'{doubled}'" if re.search(r"[,:#{}\[\]]|^['\"&*!|>%@`]", text) else text
