"""The pressure along the way from the meter to the worst fixture, at peak and at rest.

At a thing whose height is not recorded there is no point: pressure is head less height.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from handbook.answers.flowing.flow_case import CAUTIOUS, pipework
from handbook.answers.flowing.margins import Margins
from handbook.answers.flowing.peak import Step
from handbook.house.house import House
from handbook.house.hydraulics import Hydraulics, Stretch
from handbook.house.losses import head


@dataclass(frozen=True)
class ProfilePoint:
    """A thing on the way: feet of pipe from the start, and psi before and behind it.

    The first two are at peak, `rest_...` with nothing running.
    """

    thing: str
    along_ft: float
    before_psi: float
    behind_psi: float
    rest_before_psi: float
    rest_behind_psi: float


def profile(house: House, margins: Margins) -> tuple[ProfilePoint, ...]:
    """Return the points from the meter (or from where the pressure is known) to the fixture."""
    hydraulics = house.hydraulics
    rest = pipework(hydraulics, CAUTIOUS).solved().heads
    along, points = 0.0, list[ProfilePoint]()
    for step in _from_meter(house, margins.steps):
        element = step.element
        thing = element.thing if isinstance(element, Stretch) else element.id
        height = _height(hydraulics, margins, element.id, thing)
        if points and isinstance(element, Stretch) and element.run and element.run.length:
            along += element.run.length.feet
        if height is None:
            continue
        behind, still = step.behind - head(height), rest[element.b] - head(height)
        if points and points[-1].thing == thing:
            points[-1] = replace(points[-1], behind_psi=behind, rest_behind_psi=still)
        elif isinstance(element, Stretch):
            points.append(ProfilePoint(thing, along, behind, behind, still, still))
        else:
            before, ahead = step.before - head(height), rest[element.a] - head(height)
            points.append(ProfilePoint(thing, along, before, behind, ahead, still))
    return tuple(points)


def _from_meter(house: House, steps: Sequence[Step]) -> Sequence[Step]:
    """Return the steps from the pipe that ends at the meter on; all of them without a meter."""
    meters = [
        number
        for number, step in enumerate(steps)
        if isinstance(step.element, Stretch)
        and house.items[step.element.thing].kind == "water meter"
    ]
    return steps[meters[0] :] if meters else steps


def _height(hydraulics: Hydraulics, margins: Margins, element: str, thing: str) -> float | None:
    """Return how high a thing on the way is; the last is the fixture's own outlet."""
    if element == margins.supply:
        return hydraulics.taps[margins.supply].height
    return hydraulics.heights.get(thing)
