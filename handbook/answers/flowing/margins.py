"""What is left at peak: the worst fixture, what costs it most, and what would give it more.

The worst fixture is the one whose pressure, open at peak, is least above, or furthest below, what
it needs. On its way stand the pipe and the equipment that cost most, what can be set otherwise
before any pipe is changed, and the pipes of which one nominal size more gives most back.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from handbook.answers.flowing.adjustments import Adjustment, adjustments
from handbook.answers.flowing.demand import Way
from handbook.answers.flowing.flow_case import CAUTIOUS
from handbook.answers.flowing.peak import Peak, Running, Step
from handbook.answers.flowing.spare import Spare, spare
from handbook.answers.flowing.upsizing import Upsizing, upsizings
from handbook.house.house import House
from handbook.house.hydraulics import Device, Stretch


@dataclass(frozen=True)
class Cost:
    """What one run of pipe, or one piece of equipment, takes off the pressure, in psi."""

    id: str
    psi: float


@dataclass(frozen=True)
class Margins:
    """All of it is cautious. `steps` go from where the pressure is known to the worst fixture.

    `costliest` is the pipe on that way that costs most, `equipment` the device that does.
    `adjustments` is what can be set otherwise on it before any pipe is changed.
    `upsizings` are the pipes on it whose next size shows there, the most given back first.
    """

    worst: str
    supply: str
    pressure_psi: float
    need_psi: float
    steps: tuple[Step, ...]
    costliest: Cost | None
    equipment: Cost | None
    adjustments: tuple[Adjustment, ...]
    upsizings: tuple[Upsizing, ...]
    spare: Spare | None

    @property
    def left_psi(self) -> float:
        """What the worst fixture has above its need; below zero it has too little."""
        return self.pressure_psi - self.need_psi

    @property
    def upsizing(self) -> Upsizing | None:
        """What the next size of the costliest pipe gives back; None where nothing that shows."""
        costliest = self.costliest.id if self.costliest else None
        return next((each for each in self.upsizings if each.run == costliest), None)


def margins(
    house: House, peak: Peak, ways: Mapping[str, Way], needs: Mapping[str, float]
) -> Margins | None:
    """Return what is left; `needs` are the fixtures to look at, in psi. None where none can."""
    found = [
        (run.psi - needs[tap.owner], run.psi, tap, run)
        for tap in house.hydraulics.taps.values()
        if tap.owner in needs and tap.id in ways
        if (run := peak.running(tap, ways[tap.id], CAUTIOUS)) is not None
    ]
    if not found:
        return None
    _, psi, tap, worst = min(found, key=lambda each: each[:2])
    return Margins(
        tap.owner,
        tap.id,
        psi,
        needs[tap.owner],
        worst.steps,
        _costliest(worst, Stretch),
        _costliest(worst, Device),
        adjustments(house, peak, ways, tap, worst),
        upsizings(peak, ways[tap.id], tap, worst),
        spare(house, peak, ways, tap, needs[tap.owner]),
    )


def _costliest(worst: Running, kind: type[Stretch | Device]) -> Cost | None:
    found = (step for step in worst.steps if isinstance(step.element, kind))
    step = max(found, key=lambda step: step.loss, default=None)
    return Cost(step.element.id, step.loss) if step else None
