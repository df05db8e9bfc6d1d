"""The kinds of value a record may hold, each reading its own notation from text.

Each is an annotated type for use in an `Entry`: it reads text (or takes a value of its own kind
as it is), gives exactly one error when it cannot, and describes itself in the JSON Schema.

Three kinds of knowing:
    x: Known[Length] = None     recorded, or None: left out or `unknown`
    x: Maybe[Length] = None     the same, or ABSENT: `none`, someone looked and there isn't one
"""

from __future__ import annotations

import enum
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from types import NoneType
from typing import Annotated, Any, TypeVar, Union, get_args

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from handbook import measures
from handbook.measures import Unclear
from handbook.record import notation
from handbook.record.notation import PhoneNumber, Point as PointValue, YearMonth

T = TypeVar("T")


class Absent(enum.Enum):
    """The answer `none`: someone looked, and there isn't one."""

    ABSENT = "none"

    def __bool__(self) -> bool:
        return False

    def __repr__(self) -> str:
        return "ABSENT"


ABSENT = Absent.ABSENT


@dataclass(frozen=True)
class Reads:
    """How one kind of field turns text into a value of `kind`, and its JSON Schema."""

    kind: type
    parse: Callable[[str], object]
    schema: tuple[tuple[str, Any], ...]

    def read(self, value: object) -> object:
        """Return the value; raises `Unclear`, a ValueError, for anything else."""
        if isinstance(value, str):
            if not value.strip():
                raise Unclear("nothing is written here", "write it, or leave the key out")
            return self.parse(str(value))
        if isinstance(value, self.kind) and not isinstance(value, bool | list | dict):
            return value
        if isinstance(value, bool) and self.kind is bool:
            return value
        raise Unclear(f"{_shape(value)} stands where a short text belongs", self.hint)

    @property
    def hint(self) -> str:
        """An example of what is expected."""
        examples = dict(self.schema).get("examples", ())
        return f"write it like {' or '.join(f'`{e}`' for e in examples[:2])}" if examples else ""

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {key: list(v) if isinstance(v, tuple) else v for key, v in self.schema}


def _shape(value: object) -> str:
    if isinstance(value, Mapping):
        return "a group of keys"
    return "a list" if isinstance(value, list | tuple) else f"a {type(value).__name__}"


def _reads(
    kind: type,
    parse: Callable[[str], object],
    description: str,
    *examples: str,
    pattern: str = "",
    types: str | tuple[str, ...] = "string",
) -> Reads:
    schema: dict[str, Any] = {"type": types, "description": description, "examples": examples}
    if pattern:
        schema["pattern"] = pattern
    return Reads(kind, parse, tuple(schema.items()))


NUMBER_LIKE = ("string", "number")  # an editor sees `12` as a number; the record reads its text

Text = Annotated[
    str, _reads(str, notation.parse_text, "Words, in plain language.", types=NUMBER_LIKE)
]
Id = Annotated[
    str,
    _reads(
        str,
        notation.parse_id,
        "The tag of this thing, as printed and hung on it.",
        "W1",
        "hall-bath",
        pattern=notation.ID_PATTERN,
    ),
]
Ref = Annotated[
    str,
    _reads(
        str,
        notation.parse_id,
        "The id of another thing in this record.",
        "W1",
        pattern=notation.ID_PATTERN,
    ),
]
Length = Annotated[
    measures.Length,
    _reads(
        measures.Length,
        measures.parse_length,
        "A length with its unit; below zero only for elevations and coordinates.",
        "12 ft 6 in",
        "6 1/2 in",
        "3.8 m",
        types=NUMBER_LIKE,
    ),
]
Distance = Annotated[
    measures.Length,
    _reads(
        measures.Length,
        notation.parse_distance,
        "A length with its unit, not below zero.",
        "12 ft 6 in",
        "3.8 m",
        types=NUMBER_LIKE,
    ),
]
Pressure = Annotated[
    measures.Pressure,
    _reads(
        measures.Pressure,
        measures.parse_pressure,
        "A pressure with its unit.",
        "68 psi",
        "4.7 bar",
        "7 in wc",
    ),
]
Temperature = Annotated[
    measures.Temperature,
    _reads(
        measures.Temperature,
        measures.parse_temperature,
        "A temperature with its unit.",
        "120 F",
        "49 C",
    ),
]
Flow = Annotated[
    measures.Flow,
    _reads(measures.Flow, measures.parse_flow, "A flow with its unit.", "2.5 gpm", "9 L/min"),
]
HeatRate = Annotated[
    measures.HeatRate,
    _reads(
        measures.HeatRate,
        measures.parse_heat_rate,
        "A rate of heat with its unit.",
        "199000 Btu/h",
        "60 kW",
    ),
]
Volume = Annotated[
    measures.Volume,
    _reads(measures.Volume, measures.parse_volume, "A volume with its unit.", "50 gal", "190 L"),
]
Slope = Annotated[
    measures.Slope,
    _reads(measures.Slope, measures.parse_slope, "A drain's fall.", "1/4 in per ft", "2 %"),
]
PipeSize = Annotated[
    measures.PipeSize,
    _reads(measures.PipeSize, measures.parse_pipe_size, "A nominal pipe size.", "3/4 in", "20 mm"),
]
Day = Annotated[
    date,
    _reads(
        date,
        notation.parse_day,
        "A day, year first.",
        "2026-04-10",
        pattern=r"^\d{4}-\d{2}-\d{2}$",
    ),
]
Month = Annotated[
    YearMonth,
    _reads(
        YearMonth, notation.parse_month, "A month, year first.", "2026-04", pattern=r"^\d{4}-\d{2}$"
    ),
]
YesNo = Annotated[
    bool,
    _reads(bool, notation.parse_yes_no, "Yes or no.", "yes", "no", types=("string", "boolean")),
]
Count = Annotated[
    int,
    _reads(int, notation.parse_count, "A whole number.", "2", "12", types=("string", "integer")),
]
Number = Annotated[
    float, _reads(float, notation.parse_number, "A number.", "0.93", "12", types=NUMBER_LIKE)
]
Degrees = Annotated[
    float,
    _reads(
        float,
        notation.parse_degrees,
        "Degrees of a circle, 0 to 360.",
        "90",
        "22.5 deg",
        types=NUMBER_LIKE,
    ),
]
Phone = Annotated[
    PhoneNumber,
    _reads(
        PhoneNumber,
        notation.parse_phone,
        "A phone number as it is dialled at the house.",
        "555-0142",
        "+1 555 555 0142 x12",
        "911",
        types=("string", "integer"),
    ),
]
Url = Annotated[
    str,
    _reads(
        str,
        notation.parse_url,
        "An https address that pages are put under.",
        "https://house.example/",
        pattern="^https://",
    ),
]
Email = Annotated[
    str, _reads(str, notation.parse_email, "An e-mail address.", "office@builder.example")
]
FileName = Annotated[
    str,
    _reads(
        str,
        notation.parse_file_name,
        "A file inside the record's folder.",
        "photos/hall-bath.jpg",
    ),
]


class ReadsPoint:
    """Reads `[x, y]`, two lengths, as one point on the plan."""

    def read(self, value: object) -> PointValue:
        """Return the point; raises `Unclear` for anything else."""
        return value if isinstance(value, PointValue) else notation.parse_point(value)

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

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


Point = Annotated[PointValue, ReadsPoint()]


class KnownMarker:
    """Adds `unknown` to a type, and `none` too where `absent` is set."""

    def __init__(self, absent: bool) -> None:
        self.absent = absent

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        inner = Union[tuple(a for a in get_args(source) if a not in (NoneType, Absent))]
        return core_schema.no_info_wrap_validator_function(
            self._read, handler.generate_schema(inner)
        )

    def _read(self, value: object, inner: core_schema.ValidatorFunctionWrapHandler) -> object:
        word = value.strip().lower() if isinstance(value, str) else value
        if word is None or word == "unknown":
            return None
        if word == "none" or word is ABSENT:
            return self._none(value, inner)
        return inner(value)

    def _none(self, value: object, inner: core_schema.ValidatorFunctionWrapHandler) -> object:
        if self.absent:
            return ABSENT
        raise Unclear(
            "`none` has no meaning here: there is always one",
            "write what it is, or `unknown`, or leave the key out",
        )

    def __get_pydantic_json_schema__(
        self, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        words = ["none", "unknown"] if self.absent else ["unknown"]
        return {"anyOf": [handler(core), *({"const": word} for word in words)]}


Known = Annotated[T | None, KnownMarker(absent=False)]
Maybe = Annotated[T | Absent | None, KnownMarker(absent=True)]
