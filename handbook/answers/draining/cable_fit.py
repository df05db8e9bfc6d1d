"""Which drain cable fits: every pipe on its way in its range, and long enough to get there.

The ranges are common practice (`tables/drain_cables`). A size or a length that is not recorded
is never taken to fit: the answer then says which it is.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from handbook.answers.draining.cable_walk import Cable, Reached
from handbook.measures import (
    Flow,
    Length,
    PipeSize,
    Pressure,
    Units,
    say_flow,
    say_length,
    say_pressure,
)
from handbook.tables import table

NAME_SLACK_IN = 0.1
"""A nominal size in millimetres is a name too: `100 mm` stands for 4 in although it is 3.94."""
FOOT = 12


@dataclass(frozen=True)
class Fit:
    """A cable that fits all pipe on the way; `reach_ft` is how long such cables are.

    `gets_there`: the longest of them goes to the far end; None where the far end is not recorded.
    """

    id: str
    said: str
    cable: str
    reach_ft: tuple[float, float]
    gets_there: bool | None


def fitting(sizes: Iterable[PipeSize | None], far: Cable) -> tuple[Fit, ...]:
    """Return the cables that fit this way, from the smallest; none where a size is unknown."""
    inches = [size.inches if size else None for size in sizes]
    known = [size for size in inches if size is not None]
    if None in inches or not known:
        return ()
    rows = table("drain_cables").values["ranges"]
    return tuple(_fit(row, far) for row in rows if _takes(row, known))


def _takes(row: dict[str, Any], sizes: list[float]) -> bool:
    least, most = row["pipe_in"]
    return bool(least - NAME_SLACK_IN <= min(sizes) and max(sizes) <= most + NAME_SLACK_IN)


def _fit(row: dict[str, Any], far: Cable) -> Fit:
    shortest, longest = row["reach_ft"]
    gets_there = None if far.high is None else far.high <= longest * FOOT
    if far.low > longest * FOOT:
        gets_there = False
    return Fit(row["id"], row["said"], row["cable"], (shortest, longest), gets_there)


def advice(steps: Sequence[Reached], units: Units) -> str:
    """Return which cable to take for these steps of one way: `a main line cable, 3/8 to 1/2 in`.

    It is one that fits as far down the way as any does.
    """
    if None in steps[0].sizes:
        return "which cable fits cannot be told, as a size on the way is not recorded"
    step = next((step for step in reversed(steps) if fitting(step.sizes, step.far)), None)
    if step is None:
        return "no one range of cables takes all sizes on the way"
    fits = fitting(step.sizes, step.far)
    best = next((fit for fit in fits if fit.gets_there), fits[-1])
    said = f"{best.said}, {best.cable}"
    if step is not steps[-1]:
        said += f", as far as {step.stretch}"
    if best.gets_there:
        return said
    longest = say_length(Length(best.reach_ft[1] * FOOT), units)
    if best.gets_there is None:
        return f"{said}, of up to {longest}; how far it has to go is not recorded"
    return f"{said}, of up to {longest}, which does not get to the far end"


def jetting(units: Units) -> str:
    """Return what jetters run at, and what comes before one: `1,500 to 4,000 psi, ...`."""
    values = table("drain_jetting").values
    low, high = (say_pressure(Pressure(psi), units) for psi in values["pressure_psi"])
    least, most = (say_flow(Flow(gpm), units) for gpm in values["flow_gpm"])
    return f"a jetter of {low} to {high} and {least} to {most}; first {values['first']}"
