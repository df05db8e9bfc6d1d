"""One error of the validating library, followed down the tree to the field that was meant."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic.fields import FieldInfo

from handbook.record import shapes
from handbook.record.entry import Entry
from handbook.record.fitting import Known
from handbook.record.instead import hole_meant
from handbook.record.marks import MarkedDict, MarkedStr, Tree, child
from handbook.record.meant import is_rest_of_a_number
from handbook.record.naming import Names
from handbook.record.problems import Mark, nearest


@dataclass(frozen=True)
class Read:
    """A file as it was read: `models` says, by the identity of a node, as which entry it was."""

    tree: Tree
    model: type[Entry]
    models: Mapping[int, type[Entry]]
    known: Known
    names: Names


class Fault:
    """One error: the way down to it, the key it is about, and the field that was meant."""

    def __init__(self, read: Read, error: Mapping[str, Any]) -> None:
        self.error = error
        self.known, self.names = read.known, read.names
        self.way: list[Tree] = [read.tree]
        self.key_mark: Mark | None = None
        self.key = ""
        self.models = [read.models.get(id(read.tree), read.model)]
        self.field: FieldInfo | None = None
        for part in error["loc"]:
            self._step(part, read.models)

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
        """The part of the file that the error is about."""
        return self.way[-1]

    @property
    def mark(self) -> Mark:
        """Where it stands."""
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
        """Its key, as it begins a message."""
        return f"`{self.key}`: " if self.key else ""
