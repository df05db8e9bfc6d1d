"""The water that stands in pipes above a level: what runs out once they are open there."""

from collections.abc import Collection
from dataclasses import dataclass

from handbook.answers.flowing.pipe_volume import volume
from handbook.house.hydraulics import Hydraulics


@dataclass(frozen=True)
class Standing:
    """Gallons above the level, those of runs whose height is not known, and the top in feet."""

    gallons: float
    unsure: float
    top_ft: float


def standing(pipes: Hydraulics, joined: Collection[str], level: float | None) -> Standing:
    """Add up what stands above a level in the runs that end at one of the `joined` nodes."""
    sure, unsure, top = 0.0, 0.0, 0.0
    for stretch in pipes.stretches.values():
        held = volume(stretch.run) if stretch.run and stretch.end in joined else None
        if held is None:
            continue
        ends = (height(pipes, stretch.from_), height(pipes, stretch.id))
        share = _share_above(level, ends)
        sure += held.gallons * (share or 0.0)
        unsure += held.gallons if share is None else 0.0
        if share and level is not None:
            top = max(top, *(end - level for end in ends if end is not None))
    return Standing(sure, unsure, top)


def height(pipes: Hydraulics, end: str) -> float | None:
    """Return how high a thing or the end of a connection is, in feet above the main floor."""
    return pipes.taps[end].height if end in pipes.taps else pipes.heights.get(end)


def _share_above(level: float | None, ends: tuple[float | None, float | None]) -> float | None:
    """Return how much of a run stands above the level; None where a height is not known."""
    known = sorted(end for end in ends if end is not None)
    if level is None or len(known) < len(ends):
        return None
    low, high = known
    if high <= level:
        return 0.0
    return 1.0 if low >= level else (high - level) / (high - low)
