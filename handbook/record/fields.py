"""The kinds of value that a record may hold, for use in an `Entry`.

Each is an annotated type that reads its own notation from text (or takes a value of its own kind
as it is) and describes itself in the JSON Schema. How they read is in `notation` and `measures`.
"""

from datetime import date
from typing import Annotated

from handbook import measures
from handbook.record import notation
from handbook.record.knowing import ABSENT, Absent, Known, Maybe
from handbook.record.reads import Reads, ReadsPoint

__all__ = [
    "ABSENT",
    "Absent",
    "Count",
    "Day",
    "Degrees",
    "Distance",
    "Email",
    "FileName",
    "Flow",
    "HeatRate",
    "Id",
    "Known",
    "Length",
    "Maybe",
    "Month",
    "Number",
    "Phone",
    "PipeSize",
    "Point",
    "Pressure",
    "Ref",
    "Slope",
    "Temperature",
    "Text",
    "Url",
    "Volume",
    "YesNo",
]

NUMBER_LIKE = ("string", "number")

Text = Annotated[
    str, Reads(str, notation.parse_text, "Words, in plain language.", types=NUMBER_LIKE)
]
Id = Annotated[
    str,
    Reads(
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
    Reads(
        str,
        notation.parse_id,
        "The id of another thing in this record.",
        "W1",
        pattern=notation.ID_PATTERN,
    ),
]
Length = Annotated[
    measures.Length,
    Reads(
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
    Reads(
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
    Reads(
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
    Reads(
        measures.Temperature,
        measures.parse_temperature,
        "A temperature with its unit.",
        "120 F",
        "49 C",
    ),
]
Flow = Annotated[
    measures.Flow,
    Reads(measures.Flow, measures.parse_flow, "A flow with its unit.", "2.5 gpm", "9 L/min"),
]
HeatRate = Annotated[
    measures.HeatRate,
    Reads(
        measures.HeatRate,
        measures.parse_heat_rate,
        "A rate of heat with its unit.",
        "199000 Btu/h",
        "60 kW",
    ),
]
Volume = Annotated[
    measures.Volume,
    Reads(measures.Volume, measures.parse_volume, "A volume with its unit.", "50 gal", "190 L"),
]
Slope = Annotated[
    measures.Slope,
    Reads(measures.Slope, measures.parse_slope, "A drain's fall.", "1/4 in per ft", "2 %"),
]
PipeSize = Annotated[
    measures.PipeSize,
    Reads(measures.PipeSize, measures.parse_pipe_size, "A nominal pipe size.", "3/4 in", "20 mm"),
]
Day = Annotated[
    date,
    Reads(
        date,
        notation.parse_day,
        "A day, year first.",
        "2026-04-10",
        pattern=r"^\d{4}-\d{2}-\d{2}$",
    ),
]
Month = Annotated[
    notation.YearMonth,
    Reads(
        notation.YearMonth,
        notation.parse_month,
        "A month, year first.",
        "2026-04",
        pattern=r"^\d{4}-\d{2}$",
    ),
]
YesNo = Annotated[
    bool,
    Reads(bool, notation.parse_yes_no, "Yes or no.", "yes", "no", types=("string", "boolean")),
]
Count = Annotated[
    int,
    Reads(int, notation.parse_count, "A whole number.", "2", "12", types=("string", "integer")),
]
Number = Annotated[
    float, Reads(float, notation.parse_number, "A number.", "0.93", "12", types=NUMBER_LIKE)
]
Degrees = Annotated[
    float,
    Reads(
        float,
        notation.parse_degrees,
        "Degrees of a circle, 0 to 360.",
        "90",
        "22.5 deg",
        types=NUMBER_LIKE,
    ),
]
Phone = Annotated[
    notation.PhoneNumber,
    Reads(
        notation.PhoneNumber,
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
    Reads(
        str,
        notation.parse_url,
        "An https address that pages are put under.",
        "https://house.example/",
        pattern="^https://",
    ),
]
Email = Annotated[
    str, Reads(str, notation.parse_email, "An e-mail address.", "office@builder.example")
]
FileName = Annotated[
    str,
    Reads(
        str,
        notation.parse_file_name,
        "A file inside the record's folder.",
        "photos/hall-bath.jpg",
    ),
]
Point = Annotated[notation.Point, ReadsPoint()]
