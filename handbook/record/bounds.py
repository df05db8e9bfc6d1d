"""Between which bounds a figure lies: a field says which, `tables/figure_bounds.yaml` has them.

Beyond the outer bounds a figure cannot be and is refused (`figures`); beyond the usual ones a rule
asks about it. What was most likely meant is found by trying the slips that people make: the wrong
unit, a fraction without its one, a point or noughts too many or too few.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Any

from handbook.measures import NotationError
from handbook.tables import table

Parse = Callable[[str], Any]

UNITS = (
    ({"ft": 1000, "in": 120}, {"m": 300, "cm": 400, "mm": 4000}),
    ({"psi": 400}, {"kPa": 3000, "bar": 20}),
    ({"in wc": 60, "psi": 400}, {"kPa": 3000, "mbar": 500}),
    ({"Btu/h": 10_000_000, "MBH": 1000}, {"kW": 1000}),
    ({"gal": 1000}, {"L": 2000}),
    ({"in per ft": 12}, {"%": 50}),
    ({"F": 300}, {"C": 150}),
    ({"gpm": 100}, {"L/min": 1000}),
)
"""Units that are mixed up, US and metric, and up to which number each is written. Common practice,
no source."""

FRACTIONS = ("2", "3", "4", "8")
SHIFTS = (0.1, 0.01, 100, 10, 1000)
MOST_MEANT = 2


@dataclass(frozen=True)
class Within:
    """Marks a field in the grammar whose figure lies within the bounds of this name."""

    name: str


@dataclass(frozen=True)
class Bounds:
    """`least` and `most` that can be, `usual` from and to, and why nothing lies beyond."""

    least: Any
    most: Any
    usual: tuple[Any, Any]
    why: str

    def hold(self, value: Any) -> bool:
        """Whether a house can have this figure."""
        return size(self.least) <= size(value) <= size(self.most)

    def are_usual(self, value: Any) -> bool:
        """Whether houses commonly have such a figure."""
        return size(self.usual[0]) <= size(value) <= size(self.usual[1])


@cache
def bounds(name: str, parse: Parse, kind: str = "") -> Bounds:
    """Return the bounds of that name, in the notation that the field is written in; those of its
    `kind` of thing, where a floor drain's are others than a sink's."""
    said = table("figure_bounds").values[name]
    said = said | said.get("kinds", {}).get(kind, {})
    low, high = said["usual"]
    return Bounds(parse(said["least"]), parse(said["most"]), (parse(low), parse(high)), said["why"])


def size(value: Any) -> float:
    """Return a figure as a number: a measure's own one, which its first field holds."""
    return float(getattr(value, fields(value)[0].name) if is_dataclass(value) else value)


def meant(text: str, parse: Parse, within: Bounds) -> tuple[str, ...]:
    """Return what may have been meant by a text: of each kind of slip the first usual figure."""
    match = re.fullmatch(r"\s*(-?(?:\d[\d,]*)?(?:\.\d+)?)\s*([^\d\s].*?|)\s*", text, re.ASCII)
    if not match or not match[1].strip("-"):
        return ()
    number, unit = match[1].replace(",", ""), match[2]
    found: dict[float, str] = {}
    for slip in (_fraction, _unit_of_the_same, _shifted, _unit_of_the_other):
        for other in slip(number, unit):
            value = _read(other, parse)
            if value is not None and within.are_usual(value):
                found.setdefault(round(size(value), 4), other)
                break
    return tuple(found.values())[:MOST_MEANT]


def with_unit(text: str, parse: Parse, within: Bounds) -> tuple[str, ...]:
    """Return a bare number with each US unit in which it is usual; nothing if it is no number."""
    if not re.fullmatch(r"[\d\s./-]+", text, re.ASCII):
        return ()
    units = dict.fromkeys(unit for us, _ in UNITS for unit in us)
    read = ((f"{text.strip()} {unit}", _read(f"{text.strip()} {unit}", parse)) for unit in units)
    return tuple(said for said, value in read if value is not None and within.are_usual(value))


def _read(text: str, parse: Parse) -> Any | None:
    try:
        return parse(text)
    except NotationError:
        return None


def _fraction(number: str, unit: str) -> Iterator[str]:
    """The `1/` that was left out of a slope."""
    if unit == "in per ft" and number in FRACTIONS:
        yield f"1/{number} {unit}"


def _unit_of_the_same(number: str, unit: str) -> Iterator[str]:
    for system in (each for both in UNITS for each in both if _is_in(unit, each)):
        yield from _in_units(number, unit, system)


def _unit_of_the_other(number: str, unit: str) -> Iterator[str]:
    for us, metric in UNITS:
        for own, other in ((us, metric), (metric, us)):
            if _is_in(unit, own):
                yield from _in_units(number, unit, other)


def _is_in(unit: str, system: dict[str, int]) -> bool:
    return unit.lower() in (each.lower() for each in system)


def _in_units(number: str, unit: str, system: dict[str, int]) -> Iterator[str]:
    for other, most in system.items():
        if other.lower() != unit.lower() and abs(float(number)) <= most:
            yield f"{number} {other}"


def _shifted(number: str, unit: str) -> Iterator[str]:
    """The point or the noughts that are too many or too few."""
    for shift in SHIFTS:
        yield f"{round(float(number) * shift, 3):.15g} {unit}".strip()
