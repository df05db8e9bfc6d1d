"""How much runs out of an opening somewhere in the pipes: a parted supply, a burst, a split hose.

The same solver as `flow`, with one outlet more: what comes is limited by the piping as well as by
the hole. Whatever the record leaves open is taken so that more runs out, not less.
"""

from dataclasses import dataclass, replace

from handbook.answers.flowing.flow_case import CAUTIOUS, KIND, Case, pipework
from handbook.answers.flowing.pipe_network import Outlet
from handbook.answers.not_asked import NoSuchThingError
from handbook.house.house import House
from handbook.house.hydraulics import Hydraulics
from handbook.house.losses import Printed, head, opening_k
from handbook.house.naming import end_name
from handbook.record.problems import nearest
from handbook.tables import table

_OPENING = "opening"
_SAME_GPM = 0.1


@dataclass(frozen=True)
class Outflow:
    """`gpm` is the most that may come, `least_gpm` the least. `pressure_psi` is left at the hole.

    None where it cannot be told; `missing` says why.
    """

    at: str
    bore_in: float
    gpm: float | None
    least_gpm: float | None
    pressure_psi: float | None
    assumed: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


def outflow(house: House, at: str, bore_in: float, *, hole: bool = False) -> Outflow:
    """Return what runs out at a thing, a supply (`hall-lav.cold`) or a node of the water network.

    `bore_in` is the opening's, in inches: a pipe that has parted is an open end; `hole` is a split
    or a puncture, through which a jet draws itself together. Raises NoSuchThingError.
    """
    hydraulics = house.hydraulics
    node = hydraulics.nodes.get(at) or hydraulics.nodes.get(f"{at}.in")
    if node is None:
        near = nearest(at, tuple(hydraulics.nodes))
        raise NoSuchThingError(at, near, f"`{at}` holds no supply water")
    if hydraulics.gauge is None:
        return Outflow(at, bore_in, None, None, None, (), hydraulics.missing)
    kind_of = table("openings").values["sharp_hole" if hole else "open_end"]
    outlet = Outlet(_OPENING, node, opening_k(bore_in, kind_of), head(_height(hydraulics, at)))
    most, psi = _opened(hydraulics, outlet, KIND)
    least, _ = _opened(hydraulics, outlet, CAUTIOUS)
    found = Outflow(at, bore_in, most, least, psi, hydraulics.assumed)
    if most is not None and least is not None:
        beyond, wide = _beyond(hydraulics, outlet), most - least > _SAME_GPM
        missing = hydraulics.missing if wide else ()
        return replace(found, assumed=(*found.assumed, *beyond), missing=missing)
    unknown = [need for s in hydraulics.stretches.values() for need in s.needs]
    name = end_name(house.items, at)
    dry = (
        f"a way for water to {name}: as the valves stand, and by what is recorded, none reaches it"
    )
    return replace(found, missing=tuple(unknown or [dry]))


def _height(hydraulics: Hydraulics, at: str) -> float:
    """Return how high a thing is; level with the gauge where that is not recorded."""
    if at in hydraulics.taps:
        return hydraulics.taps[at].height
    level = hydraulics.gauge.height if hydraulics.gauge else 0.0
    return hydraulics.heights.get(at.removesuffix(".in"), level)


def _opened(
    hydraulics: Hydraulics, outlet: Outlet, case: Case
) -> tuple[float | None, float | None]:
    solved = pipework(hydraulics, case).solved([outlet])
    level = solved.heads.get(outlet.node)
    return solved.flows.get(outlet.id), None if level is None else level - outlet.height


def _beyond(hydraulics: Hydraulics, outlet: Outlet) -> list[str]:
    """Say which printed tables end below the flow that came out."""
    solved = pipework(hydraulics, KIND).solved([outlet])
    return [
        f"{device.id}: beyond the end of its printed table, carried on by the square."
        for device in hydraulics.devices.values()
        if isinstance(law := device.laws[KIND], Printed)
        and solved.flows.get(device.id, 0.0) > law.ends
    ]
