"""The base of every thing in a record: strict, frozen, and aware of where it was written.

Places travel inside the things, so that a rule's finding or an answer about a valve still knows
its line. They do not count when two entries are compared.

To write an entry of the grammar:

    class Valve(Entry):
        id: Id
        from_: Known[Ref] = None      # the key in the file is `from`: a last underscore is dropped
        by: Known[Pipe] = None        # `None` is "not recorded"; Maybe[...] also takes `none`

    class Pipe(Entry):
        text_examples = ("22 ft of 3/4 in PEX",)

        @classmethod
        def from_text(cls, text: str) -> dict[str, object]:   # raise NotationError(message, hint)
            ...
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, Self

from pydantic import (
    BaseModel,
    ConfigDict,
    GetJsonSchemaHandler,
    ModelWrapValidatorHandler,
    PrivateAttr,
    ValidationInfo,
    model_validator,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from handbook.record.marks import MarkedDict, MarkedList, MarkedStr, Tree, child
from handbook.record.problems import NOWHERE, Mark


def key_of(name: str) -> str:
    """Give the key in the file for a field: `from_` is written `from`."""
    return name.rstrip("_")


class Entry(BaseModel):
    """A thing with keys. Unknown keys are refused; it cannot be changed once read."""

    model_config = ConfigDict(frozen=True, extra="forbid", alias_generator=key_of)

    text_examples: ClassVar[tuple[str, ...]] = ()
    written: ClassVar[str] = ""
    """One such entry as it is written between braces, for hints."""
    _written: Tree | None = PrivateAttr(default=None)

    @classmethod
    def from_text(cls, text: str) -> Mapping[str, object] | None:
        """Turn a one-line text into keys; an entry that has a short form overrides this.

        Raises `NotationError` where the text cannot be read. None: there is no short form.
        """
        return None

    @property
    def mark(self) -> Mark:
        """Where this entry starts in its file; `NOWHERE` if it was not read from one."""
        return NOWHERE if self._written is None else self._written.mark

    @property
    def lost(self) -> tuple[tuple[str, Tree], ...]:
        """What the file says here and could not be read, by its key, while its faults are told."""
        return tuple(self._written.lost) if isinstance(self._written, MarkedDict) else ()

    def may_say(self, name: str) -> bool:
        """Whether what could not be read may be this field: by its key, or an unknown one."""
        known = {key_of(each) for each in type(self).model_fields} - {key_of(name)}
        return any(key not in known for key, _ in self.lost)

    def mark_of(self, *path: str | int) -> Mark:
        """Where a field's value stands: `mark_of("from_")`, `mark_of("watches", 1)`.

        A value that was not given has its entry's place (or that of the last part given).
        """
        node = self._written
        if node is None:
            return NOWHERE
        for part in path:
            inner = child(node, key_of(part) if isinstance(part, str) else part)
            if inner is None:
                break
            node = inner
        return node.mark

    def key_stands(self, *path: str) -> Mark | None:
        """Where the key at the end of these stands in the file; None where it does not."""
        node, mark = self._written, None
        for key in path:
            if not isinstance(node, MarkedDict) or key not in node:
                return None
            mark, node = node.key_marks.get(key, node.mark), node[key]
        return mark

    def braces(self, *path: str) -> Mark | None:
        """Where the braces or brackets open that are written round what stands under these keys."""
        node = self._written
        for key in path:
            node = child(node, key) if node is not None else None
        is_braced = isinstance(node, MarkedDict | MarkedList) and node.braced
        return node.mark if node is not None and is_braced else None

    def key_mark_of(self, name: str) -> Mark:
        """Where a field's key stands, or its entry's place if it was not given."""
        if isinstance(self._written, MarkedDict):
            return self._written.key_marks.get(key_of(name), self.mark)
        return self.mark

    @model_validator(mode="wrap")
    @classmethod
    def _keep_place(
        cls, value: Any, handler: ModelWrapValidatorHandler[Self], info: ValidationInfo
    ) -> Self:
        if info.context is not None:
            # The reader asks afterwards which model a wrong key was meant for.
            info.context[id(value)] = cls
        keys = cls.from_text(str(value)) if isinstance(value, str) else None
        entry = handler(value if keys is None else dict(keys))
        if isinstance(value, MarkedDict | MarkedStr):
            entry._written = value
        return entry

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        reference = handler(core)
        schema = handler.resolve_ref_schema(reference)
        for known in schema.get("properties", {}).values():
            if known.get("default", ...) is None:
                del known["default"]  # leaving a key out is how "not recorded" is written
        if cls.text_examples:
            keys = dict(schema)
            schema.clear()
            text = {"type": "string", "examples": list(cls.text_examples)}
            schema.update({"title": keys.get("title", cls.__name__), "anyOf": [text, keys]})
        return reference

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and self.__dict__ == getattr(other, "__dict__", None)

    def __hash__(self) -> int:
        return hash((type(self), *self.__dict__.values()))
