"""Pan: what its drain can carry off, against what could arrive in it.

The drain is an opening under the pan's own depth of water; what arrives is a burst at the thing
that stands in it. A pan is for drips: this says how far it is from a burst.
"""

from dataclasses import dataclass
from math import sqrt

from handbook.answers.spill import spill
from handbook.house.bores import bores
from handbook.house.house import House
from handbook.record.grammar.common import Ending, WaterRun, each, given
from handbook.record.grammar.safeguards import Pan, Safeguards
from handbook.tables import table


@dataclass(frozen=True)
class PanFlow:
    """Gallons a minute; None where the record does not say enough, and `missing` says what."""

    pan: str
    under: str | None
    carries_gpm: float | None
    burst_gpm: float | None
    missing: tuple[str, ...]

    @property
    def holds_a_burst(self) -> bool | None:
        """Whether the drain keeps up with a burst; None where that cannot be told."""
        if self.carries_gpm is None or self.burst_gpm is None:
            return None
        return self.carries_gpm >= self.burst_gpm


def pans(house: House) -> tuple[PanFlow, ...]:
    """Return each pan with what its drain carries and what a burst would bring."""
    guards = house.record.safeguards or Safeguards()
    return tuple(_pan(house, pan) for pan in each(guards.pans))


def _pan(house: House, pan: Pan) -> PanFlow:
    missing = []
    ending = given(pan.drain)
    bore = _bore(ending)
    if bore is None:
        missing.append(f"the size and material of the drain of {pan.id}")
    if pan.depth is None:
        missing.append(f"how deep {pan.id} is")
    carries = None
    if bore is not None and pan.depth is not None:
        opening = table("openings").values
        psi = table("water_head").values["psi_per_ft"] * pan.depth.feet
        carries = opening["constant"] * opening["sharp_hole"] * bore**2 * sqrt(psi)
    burst = None
    if pan.under in house.water.bodies:
        found = spill(house, pan.under or "")
        burst = found.gpm
        missing += found.missing if burst is None else ()
    return PanFlow(pan.id, pan.under, carries, burst, tuple(missing))


def _bore(ending: Ending | None) -> float | None:
    """Return the drain's bore in inches, by the same standards as supply pipe of its material."""
    run = ending.by if ending else None
    material = getattr(run, "material", None)
    if run is None or run.size is None or material is None:
        return None
    found = bores(WaterRun.model_construct(size=run.size, material=material, bore=None))
    return found[0] if found else None
