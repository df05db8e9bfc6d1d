"""Trade notation to numbers and back: `12 ft 6 in`, `3/4 in`, `68 psi`, `199,000 Btu/h`.

Everything that the record measures is read here once, kept in one unit, and said again in the
reader's units. A bare number where a unit is needed is refused, with an example, never guessed.

Each value is frozen and holds a float in the unit that its field names; `text` is what was
written, and does not count when two values are compared.

Conversions: NIST Special Publication 811 (2008), appendix B.8; exact where it prints bold.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

Units = Literal["US", "metric"]

METRES_PER_FOOT = 0.3048  # NIST SP 811, exact
MM_PER_INCH = 25.4  # NIST SP 811, exact
KPA_PER_PSI = 6.894757  # NIST SP 811
PSI_PER_INCH_WATER = 0.249082 / KPA_PER_PSI  # NIST SP 811, inch of water at 39.2 F in kPa
LITRES_PER_GALLON = 3.785411784  # NIST SP 811, US liquid gallon, exact
JOULES_PER_BTU = 1055.05585262  # NIST SP 811, Btu of the International Table, exact
BTU_H_PER_KW = 3600 * 1000 / JOULES_PER_BTU

LONGEST_TEXT = 60


class Unclear(ValueError):
    """A text that cannot be read: `message` says what is wrong, `hint` what is expected."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


@dataclass(frozen=True, order=True)
class Length:
    """A length in inches; below zero only where it is an elevation or a coordinate."""

    inches: float
    text: str = field(default="", compare=False)

    @property
    def feet(self) -> float:
        return self.inches / 12

    @property
    def metres(self) -> float:
        return self.feet * METRES_PER_FOOT


@dataclass(frozen=True, order=True)
class Pressure:
    """A gauge pressure in psi."""

    psi: float
    text: str = field(default="", compare=False)


@dataclass(frozen=True, order=True)
class Temperature:
    """A temperature in degrees Fahrenheit."""

    fahrenheit: float
    text: str = field(default="", compare=False)

    @property
    def celsius(self) -> float:
        return (self.fahrenheit - 32) / 1.8


@dataclass(frozen=True, order=True)
class Flow:
    """A flow in US gallons per minute."""

    gpm: float
    text: str = field(default="", compare=False)


@dataclass(frozen=True, order=True)
class HeatRate:
    """A rate of heat, such as a burner's input, in Btu per hour."""

    btu_h: float
    text: str = field(default="", compare=False)


@dataclass(frozen=True, order=True)
class Volume:
    """A volume in US gallons."""

    gallons: float
    text: str = field(default="", compare=False)


@dataclass(frozen=True, order=True)
class Slope:
    """A drain's fall in inches per foot of run."""

    inches_per_foot: float
    text: str = field(default="", compare=False)


@dataclass(frozen=True, order=True)
class PipeSize:
    """A nominal size; `text` is its trade name (`1-1/4 in`, `20 mm`), `inches` sorts it.

    A nominal size is a name, not a measurement, so it is never converted.
    """

    inches: float
    text: str

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True)
class Run:
    """A stretch of pipe as said aloud: `22 ft of 3/4 in PEX`."""

    length: Length
    size: PipeSize
    material: str


_WHOLE = r"\d{1,3}(?:,\d{3}){1,3}|\d{1,9}"
_FRACTION = r"\d{1,4}/\d{1,4}"
_NUMBER = rf"(?:\d{{1,4}}[ -]{_FRACTION}|{_FRACTION}|(?:{_WHOLE})(?:\.\d{{1,9}})?|\.\d{{1,9}})"
_AMOUNT = re.compile(rf"(-?) ?({_NUMBER}) ?(\D.*)?")
_FEET_AND_INCHES = re.compile(
    rf"(-?) ?({_NUMBER}) ?(?:ft|feet|foot|')[ -]{{0,3}}({_NUMBER}) ?(?:in|inch|inches|\")"
)
_SIGNS = str.maketrans(
    {"’": "'", "‘": "'", "′": "'", "”": '"', "“": '"', "″": '"', "−": "-", "–": "-", "º": "°"}
)


def _tidy(text: str) -> str:
    """Fold what phones write by themselves (curly quotes, one-sign fractions) into plain signs."""
    if len(text) > LONGEST_TEXT:
        raise Unclear(f"{text[:20]!r}... is too long for a measurement")
    spaced = re.sub(r"(?<=\d)([¼½¾⅐-⅞])", r" \1", text.translate(_SIGNS))
    plain = unicodedata.normalize("NFKC", spaced).replace("\N{FRACTION SLASH}", "/")
    return re.sub(r"\s+", " ", plain).strip()


def _number(text: str) -> float:
    """Read `6 1/2`, `1-1/4`, `3/4`, `199,000` or `2.5`; no sign."""
    total = Fraction(0)
    for part in re.split(r"[ -]", text.replace(",", "")):
        if "/" in part and int(part.split("/")[1]) == 0:
            raise Unclear(f"{text!r} divides by zero")
        total += Fraction(part)
    return float(total)


def _amount(text: str, factors: Mapping[str, float], like: str) -> float:
    """Read one number with one unit; `factors` turns each unit (lower case) into ours."""
    hint = f"write it like {like}"
    match = _AMOUNT.fullmatch(_tidy(text))
    if not match:
        raise Unclear(f"{text!r} is not a measurement", hint)
    sign, number, unit = match.groups()
    if unit is None:
        raise Unclear(f"{text!r} has no unit", hint)
    if unit.lower() not in factors:
        raise Unclear(f"{text!r}: the unit {unit!r} is not known here", hint)
    value = _number(number) * factors[unit.lower()]
    return -value if sign else value


def _not_negative(value: float, text: str, like: str) -> float:
    if value < 0:
        raise Unclear(f"{text!r} is less than nothing", f"write it like {like}")
    return value


def _table(*rows: tuple[str, float]) -> dict[str, float]:
    return {name: factor for names, factor in rows for name in names.split("|")}


_LENGTHS = _table(
    ("ft|feet|foot|'", 12.0),
    ('in|inch|inches|"', 1.0),
    ("m|metre|metres|meter|meters", 1000 / MM_PER_INCH),
    ("cm", 10 / MM_PER_INCH),
    ("mm", 1 / MM_PER_INCH),
)
_PRESSURES = _table(
    ("psi|psig", 1.0),
    ("kpa", 1 / KPA_PER_PSI),
    ("bar", 100 / KPA_PER_PSI),
    ("mbar", 0.1 / KPA_PER_PSI),
    ("in wc|in w.c.|in. w.c.|inches of water", PSI_PER_INCH_WATER),
)
_FLOWS = _table(
    ("gpm|gal/min", 1.0),
    ("l/min|lpm", 1 / LITRES_PER_GALLON),
    ("l/s", 60 / LITRES_PER_GALLON),
)
_HEAT_RATES = _table(
    ("btu/h|btu/hr|btuh", 1.0), ("mbh", 1000.0), ("kw", BTU_H_PER_KW), ("w", BTU_H_PER_KW / 1000)
)
_VOLUMES = _table(
    ("gal|gallon|gallons", 1.0), ("l|litre|litres|liter|liters", 1 / LITRES_PER_GALLON)
)
_SLOPES = _table(
    ("in per ft|in/ft|inch per foot|in per foot|in. per ft", 1.0),
    ("%|percent", 0.12),
    ("mm/m|mm per m", 0.012),
)

LENGTHS_LIKE = "`12 ft 6 in`, `6 1/2 in`, `3.8 m` or `250 mm`"
PRESSURES_LIKE = "`68 psi`, `4.7 bar` or `350 kPa`"
TEMPERATURES_LIKE = "`120 F` or `49 C`"
FLOWS_LIKE = "`2.5 gpm` or `9 L/min`"
HEAT_RATES_LIKE = "`199000 Btu/h` or `60 kW`"
VOLUMES_LIKE = "`50 gal` or `190 L`"
SLOPES_LIKE = "`1/4 in per ft` or `2 %`"
SIZES_LIKE = "`3/4 in`, `1-1/4 in` or `20 mm`"
RUNS_LIKE = "`22 ft of 3/4 in PEX`"


def parse_length(text: str) -> Length:
    """Read a length; zero needs no unit, since it is the same in all of them."""
    tidy = _tidy(text)
    if tidy in ("0", "-0"):
        return Length(0.0, text)
    match = _FEET_AND_INCHES.fullmatch(tidy.lower())
    if not match:
        return Length(_amount(text, _LENGTHS, LENGTHS_LIKE), text)
    sign, feet, inches = match.groups()
    if _number(inches) >= 12:
        raise Unclear(f"{text!r} has {inches} inches after the feet", "a foot has 12 inches")
    value = _number(feet) * 12 + _number(inches)
    return Length(-value if sign else value, text)


def parse_pressure(text: str) -> Pressure:
    """Read a gauge pressure, also a gas pressure as `7 in wc`."""
    value = _amount(text, _PRESSURES, PRESSURES_LIKE)
    return Pressure(_not_negative(value, text, PRESSURES_LIKE), text)


def parse_temperature(text: str) -> Temperature:
    """Read a temperature in F or C, with or without the degree sign."""
    unit = _tidy(text).replace("°", "").replace("deg", "").strip()[-1:].upper()
    plain = _tidy(text).replace("°", " ").replace("deg", " ")
    value = _amount(plain if unit in ("F", "C") else text, {"f": 1.0, "c": 1.0}, TEMPERATURES_LIKE)
    return Temperature(value * 1.8 + 32 if unit == "C" else value, text)


def parse_flow(text: str) -> Flow:
    """Read a flow of water."""
    return Flow(_not_negative(_amount(text, _FLOWS, FLOWS_LIKE), text, FLOWS_LIKE), text)


def parse_heat_rate(text: str) -> HeatRate:
    """Read an input or output of heat; `MBH` is a thousand Btu/h."""
    value = _amount(text, _HEAT_RATES, HEAT_RATES_LIKE)
    return HeatRate(_not_negative(value, text, HEAT_RATES_LIKE), text)


def parse_volume(text: str) -> Volume:
    """Read a volume of water."""
    return Volume(_not_negative(_amount(text, _VOLUMES, VOLUMES_LIKE), text, VOLUMES_LIKE), text)


def parse_slope(text: str) -> Slope:
    """Read a drain's fall; a back-pitched stretch is below zero."""
    return Slope(_amount(text, _SLOPES, SLOPES_LIKE), text)


def parse_pipe_size(text: str) -> PipeSize:
    """Read a nominal size in inches or millimetres."""
    like = f"write it like {SIZES_LIKE}"
    try:
        inches = parse_length(text).inches
    except Unclear as error:
        raise Unclear(error.message, like) from None
    if not 0 < inches <= 60:
        raise Unclear(f"{text!r} is not a pipe size", like)
    if _tidy(text).lower().endswith("m"):
        return PipeSize(inches, f"{_decimal(inches * MM_PER_INCH, 1)} mm")
    return PipeSize(inches, f"{_fraction(inches, Fraction(1, 16), '-')} in")


def parse_run(text: str) -> Run:
    """Read `22 ft of 3/4 in PEX`: how long, what size, and what it is made of.

    The material is the rest of the text as written; the grammar decides which ones exist.
    """
    like = f"write it like {RUNS_LIKE}"
    match = re.fullmatch(r"\s*(.+?)\s+of\s+(.+?\s*(?:in|inch|mm|\"))\s+(\S.*?)\s*", text)
    if not match:
        raise Unclear(f"{text!r} does not say a length, a size and a material", like)
    length, size, material = match.groups()
    reach = parse_length(length)
    _not_negative(reach.inches, text, RUNS_LIKE)
    return Run(reach, parse_pipe_size(size), re.sub(r"\s+", " ", material))


def _decimal(value: float, places: int) -> str:
    """Say a number with at most `places` decimals and thousands set off: `199,000`, `2.5`."""
    text = f"{value:,.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _fraction(value: float, to: Fraction, joint: str = " ") -> str:
    """Say a number of inches to the nearest `to`: `6 1/2`, `3/4`, `2`."""
    steps = round(Fraction(value) / to) * to
    whole, rest = divmod(steps, 1)
    if not rest:
        return str(whole)
    return f"{whole}{joint}{rest}" if whole else str(rest)


def say_length(length: Length, units: Units, to: Fraction = Fraction(1, 16)) -> str:
    """Say a length as taped: `12 ft 6 in`, or `3.81 m` and below a metre `250 mm`.

    `to` is the honest step in inches; from 1/4 in on, metric goes by whole centimetres.
    """
    sign = "-" if length.inches < 0 else ""
    if units == "metric":
        step = 10 if to >= Fraction(1, 4) else 1
        mm = round(abs(length.inches) * MM_PER_INCH / step) * step
        said = f"{mm} mm" if mm < 1000 else f"{_decimal(mm / 1000, 3)} m"
        return said if mm == 0 else sign + said
    taped = round(Fraction(abs(length.inches)) / to) * to
    feet, inches = divmod(taped, 12)
    parts = [f"{feet} ft"] if feet else []
    if inches or not feet:
        parts.append(f"{_fraction(float(inches), to)} in")
    return (sign if taped else "") + " ".join(parts)


def say_pressure(pressure: Pressure, units: Units) -> str:
    """Say a water pressure: `68 psi` or `469 kPa`."""
    if units == "metric":
        return f"{_decimal(pressure.psi * KPA_PER_PSI, 0)} kPa"
    return f"{_decimal(pressure.psi, 0 if pressure.psi >= 10 else 1)} psi"


def say_gas_pressure(pressure: Pressure, units: Units) -> str:
    """Say a gas pressure: below 1 psi in inches of water, as the trade does; or in kPa."""
    if units == "metric":
        return f"{_decimal(pressure.psi * KPA_PER_PSI, 2)} kPa"
    if pressure.psi < 1:
        return f"{_decimal(pressure.psi / PSI_PER_INCH_WATER, 1)} in wc"
    return f"{_decimal(pressure.psi, 1)} psi"


def say_temperature(temperature: Temperature, units: Units) -> str:
    """Say a temperature to the degree."""
    if units == "metric":
        return f"{_decimal(temperature.celsius, 0)} °C"
    return f"{_decimal(temperature.fahrenheit, 0)} °F"


def say_flow(flow: Flow, units: Units) -> str:
    """Say a flow to a tenth."""
    if units == "metric":
        return f"{_decimal(flow.gpm * LITRES_PER_GALLON, 1)} L/min"
    return f"{_decimal(flow.gpm, 1)} gpm"


def say_heat_rate(rate: HeatRate, units: Units) -> str:
    """Say a rate of heat: whole Btu/h, or kW to a tenth."""
    if units == "metric":
        return f"{_decimal(rate.btu_h / BTU_H_PER_KW, 1)} kW"
    return f"{_decimal(rate.btu_h, 0)} Btu/h"


def say_volume(volume: Volume, units: Units) -> str:
    """Say a volume: whole units from 10 up, else to a tenth."""
    amount = volume.gallons * LITRES_PER_GALLON if units == "metric" else volume.gallons
    return f"{_decimal(amount, 0 if amount >= 10 else 1)} {'L' if units == 'metric' else 'gal'}"


def say_slope(slope: Slope, units: Units) -> str:
    """Say a fall: `1/4 in per ft` to the nearest sixteenth, or per cent to a tenth."""
    if units == "metric":
        return f"{_decimal(slope.inches_per_foot / 0.12, 1)} %"
    sign = "-" if slope.inches_per_foot < 0 else ""
    return f"{sign}{_fraction(abs(slope.inches_per_foot), Fraction(1, 16))} in per ft"
