"""Pressure at peak demand, stretch by stretch, down the way to an outlet.

Each stretch carries its own peak demand by fixture units, and costs what it costs at that flow;
from the source on, the losses and the height are taken off until the outlet is reached: that is
`pressure`, as the codes size pipe. The demands of stretches do not add up to one state of the
network, and are not meant to: they are what each has to be able to carry.

An outlet wide open may draw more than its fixture units are worth; then the stretch carries what
it draws. So `running` is the outlet open while the house is busy, and never gives more than the
outlet gives alone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import sqrt

from handbook.answers.flowing.demand import Load, Way
from handbook.answers.flowing.flow_case import Case, pipe_id, pipework, starts_behind
from handbook.house.hydraulics import Device, Hydraulics, Regulator, Stretch, Tap
from handbook.house.losses import Law, head

Element = Stretch | Device | Regulator
Flows = Mapping[str, float]
"""By link: gallons a minute."""

_HALVINGS = 40
"""Halvings of the range in which an outlet's flow is looked for."""


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
class Draw:
    """What an outlet draws alone and wide open: gpm = `k` sqrt(psi), and that flow by link."""

    k: float
    gpm: float
    links: Flows


@dataclass(frozen=True)
class Running:
    """An outlet open at peak: the steps down its way, the psi left at it, and its gpm."""

    steps: tuple[Step, ...]
    psi: float
    gpm: float | None


@dataclass(frozen=True)
class Peak:
    """The loads of a house, ready to be walked down; `laws` replaces those of single links.

    `draws` says what outlets draw alone, by supply and case; one of unknown size is not in it.
    """

    hydraulics: Hydraulics
    loads: Mapping[str, Load]
    laws: Mapping[str, Law] = field(default_factory=dict)
    draws: Mapping[tuple[str, Case], Draw] = field(default_factory=dict)

    def running(self, tap: Tap, way: Way, case: Case) -> Running | None:
        """Return an outlet wide open at peak; None where its way cannot be reckoned."""
        links, draw = self._links(way), self.draws.get((tap.id, case))
        start = self._start()

        def at(part: float) -> Running | None:
            drawn = {link: gpm * part for link, gpm in draw.links.items()} if draw else {}
            steps = self._down(links, case, drawn, start)
            psi = steps[-1].behind - head(tap.height) if steps else 0.0
            gives = draw.k * sqrt(max(0.0, psi)) if draw else None
            return Running(steps, psi, gives) if steps else None

        if draw is None or draw.gpm <= 0 or at(0.0) is None:
            return at(0.0)
        low, high = 0.0, 1.0
        while _more(at(high), high * draw.gpm):
            high *= 2  # a larger pipe than the recorded one may give more than it does alone
        for _ in range(_HALVINGS):
            part = (low + high) / 2
            low, high = (part, high) if _more(at(part), part * draw.gpm) else (low, part)
        return at(low)

    def descent(self, way: Way, case: Case) -> tuple[Step, ...] | None:
        """Return the steps down a supply's way; None where one of them cannot be reckoned."""
        return self._down(self._links(way), case, {}, self._start())

    def _down(
        self,
        links: Sequence[tuple[str, Element]] | None,
        case: Case,
        drawn: Flows,
        start: float | None,
    ) -> tuple[Step, ...] | None:
        """Step down these links, each carrying its load, or what is drawn where that is more."""
        at, steps = start, []
        for name, element in links or ():
            load = self.loads[name].gpm if name in self.loads else None
            if at is None or load is None:
                return None
            gpm = max(load, drawn.get(name, 0.0))
            behind = self._behind(name, element, gpm, at, case)
            if behind is None:
                return None
            steps.append(Step(element, gpm, at, behind))
            at = behind
        return tuple(steps) or None

    def pressure(self, way: Way, height: float, case: Case) -> float | None:
        """Return the pressure left at an outlet that high, in psi."""
        steps = self.descent(way, case)
        return steps[-1].behind - head(height) if steps else None

    def _start(self) -> float | None:
        return next(iter(pipework(self.hydraulics, 0).sources.values()), None)

    def _links(self, way: Way) -> Sequence[tuple[str, Element]] | None:
        """Return the links from where the head is known on, and what each stands for."""
        names: Sequence[str] = way.links
        if starts_behind(self.hydraulics):
            found = [n for n, name in enumerate(names) if name in self.hydraulics.regulators]
            if not found:
                return None
            names = names[found[-1] + 1 :]
        return [(name, element_of(self.hydraulics, name)) for name in names]

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


def _more(running: Running | None, gpm: float) -> bool:
    return running is not None and running.gpm is not None and running.gpm > gpm


def element_of(hydraulics: Hydraulics, name: str) -> Element:
    """Return the stretch, device or reducing valve that a link stands for."""
    if name in hydraulics.devices:
        return hydraulics.devices[name]
    if name in hydraulics.regulators:
        return hydraulics.regulators[name]
    return next(s for s in hydraulics.stretches.values() if pipe_id(s.id) == name)
