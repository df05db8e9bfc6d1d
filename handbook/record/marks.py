"""YAML as a tree of text that knows where each part was written."""

from __future__ import annotations

from handbook.record.problems import Mark


class MarkedStr(str):
    """A scalar, always text, with its place."""

    __slots__ = ("mark",)
    mark: Mark

    def __new__(cls, text: str, mark: Mark) -> MarkedStr:
        self = super().__new__(cls, text)
        self.mark = mark
        return self

    def __getnewargs__(self) -> tuple[str, Mark]:  # type: ignore[override]
        return str(self), self.mark


class MarkedList(list["Tree"]):
    """A list with its place; each item has its own."""

    def __init__(self, mark: Mark) -> None:
        super().__init__()
        self.mark = mark


class MarkedDict(dict[str, "Tree"]):
    """A mapping with its place and that of each key; each value has its own."""

    def __init__(self, mark: Mark) -> None:
        super().__init__()
        self.mark = mark
        self.key_marks: dict[str, Mark] = {}

    @property
    def value_marks(self) -> dict[str, Mark]:
        """The place of each value."""
        return {key: value.mark for key, value in self.items()}


Tree = MarkedStr | MarkedList | MarkedDict
