"""A pressure and a flow, each with the kinder figure beside it where the record leaves a range."""

from collections.abc import Iterable
from dataclasses import dataclass

SAME_PSI = 0.05
"""Two pressures nearer than this are one: no gauge shows the difference."""


@dataclass(frozen=True)
class Reading:
    """Flowing pressure in psi and flow in gpm: cautious, and kind. None where it cannot be had."""

    pressure_psi: float | None = None
    flow_gpm: float | None = None
    kind_pressure_psi: float | None = None
    kind_flow_gpm: float | None = None

    @property
    def is_range(self) -> bool:
        """Whether the two figures differ by more than a gauge shows."""
        low, high = self.pressure_psi, self.kind_pressure_psi
        return low is not None and high is not None and abs(high - low) > SAME_PSI


NOTHING = Reading()


def joined(sides: Iterable[Reading]) -> Reading:
    """Return a fixture's reading from those of its supplies: the lower pressure, the whole flow."""
    each = tuple(sides)
    return Reading(
        _least(side.pressure_psi for side in each),
        _sum(side.flow_gpm for side in each),
        _least(side.kind_pressure_psi for side in each),
        _sum(side.kind_flow_gpm for side in each),
    )


def _least(values: Iterable[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return min(known) if known else None


def _sum(values: Iterable[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return sum(known) if known else None
