"""The laws of water in pipe, from their tables: friction, velocity, outlets, height.

Flows in gpm, lengths in feet, bores in inches, pressures in psi. Hazen-Williams holds for cold
water in turbulent flow; hot water runs a little easier, which is left on the safe side.
"""

from dataclasses import dataclass
from functools import cached_property
from math import sqrt
from typing import Protocol

from handbook.tables import table


class Law(Protocol):
    """How a loss of pressure grows with the flow."""

    def loss(self, gpm: float) -> tuple[float, float]:
        """Return the loss in psi at a flow above zero, and its slope in psi a gpm."""
        ...


@dataclass(frozen=True)
class Friction:
    """Pipe by Hazen-Williams: `feet` with its fittings' equivalent length, `bore`, and its C."""

    feet: float
    bore: float
    c: float

    @cached_property
    def _factors(self) -> tuple[float, float]:
        law = table("friction").values
        power = law["flow_power"]
        smooth = self.c**power * self.bore ** law["bore_power"]
        return law["constant"] * self.feet / smooth, power

    def loss(self, gpm: float) -> tuple[float, float]:
        """Return the loss, and its slope."""
        factor, power = self._factors
        psi = factor * gpm**power
        return psi, power * psi / gpm


@dataclass(frozen=True)
class Square:
    """A loss that grows with the square of the flow: `psi` at `gpm`."""

    psi: float
    gpm: float

    def loss(self, gpm: float) -> tuple[float, float]:
        """Return the loss, and its slope."""
        k = self.psi / self.gpm**2
        return k * gpm**2, 2 * k * gpm


NO_LOSS = Square(0.0, 1.0)


@dataclass(frozen=True)
class Printed:
    """A printed table of (gpm, psi): straight between its points, from nothing at rest.

    Beyond the last point the loss is carried on with the square of the flow; who asks has to say
    that it is no longer the table's (`ends`).
    """

    points: tuple[tuple[float, float], ...]

    @property
    def ends(self) -> float:
        """The largest flow that the table prints."""
        return self.points[-1][0]

    def loss(self, gpm: float) -> tuple[float, float]:
        """Return the loss, and its slope."""
        before, below = 0.0, 0.0
        for at, psi in self.points:
            if gpm <= at:
                slope = (psi - below) / (at - before)
                return below + slope * (gpm - before), slope
            before, below = at, psi
        return Square(below, before).loss(gpm)


def velocity(gpm: float, bore: float) -> float:
    """Return how fast water runs, in feet a second."""
    factor: float = table("friction").values["velocity"]
    return factor * gpm / bore**2


def head(feet: float) -> float:
    """Return what a height is worth in psi."""
    factor: float = table("water_head").values["psi_per_ft"]
    return factor * feet


def outlet_k(gpm: float, psi: float) -> float:
    """Return k of an outlet that gives `gpm` at `psi`: gpm = k sqrt(psi)."""
    return gpm / sqrt(psi)


def opening_k(bore: float, discharge: float) -> float:
    """Return k of an opening: `discharge` is 1 for an open end, less for a hole."""
    constant: float = table("openings").values["constant"]
    return constant * discharge * bore**2
