"""What pressure a stretch of the gas line has, and so which tables rule it; the meter's class.

Tags and badges are recorded as they are written, so a pressure or a class is looked for in words;
what cannot be read there is asked for, or taken as ordinary low pressure, which carries least.
"""

from __future__ import annotations

import re
from dataclasses import replace

from handbook.answers.gas_sizing.gas_tables import LOW, LOW_3_INCH, PROPANE, TWO_PSI, System
from handbook.house.gas import GasNode
from handbook.measures import PSI_PER_INCH_WATER, NotationError, Pressure, parse_pressure
from handbook.record.grammar.gas import Gas
from handbook.tables import table

CUBIC_FEET_PER_CUBIC_METRE = 1 / 0.3048**3
SAME = 0.02
"""Two pressures that differ by less than this share are one."""

_NUMBER = r"\d[\d.,]*(?:[ -]\d+/\d+)?"
_PRESSURE = re.compile(
    rf"({_NUMBER})\s*(in\.? ?w\.? ?c\.?|inches of water|psig?|kpa|mbar|bar)(?![a-z])", re.IGNORECASE
)
_CUBIC_FEET = re.compile(rf"({_NUMBER})\s*(?:cubic f|cu\.? ?f|cfh|cf\b|ft3|ft³)", re.IGNORECASE)
_CUBIC_METRES = re.compile(rf"({_NUMBER})\s*(?:cubic m|m3|m³)", re.IGNORECASE)


def pressure_in(words: str | None) -> Pressure | None:
    """Return the first pressure written in some words, such as `7 in wc at the tag`."""
    found = _PRESSURE.search(words or "")
    if not found:
        return None
    number, unit = found.groups()
    unit = "in wc" if unit.lower().startswith("in") else unit
    try:
        return parse_pressure(f"{number} {unit}")
    except NotationError:
        return None


def meter_class(words: str | None) -> float | None:
    """Return the class on a meter's badge in cubic feet an hour: `425 cfh`, `class 250`."""
    if found := _CUBIC_FEET.search(words or ""):
        return _plain(found[1])
    if found := _CUBIC_METRES.search(words or ""):
        return _plain(found[1]) * CUBIC_FEET_PER_CUBIC_METRE
    classes: list[int] = table("gas_meters").values["classes_cfh"]
    numbers = {int(number) for number in re.findall(r"\d+", words or "")}
    return float(min(numbers)) if len(numbers) == 1 and numbers <= set(classes) else None


def _plain(number: str) -> float:
    return float(number.replace(",", "").rstrip("."))


def system_of(gas: Gas, head: GasNode, assumed: dict[str, None]) -> System | str:
    """Return which tables rule the pipe behind a meter or regulator, or what stands in the way.

    What had to be taken for granted is added to `assumed`.
    """
    if gas.fuel is None:
        return "the fuel, natural gas or propane (`gas: fuel`)"
    delivered = pressure_in(head.delivers)
    if delivered is None:
        assumed[
            f"ordinary low pressure behind {head.id}, which carries least "
            "(its pressure is not recorded in a form that can be read)"
        ] = None
    if gas.fuel == "propane":
        return _propane(gas, delivered, assumed)
    return _natural(gas, delivered, assumed)


def _natural(gas: Gas, delivered: Pressure | None, assumed: dict[str, None]) -> System | str:
    if delivered and _same(delivered.psi, 2.0):
        return TWO_PSI
    if delivered and delivered.psi > 2.0:
        return f"a table for natural gas at {delivered.text}; none is kept here"
    drop = _drop(gas, assumed)
    if _same(drop, float(LOW.drop_inwc or 0)):
        most = float(table("gas_equation").values["most_psi"])
        high = delivered is not None and delivered.psi >= most
        return replace(LOW, drop_inwc=None) if high else LOW
    if not _same(drop, float(LOW_3_INCH.drop_inwc or 0)):
        return f"a table for a pressure drop of {drop:g} in wc; none is kept here"
    least = float(table(LOW_3_INCH.steel).values["delivered_least_inwc"])
    if delivered is None or delivered.psi / PSI_PER_INCH_WATER < least * (1 - SAME):
        return f"that {least:g} in wc or more is delivered, which a drop of 3 in wc asks for"
    return LOW_3_INCH


def _propane(gas: Gas, delivered: Pressure | None, assumed: dict[str, None]) -> System | str:
    most = float(table("gas_equation").values["most_psi"])
    if delivered and delivered.psi >= most:
        return f"a table for propane at {delivered.text}; none is kept here"
    drop = _drop(gas, assumed)
    if not _same(drop, float(PROPANE.drop_inwc or 0)):
        return f"a table for propane and a drop of {drop:g} in wc; none is kept here"
    return PROPANE


def _drop(gas: Gas, assumed: dict[str, None]) -> float:
    """Return the pressure drop that the low-pressure pipe was sized for, in inches of water."""
    if gas.drop is None:
        assumed["a pressure drop of 0.5 in wc, as ordinary pipe is sized (`gas: drop`)"] = None
        return float(LOW.drop_inwc or 0)
    return gas.drop.psi / PSI_PER_INCH_WATER


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME * other
