"""Which drain cable fits: every pipe on its way in its range, and long enough to get there.

Where no one range takes all pipe on the way, a cable of a size that two ranges share may. The
ranges are common practice (`tables/drain_cables`). A size or a length that is not recorded is
never taken to fit: the answer then says which it is.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
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
from handbook.measures.saying import fraction
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
    shared: bool
    """Whether no one range takes all pipe, and the cable is of a size that two ranges share."""


def fitting(sizes: Iterable[PipeSize | None], far: Cable) -> tuple[Fit, ...]:
    """Return the cables that fit this way, from the smallest; none where a size is unknown."""
    inches = [size.inches if size else None for size in sizes]
    known = [size for size in inches if size is not None]
    if None in inches or not known:
        return ()
    rows = table("drain_cables").values["ranges"]
    one = [row for row in rows if all(_takes(row, size) for size in known)]
    return tuple(_fit(row, far) for row in one or _shared(rows, known))


def _takes(row: dict[str, Any], size: float) -> bool:
    least, most = row["pipe_in"]
    return bool(least - NAME_SLACK_IN <= size <= most + NAME_SLACK_IN)


def _shared(rows: Sequence[dict[str, Any]], sizes: list[float]) -> list[dict[str, Any]]:
    """Return the cable sizes that two ranges share, where the two together take all pipe sizes.

    Such a cable is taken to be no longer than those of either range are.
    """
    found = []
    for pair in combinations(rows, 2):
        thin, thick = (
            max(row["cable_in"][0] for row in pair),
            min(row["cable_in"][1] for row in pair),
        )
        if thin <= thick and all(any(_takes(row, size) for row in pair) for size in sizes):
            found.append(
                {
                    "id": "+".join(row["id"] for row in pair),
                    "said": "a cable",
                    "cable_in": [thin, thick],
                    "reach_ft": [min(row["reach_ft"][end] for row in pair) for end in (0, 1)],
                }
            )
    return found


def _fit(row: dict[str, Any], far: Cable) -> Fit:
    shortest, longest = row["reach_ft"]
    gets_there = None if far.high is None else far.high <= longest * FOOT
    if far.low > longest * FOOT:
        gets_there = False
    thin, thick = (fraction(inches, Fraction(1, 16)) for inches in row["cable_in"])
    cable = f"{thin} in" if thin == thick else f"{thin} to {thick} in"
    shared = "pipe_in" not in row
    return Fit(row["id"], row["said"], cable, (shortest, longest), gets_there, shared)


def advice(steps: Sequence[Reached], units: Units) -> str:
    """Return which cable to take for these steps of one way: `a main line cable, 3/8 to 1/2 in`.

    It is one that fits as far down the way as any does; in a building sewer, what roots ask for
    is said too.
    """
    if None in steps[0].sizes:
        return "which cable fits cannot be told, as a size on the way is not recorded"
    step = next((step for step in reversed(steps) if fitting(step.sizes, step.far)), None)
    if step is None:
        return "no one cable takes all sizes on the way"
    fits = fitting(step.sizes, step.far)
    longest_made = max(fits, key=lambda fit: fit.reach_ft[1])
    best = next((fit for fit in fits if fit.gets_there), longest_made)
    said = f"{best.said}, {best.cable}"
    if step is not steps[-1]:
        said += f", as far as {step.stretch}"
    roots = _roots(fits, best, units) if step.sewer else ""
    return said + _too_short(best, units) + roots


def _too_short(fit: Fit, units: Units) -> str:
    """Return how long such cables are, where the longest may not get to the far end."""
    if fit.gets_there:
        return ""
    longest = say_length(Length(fit.reach_ft[1] * FOOT), units)
    if fit.gets_there is None:
        return f", of up to {longest}; how far it has to go is not recorded"
    return f", of up to {longest}, which does not get to the far end"


def _roots(fits: tuple[Fit, ...], best: Fit, units: Units) -> str:
    """Return what to take for roots in a sewer, where the cable named is a light one."""
    asked = table("drain_cables").values["roots"]
    if best.id == asked:
        return ""
    heavy = next((fit for fit in fits if fit.id == asked), None)
    if heavy is None:
        return "; too light for roots"
    return f"; for roots {heavy.said}, {heavy.cable}{_too_short(heavy, units)}"


def jetting(units: Units) -> str:
    """Return what jetters run at, and what comes before one: `1,500 to 4,000 psi, ...`."""
    values = table("drain_jetting").values
    low, high = (say_pressure(Pressure(psi), units) for psi in values["pressure_psi"])
    least, most = (say_flow(Flow(gpm), units) for gpm in values["flow_gpm"])
    return f"a jetter of {low} to {high} and {least} to {most}; first {values['first']}"
