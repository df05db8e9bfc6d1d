"""How a field reads its value from text, gives one error when it cannot, and describes itself."""

from collections.abc import Callable, Mapping
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from handbook.measures import Length, NotationError, parse_length
from handbook.record import notation


class Reads:
    """Reads text into a value of `kind` with `parse`; the rest goes into the JSON Schema.

    `types` are the JSON types as which an editor may see the text: it takes `12` for a number.
    """

    def __init__(
        self,
        kind: type,
        parse: Callable[[str], object],
        description: str,
        *examples: str,
        pattern: str = "",
        types: tuple[str, ...] = ("string",),
    ) -> None:
        self.kind, self.parse, self.examples = kind, parse, examples
        self.schema: JsonSchemaValue = {
            "type": list(types) if len(types) > 1 else types[0],
            "description": description,
        }
        if examples:
            self.schema["examples"] = list(examples)
        if pattern:
            self.schema["pattern"] = pattern

    def read(self, value: object) -> object:
        """Return the value; raises NotationError, a ValueError, for anything else."""
        if isinstance(value, str):
            if not value.strip():
                hint = "write it, write `unknown`, or leave the key out"
                raise NotationError("nothing is written here", hint)
            return self.parse(str(value))
        if type(value) is self.kind:
            return value
        raise NotationError(f"{_shape(value)} stands where a short text belongs", self._hint())

    def _hint(self) -> str:
        return " or ".join(f"write it like `{e}`" for e in self.examples[:1])

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return dict(self.schema)


def _shape(value: object) -> str:
    if isinstance(value, Mapping):
        return "a group of keys"
    return "a list" if isinstance(value, list | tuple) else f"a {type(value).__name__}"


class ReadsPoint:
    """Reads `[x, y]`, two lengths, as one point on the plan; a wrong length has its own error."""

    examples = ("[12 ft 6 in, 3 ft]",)

    def read(
        self, value: object, inner: core_schema.ValidatorFunctionWrapHandler
    ) -> notation.Point:
        """Return the point; raises NotationError for anything but two lengths."""
        if isinstance(value, notation.Point):
            return value
        if not isinstance(value, list | tuple) or len(value) != 2:
            hint = "how far right, then how far up, like `[12 ft 6 in, 3 ft]`"
            raise NotationError("a point on the plan is two lengths", hint)
        across, up = inner(value)
        return notation.Point(across.inches, up.inches)

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        read = Reads(Length, parse_length, "").read
        length = core_schema.no_info_plain_validator_function(read)
        return core_schema.no_info_wrap_validator_function(
            self.read, core_schema.tuple_positional_schema([length, length])
        )

    def __get_pydantic_json_schema__(
        self, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {
            "type": "array",
            "description": "A point on the plan: how far right, how far up.",
            "items": {"type": ["string", "number"]},
            "minItems": 2,
            "maxItems": 2,
            "examples": [["12 ft 6 in", "3 ft"]],
        }
