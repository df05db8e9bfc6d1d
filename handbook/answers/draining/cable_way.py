"""One way of a cable from one opening: what it gets to of what can be blocked, and how far.

An opening is a cleanout (`tries`), or a fixture where no cleanout reaches (`fixture_entries`).
"""

from dataclasses import dataclass, replace
from typing import Self

from handbook.answers.draining.cable_fit import fitting
from handbook.answers.draining.cable_walk import Cable, Direction, Reached


@dataclass(frozen=True)
class CableWay:
    """The opening and the way the cable goes. `steps` are what it gets to of what can be blocked,
    nearest first; `way` all legs that the cable passes, up to the last of them."""

    id: str
    direction: Direction
    steps: tuple[Reached, ...]
    way: tuple[str, ...]

    @property
    def reaches(self) -> tuple[str, ...]:
        """The legs that it gets to."""
        return tuple(step.stretch for step in self.steps)

    @property
    def near(self) -> Cable:
        """The cable to where the stoppage can begin."""
        return self.steps[0].near

    @property
    def far(self) -> Cable:
        """The cable to the far end of what can be blocked."""
        return self.steps[-1].far

    @property
    def through(self) -> tuple[str, ...]:
        """The pipe sizes on the way."""
        return self.steps[-1].through

    @property
    def valves(self) -> tuple[str, ...]:
        """Backwater valves on the way."""
        return self.steps[-1].valves

    @property
    def fits(self) -> bool | None:
        """Whether one cable fits all pipe on the way to the nearest of them, and gets there; None
        where a size is not recorded."""
        if None in self.steps[0].sizes:
            return None
        cables = fitting(self.steps[0].sizes, self.near)
        return any(cable.gets_there is not False for cable in cables)

    @property
    def shared(self) -> bool:
        """Whether only a size of cable that two ranges share takes all pipe."""
        return any(cable.shared for cable in fitting(self.steps[0].sizes, self.near))

    @property
    def within(self) -> Self:
        """The same, only as far as one cable takes all pipe on the way."""
        steps = tuple(step for step in self.steps if fitting(step.sizes, step.near))
        return replace(self, steps=steps or self.steps)

    @property
    def cable_ft(self) -> tuple[float, float | None]:
        """The cable in feet, to the near and to the far end of what can be blocked."""
        far = None if self.far.high is None else round(self.far.high / 12, 2)
        return round(self.near.low / 12, 2), far


def past_reach(legs: tuple[str, ...], ways: tuple[CableWay, ...]) -> tuple[str, ...]:
    """Return those of these legs that no cable gets to on any of these ways.

    One whose fit cannot be told, as a size is not recorded, counts as getting there.
    """
    reached = {leg for each in ways if each.fits is not False for leg in each.within.reaches}
    return tuple(leg for leg in legs if leg not in reached)
