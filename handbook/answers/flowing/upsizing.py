"""One size more: what a larger pipe on the way to the worst fixture gives back there.

Each pipe on that way is tried in its next nominal size, one at a time, its fittings and valve as
they are recorded, and the fixture is solved again. What shows on no gauge is not told.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from handbook.answers.flowing.demand import Way
from handbook.answers.flowing.flow_case import CAUTIOUS, pipe_id
from handbook.answers.flowing.peak import Peak, Running
from handbook.answers.flowing.readings import SAME_PSI
from handbook.house.bores import next_size
from handbook.house.hydraulics import Stretch, Tap
from handbook.house.stretches import laws_of
from handbook.measures import parse_pipe_size

TOLD = 3
"""How many are told, those that give back most."""


@dataclass(frozen=True)
class Upsizing:
    """What the next size of one run gives the worst fixture, and the pressure there with it."""

    run: str
    length_ft: float
    from_size: str
    to_size: str
    gives_back_psi: float
    pressure_psi: float


def upsizings(peak: Peak, way: Way, tap: Tap, now: Running) -> tuple[Upsizing, ...]:
    """Return every pipe on the way whose next size shows at the tap, the most given back first.

    `now` is the tap open at peak as the pipes are. Of two that give the same the shorter is first.
    """
    found = _upsizings(peak, way, tap, now)
    return tuple(sorted(found, key=lambda each: (-each.gives_back_psi, each.length_ft)))


def _upsizings(peak: Peak, way: Way, tap: Tap, now: Running) -> Iterator[Upsizing]:
    for pipe in (step.element for step in now.steps if isinstance(step.element, Stretch)):
        run = pipe.run
        larger = next_size(run) if run else None
        if run is None or run.length is None or larger is None:
            continue
        size, bores = larger
        laid = run.model_copy(update={"size": parse_pipe_size(size), "bore": None})
        law = laws_of(laid, bores, pipe.valve)[CAUTIOUS]
        better = replace(peak, laws={pipe_id(pipe.id): law}).running(tap, way, CAUTIOUS)
        if better is not None and (back := better.psi - now.psi) > SAME_PSI:
            yield Upsizing(pipe.id, run.length.feet, str(run.size), size, back, better.psi)
