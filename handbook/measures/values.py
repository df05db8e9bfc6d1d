"""What is measured in a house, each kind as a small frozen value in one unit.

Each holds a float in the unit that its field names; `text` is what was written, and does not
count when two values are compared.

Conversions: NIST Special Publication 811 (2008), appendix B.8; exact where it prints bold.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Units = Literal["US", "metric"]

METRES_PER_FOOT = 0.3048  # NIST SP 811, exact
MM_PER_INCH = 25.4  # NIST SP 811, exact
KPA_PER_PSI = 6.894757  # NIST SP 811
PSI_PER_INCH_WATER = 0.249082 / KPA_PER_PSI  # NIST SP 811, inch of water at 39.2 F in kPa
LITRES_PER_GALLON = 3.785411784  # NIST SP 811, US liquid gallon, exact
JOULES_PER_BTU = 1055.05585262  # NIST SP 811, Btu of the International Table, exact
BTU_H_PER_KW = 3600 * 1000 / JOULES_PER_BTU


@dataclass(frozen=True, order=True)
class Length:
    """A length in inches; below zero only where it is an elevation or a coordinate."""

    inches: float
    text: str = field(default="", compare=False)

    @property
    def feet(self) -> float:
        """The length in feet."""
        return self.inches / 12

    @property
    def metres(self) -> float:
        """The length in metres."""
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
        """The temperature in degrees Celsius."""
        return (self.fahrenheit - 32) / 1.8


@dataclass(frozen=True, order=True)
class Flow:
    """A flow in US gallons per minute."""

    gpm: float
    text: str = field(default="", compare=False)


@dataclass(frozen=True, order=True)
class Velocity:
    """How fast water runs, in feet a second."""

    ft_s: float
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
