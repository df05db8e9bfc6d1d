"""The pipes of a house made ready for solving: cautious or kind, at rest or with outlets open.

In the cautious case whatever is not recorded takes the most that it may, in the kind case the
least; where the record is enough the two are the same.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from handbook.answers.flowing.outlets import Giving
from handbook.answers.flowing.pipe_network import Link, Outlet, Reducer, Solved, reached, solve
from handbook.house.hydraulics import Hydraulics, Tap
from handbook.house.losses import NO_LOSS, Friction, head

Case = Literal[0, 1]
CAUTIOUS: Case = 0
KIND: Case = 1

_NOMINAL = Friction(10.0, 0.7, 150.0)
"""Stands for a run of unknown cost where only the way of the water is asked for."""


@dataclass(frozen=True)
class Pipework:
    """Links, reducing valves and the heads of the sources; ids say what each link is."""

    sources: Mapping[str, float]
    links: tuple[Link, ...]
    reducers: tuple[Reducer, ...] = ()

    def solved(self, outlets: Iterable[Outlet] = ()) -> Solved:
        """Return heads and flows with these outlets open."""
        return solve(self.sources, self.links, self.reducers, tuple(outlets))


def pipe_id(stretch: str) -> str:
    """Return the id of a stretch among the links: a device may go by the same name."""
    return f"pipe to {stretch}"


def pipework(hydraulics: Hydraulics, case: Case) -> Pipework:
    """Return the pipes at the measured pressure; runs of unknown cost are left out of them.

    The street is taken to hold its static pressure. A gauge behind a reducing valve tells nothing
    of what is ahead of it; then the water starts behind the valve.
    """
    links = tuple(
        Link(pipe_id(s.id), s.a, s.b, s.laws[case], s.one_way)
        for s in hydraulics.stretches.values()
        if s.laws is not None
    ) + tuple(Link(d.id, d.a, d.b, d.laws[case], d.one_way) for d in hydraulics.devices.values())
    reducers = tuple(
        Reducer(r.id, r.a, r.b, r.set_psi + head(r.height), r.falls)
        for r in hydraulics.regulators.values()
        if r.set_psi is not None
    )
    gauge = hydraulics.gauge
    if gauge is None:
        return Pipework({}, links, reducers)
    level = gauge.psi + head(gauge.height)
    if behind := starts_behind(hydraulics):
        return Pipework(dict.fromkeys(behind, level), links, ())
    return Pipework(dict.fromkeys(hydraulics.sources, level), links, reducers)


def starts_behind(hydraulics: Hydraulics) -> tuple[str, ...]:
    """Return the nodes behind the reducing valves where the gauge was behind them, or none."""
    gauge, street = hydraulics.gauge, dict.fromkeys(hydraulics.sources, 0.0)
    if gauge is None or gauge.node in reached(street, _plain(hydraulics)):
        return ()
    return tuple(valve.b for valve in hydraulics.regulators.values())


def _plain(hydraulics: Hydraulics) -> list[Link]:
    """Return all that water passes but reducing valves, whether its cost is known or not."""
    links = [
        Link(pipe_id(s.id), s.a, s.b, s.laws[0] if s.laws else _NOMINAL, s.one_way)
        for s in hydraulics.stretches.values()
    ]
    return links + [Link(d.id, d.a, d.b, d.laws[0], d.one_way) for d in hydraulics.devices.values()]


def ways(hydraulics: Hydraulics) -> Pipework:
    """Return the pipes for finding which way water goes: at one head, every valve wide open."""
    links = _plain(hydraulics)
    links += [Link(r.id, r.a, r.b, NO_LOSS, True) for r in hydraulics.regulators.values()]
    return Pipework(dict.fromkeys(hydraulics.sources, 100.0), tuple(links))


def opened(tap: Tap, giving: Giving, sides: int) -> Outlet:
    """Return a tap's outlet: a mixing fixture draws the same share on each of its sides."""
    return Outlet(tap.id, tap.node, giving.k / sides, head(tap.height))
