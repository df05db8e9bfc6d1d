"""Pressure at peak demand, stretch by stretch: as the codes size pipe.

Each stretch carries its own peak demand by fixture units, and costs what it costs at that flow;
from the source on, the losses and the height are taken off until the fixture is reached. The
demands of stretches do not add up to one state of the network, and are not meant to: they are
what each has to be able to carry.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from handbook.answers.flowing.demand import Load, Way
from handbook.answers.flowing.flow_case import Case, pipe_id, pipework, starts_behind
from handbook.house.hydraulics import Device, Hydraulics, Regulator, Stretch
from handbook.house.losses import Law, head

Element = Stretch | Device | Regulator


@dataclass(frozen=True)
class Step:
    """One link on the way at peak: what it carries, and the heads before and behind it in psi."""

    element: Element
    gpm: float
    before: float
    behind: float

    @property
    def loss(self) -> float:
        """What the link takes off the pressure, in psi."""
        return self.before - self.behind


@dataclass(frozen=True)
class Peak:
    """The loads of a house, ready to be walked down; `laws` replaces those of single links."""

    hydraulics: Hydraulics
    loads: Mapping[str, Load]
    laws: Mapping[str, Law] = field(default_factory=dict)

    def descent(self, way: Way, case: Case) -> tuple[Step, ...] | None:
        """Return the steps down a supply's way; None where one of them cannot be reckoned."""
        elements = self._from_the_start(way)
        start = self._start()
        if elements is None or start is None:
            return None
        at, steps = start, []
        for name in elements:
            element = element_of(self.hydraulics, name)
            gpm = self.loads[name].gpm if name in self.loads else None
            behind = None if gpm is None else self._behind(name, element, gpm, at, case)
            if gpm is None or behind is None:
                return None
            steps.append(Step(element, gpm, at, behind))
            at = behind
        return tuple(steps)

    def pressure(self, way: Way, height: float, case: Case) -> float | None:
        """Return the pressure left at an outlet that high, in psi."""
        steps = self.descent(way, case)
        return steps[-1].behind - head(height) if steps else None

    def _start(self) -> float | None:
        return next(iter(pipework(self.hydraulics, 0).sources.values()), None)

    def _from_the_start(self, way: Way) -> Sequence[str] | None:
        """Return the links from where the head is known on."""
        if not starts_behind(self.hydraulics):
            return way.links
        found = [n for n, name in enumerate(way.links) if name in self.hydraulics.regulators]
        return way.links[found[-1] + 1 :] if found else None

    def _behind(
        self, name: str, element: Element, gpm: float, before: float, case: Case
    ) -> float | None:
        if isinstance(element, Regulator):
            if element.set_psi is None:
                return None
            return min(before, element.set_psi + head(element.height) - element.falls * gpm)
        if element.laws is None:
            return None
        law = self.laws.get(name, element.laws[case])
        return before - (law.loss(gpm)[0] if gpm > 0 else 0.0)


def element_of(hydraulics: Hydraulics, name: str) -> Element:
    """Return the stretch, device or reducing valve that a link stands for."""
    if name in hydraulics.devices:
        return hydraulics.devices[name]
    if name in hydraulics.regulators:
        return hydraulics.regulators[name]
    return next(s for s in hydraulics.stretches.values() if pipe_id(s.id) == name)
