"""The parts of a file's text, each knowing where it was written.

Scalars stay the text that they are; every text, list and mapping carries its own mark, so that a
value can travel from the file into an entry without losing its place.
"""

from __future__ import annotations

from handbook.record.problems import Mark


class MarkedStr(str):
    """A scalar, always text, with its place."""

    __slots__ = ("mark",)
    mark: Mark

    def __new__(cls, text: str, mark: Mark) -> MarkedStr:  # noqa: D102
        self = super().__new__(cls, text)
        self.mark = mark
        return self

    def __getnewargs__(self) -> tuple[str, Mark]:  # type: ignore[override]
        return str(self), self.mark


class MarkedList(list["Tree"]):
    """A list with its place; each item has its own. `braced`: it is written in brackets."""

    def __init__(self, mark: Mark, braced: bool = False) -> None:
        super().__init__()
        self.mark, self.braced = mark, braced


class MarkedDict(dict[str, "Tree"]):
    """A mapping with its place and that of each key; each value has its own.

    `lost` is what stands in it and could not be read, each with its key here. `braced`: it is
    written in braces.
    """

    def __init__(self, mark: Mark, braced: bool = False) -> None:
        super().__init__()
        self.mark, self.braced = mark, braced
        self.key_marks: dict[str, Mark] = {}
        self.lost: list[tuple[str, Tree]] = []

    @property
    def value_marks(self) -> dict[str, Mark]:
        """The place of each value."""
        return {key: value.mark for key, value in self.items()}


Tree = MarkedStr | MarkedList | MarkedDict


def child(node: Tree, part: str | int) -> Tree | None:
    """Return what stands under a key or at an index of a tree, or None."""
    if isinstance(node, MarkedDict) and isinstance(part, str):
        return node.get(part)
    if isinstance(node, MarkedList) and isinstance(part, int) and 0 <= part < len(node):
        return node[part]
    return None
