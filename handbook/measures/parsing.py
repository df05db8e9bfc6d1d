"""Trade notation read: `12 ft 6 in`, `3/4 in`, `68 psi`, `199,000 Btu/h`, or metric.

A bare number where a unit is needed is refused, with an example, never guessed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from fractions import Fraction

from handbook.measures.saying import decimal, fraction
from handbook.measures.values import (
    BTU_H_PER_KW,
    KPA_PER_PSI,
    LITRES_PER_GALLON,
    MM_PER_INCH,
    PSI_PER_INCH_WATER,
    Flow,
    HeatRate,
    Length,
    PipeSize,
    Pressure,
    Run,
    Slope,
    Temperature,
    Volume,
)

LONGEST_TEXT = 60


class NotationError(ValueError):
    """A text that cannot be read: `message` says what is wrong, `hint` what is expected."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


_WHOLE = r"\d{1,3}(?:,\d{3}){1,3}|\d{1,9}"
_FRACTION = r"\d{1,4}/\d{1,4}"
_NUMBER = rf"(?:\d{{1,4}}[ -]{_FRACTION}|{_FRACTION}|(?:{_WHOLE})(?:\.\d{{1,9}})?|\.\d{{1,9}})"
_AMOUNT = re.compile(rf"(-?) ?({_NUMBER}) ?(\D.*)?", re.ASCII)
_FEET_AND_INCHES = re.compile(
    rf"(-?) ?({_NUMBER}) ?(?:ft|feet|foot|')(?:-| - | ?)({_NUMBER}) ?(?:in|inch|inches|\")",
    re.ASCII,
)
# What phones write by themselves, by code point: curly quotes and primes, dashes, a degree sign.
_PHONE_SIGNS = {
    **dict.fromkeys((0x2018, 0x2019, 0x2032), "'"),
    **dict.fromkeys((0x201C, 0x201D, 0x2033), '"'),
    **dict.fromkeys((0x2010, 0x2011, 0x2012, 0x2013, 0x2212), "-"),
    0xBA: "\N{DEGREE SIGN}",
}


def _tidy(text: str) -> str:
    """Fold curly quotes, dashes and one-sign fractions into plain signs and single spaces."""
    if len(text) > LONGEST_TEXT:
        raise NotationError(f"{text[:20]!r}... is too long for a measurement")
    spaced = re.sub(r"(?<=\d)([¼½¾⅐-⅞])", r" \1", text.translate(_PHONE_SIGNS))
    plain = unicodedata.normalize("NFKC", spaced).replace("\N{FRACTION SLASH}", "/")
    return re.sub(r"\s+", " ", plain).strip()


def _number(text: str) -> float:
    """Read `6 1/2`, `1-1/4`, `3/4`, `199,000` or `2.5`; no sign."""
    total = Fraction(0)
    for part in re.split(r"[ -]", text.replace(",", "")):
        if "/" in part and int(part.split("/")[1]) == 0:
            raise NotationError(f"{text!r} divides by zero")
        total += Fraction(part)
    return float(total)


def _amount(text: str, factors: Mapping[str, float], like: str) -> float:
    """Read one number with one unit; `factors` turns each unit (lower case) into ours."""
    hint = f"write it like {like}"
    match = _AMOUNT.fullmatch(_tidy(text))
    if not match:
        raise NotationError(f"{text!r} is not a measurement", hint)
    sign, number, unit = match.groups()
    if unit is None:
        raise NotationError(f"{text!r} has no unit", hint)
    if unit.lower() not in factors:
        raise NotationError(f"{text!r}: the unit {unit!r} is not known here", hint)
    value = _number(number) * factors[unit.lower()]
    return -value if sign else value


def _not_negative(value: float, text: str, like: str) -> float:
    if value < 0:
        raise NotationError(f"{text!r} is less than nothing", f"write it like {like}")
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
    ("in per ft|in/ft|inch per foot|in per foot|in. per ft|in/foot|inches per foot", 1.0),
    ('" per ft|" per foot|"/ft|"/foot', 1.0),
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
        raise NotationError(f"{text!r} has {inches} inches after the feet", "a foot has 12 inches")
    value = _number(feet) * 12 + _number(inches)
    return Length(-value if sign else value, text)


def parse_pressure(text: str) -> Pressure:
    """Read a gauge pressure, also a gas pressure as `7 in wc`."""
    value = _amount(text, _PRESSURES, PRESSURES_LIKE)
    return Pressure(_not_negative(value, text, PRESSURES_LIKE), text)


def parse_temperature(text: str) -> Temperature:
    """Read a temperature in F or C, with or without the degree sign."""
    plain = re.sub(r" ?(?:°|deg|degrees) ?(?=[FC]$)", " ", _tidy(text), flags=re.IGNORECASE)
    value = _amount(plain, {"f": 1.0, "c": 1.0}, TEMPERATURES_LIKE)
    return Temperature(value * 1.8 + 32 if plain[-1] in "cC" else value, text)


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
    except NotationError as error:
        raise NotationError(error.message, like) from None
    if not 0 < inches <= 60:
        raise NotationError(f"{text!r} is not a pipe size", like)
    if _tidy(text).lower().endswith("m"):
        return PipeSize(inches, f"{decimal(inches * MM_PER_INCH, 1)} mm")
    is_taped = (inches * 16).is_integer()
    name = fraction(inches, Fraction(1, 16), "-") if is_taped else decimal(inches, 4)
    return PipeSize(inches, f"{name} in")


def parse_run(text: str) -> Run:
    """Read `22 ft of 3/4 in PEX`: how long, what size, and what it is made of.

    The material is the rest of the text as written; the grammar decides which ones exist.
    """
    like = f"write it like {RUNS_LIKE}"
    match = re.fullmatch(r"\s*(.+?)\s+of\s+(.+?\s*(?:in|inch|mm|\"))\s+(\S.*?)\s*", text)
    if not match:
        meant = _with_of(text)
        hint = f"did you mean `{meant}`?" if meant else like
        raise NotationError(f"{text!r} does not say a length, a size and a material", hint)
    length, size, material = match.groups()
    try:
        reach = parse_length(length)
    except NotationError as error:
        raise NotationError(error.message, like) from None
    _not_negative(reach.inches, text, RUNS_LIKE)
    return Run(reach, parse_pipe_size(size), re.sub(r"\s+", " ", material))


def _with_of(text: str) -> str:
    """Return a run with the `of` that it lacks between its length and its size; else nothing."""
    words = text.split()
    for at in range(len(words) - 2, 1, -1):
        whole = f"{' '.join(words[:at])} of {' '.join(words[at:])}"
        try:
            parse_length(" ".join(words[:at]))
            run = parse_run(whole) if "of" not in words else None
        except NotationError:
            continue
        return whole if run and run.material else ""
    return ""
