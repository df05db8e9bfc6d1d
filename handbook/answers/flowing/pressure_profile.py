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
from handbook.house.losses import head, velocity


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


@dataclass(frozen=True)
class WayStep:
    """One pipe or piece of equipment on the way, at peak, and what is left behind it.

    `pipe` is None for equipment. Height and pressure are None at a thing of unknown height.
    """

    thing: str
    pipe: Stretch | None
    gpm: float
    speed_ft_s: float | None
    loss_psi: float
    height_ft: float | None
    left_psi: float | None


def way_table(house: House, margins: Margins) -> tuple[WayStep, ...]:
    """Return the same way step by step: what each takes off, in psi, and what it leaves."""
    return tuple(_way_step(house, margins, step) for step in _from_meter(house, margins.steps))


def _way_step(house: House, margins: Margins, step: Step) -> WayStep:
    element = step.element
    pipe = element if isinstance(element, Stretch) else None
    thing = pipe.thing if pipe else element.id
    bore = pipe.bores[CAUTIOUS] if pipe and pipe.bores else None
    height = _height(house.hydraulics, margins, element.id, thing)
    return WayStep(
        thing,
        pipe,
        step.gpm,
        None if bore is None else velocity(step.gpm, bore),
        step.loss,
        height,
        None if height is None else step.behind - head(height),
    )


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
