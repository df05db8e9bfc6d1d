"""Measures said again, in the units that the house's people use.

Rounding is honest: a value is said to the step that it is known to, never finer.
"""

from __future__ import annotations

from fractions import Fraction

from handbook.measures.values import (
    BTU_H_PER_KW,
    KPA_PER_PSI,
    LITRES_PER_GALLON,
    METRES_PER_FOOT,
    MM_PER_INCH,
    PSI_PER_INCH_WATER,
    Flow,
    HeatRate,
    Length,
    Pressure,
    Slope,
    Temperature,
    Units,
    Velocity,
    Volume,
)


def decimal(value: float, places: int) -> str:
    """Say a number with at most `places` decimals and thousands set off: `199,000`, `2.5`."""
    text = f"{value:,.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def fraction(value: float, to: Fraction, joint: str = " ") -> str:
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
        said = f"{mm} mm" if mm < 1000 else f"{decimal(mm / 1000, 3)} m"
        return said if mm == 0 else sign + said
    taped = round(Fraction(abs(length.inches)) / to) * to
    feet, inches = divmod(taped, 12)
    parts = [f"{feet} ft"] if feet else []
    if inches or not feet:
        parts.append(f"{fraction(float(inches), to)} in")
    return (sign if taped else "") + " ".join(parts)


def say_pressure(pressure: Pressure, units: Units) -> str:
    """Say a water pressure: `68 psi` or `469 kPa`."""
    if units == "metric":
        return f"{decimal(pressure.psi * KPA_PER_PSI, 0)} kPa"
    return f"{decimal(pressure.psi, 0 if pressure.psi >= 10 else 1)} psi"


def say_gas_pressure(pressure: Pressure, units: Units) -> str:
    """Say a gas pressure: below 1 psi in inches of water, as the trade does; or in kPa."""
    if units == "metric":
        return f"{decimal(pressure.psi * KPA_PER_PSI, 2)} kPa"
    if pressure.psi < 1:
        return f"{decimal(pressure.psi / PSI_PER_INCH_WATER, 1)} in wc"
    return f"{decimal(pressure.psi, 1)} psi"


def say_temperature(temperature: Temperature, units: Units) -> str:
    """Say a temperature to the degree."""
    if units == "metric":
        return f"{decimal(temperature.celsius, 0)} °C"
    return f"{decimal(temperature.fahrenheit, 0)} °F"


def say_flow(flow: Flow, units: Units) -> str:
    """Say a flow to a tenth."""
    if units == "metric":
        return f"{decimal(flow.gpm * LITRES_PER_GALLON, 1)} L/min"
    return f"{decimal(flow.gpm, 1)} gpm"


def say_velocity(velocity: Velocity, units: Units) -> str:
    """Say how fast water runs, to a tenth."""
    if units == "metric":
        return f"{decimal(velocity.ft_s * METRES_PER_FOOT, 1)} m/s"
    return f"{decimal(velocity.ft_s, 1)} ft/s"


def say_heat_rate(rate: HeatRate, units: Units) -> str:
    """Say a rate of heat: whole Btu/h, or kW to a tenth."""
    if units == "metric":
        return f"{decimal(rate.btu_h / BTU_H_PER_KW, 1)} kW"
    return f"{decimal(rate.btu_h, 0)} Btu/h"


def say_volume(volume: Volume, units: Units) -> str:
    """Say a volume: whole units from 10 up, else to a tenth."""
    amount = volume.gallons * LITRES_PER_GALLON if units == "metric" else volume.gallons
    return f"{decimal(amount, 0 if amount >= 10 else 1)} {'L' if units == 'metric' else 'gal'}"


def say_slope(slope: Slope, units: Units) -> str:
    """Say a fall: `1/4 in per ft` to the nearest sixteenth, or per cent to a tenth."""
    if units == "metric":
        return f"{decimal(slope.inches_per_foot / 0.12, 1)} %"
    sign = "-" if slope.inches_per_foot < 0 else ""
    return f"{sign}{fraction(abs(slope.inches_per_foot), Fraction(1, 16))} in per ft"
