"""The three kinds of knowing: recorded, confirmed absent, not recorded.

x: Known[Length] = None     recorded, or None: left out or `unknown`
x: Maybe[Length] = None     the same, or ABSENT: `none`, someone looked and there isn't one
"""

import enum
from functools import reduce
from operator import or_
from types import NoneType
from typing import Annotated, Any, TypeVar, get_args

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from handbook.measures import NotationError

T = TypeVar("T")


class Absent(enum.Enum):
    """The answer `none`: someone looked, and there isn't one."""

    ABSENT = "none"

    def __bool__(self) -> bool:
        return False

    def __repr__(self) -> str:
        return "ABSENT"


ABSENT = Absent.ABSENT


class KnownMarker:
    """Adds `unknown` to a type, and `none` too where `absent` is set.

    A wrapper rather than a union, so that a wrong value gives one error, about the type meant.
    """

    def __init__(self, absent: bool) -> None:
        self.absent = absent

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        inner = reduce(or_, (a for a in get_args(source) if a not in (NoneType, Absent)))
        return core_schema.no_info_wrap_validator_function(
            self._read, handler.generate_schema(inner)
        )

    def _read(self, value: object, inner: core_schema.ValidatorFunctionWrapHandler) -> object:
        word = value.strip().lower() if isinstance(value, str) else value
        if word is None or word == "unknown":
            return None
        if word == "none" or word is ABSENT:
            return self._none()
        return inner(value)

    def _none(self) -> object:
        if self.absent:
            return ABSENT
        raise NotationError(
            "`none` has no meaning here",
            "write what it is, or `unknown`, or leave the key out",
        )

    def __get_pydantic_json_schema__(
        self, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        words = ["none", "unknown"] if self.absent else ["unknown"]
        return {"anyOf": [handler(core), *({"const": word} for word in words)]}


Known = Annotated[T | None, KnownMarker(absent=False)]
Maybe = Annotated[T | Absent | None, KnownMarker(absent=True)]
