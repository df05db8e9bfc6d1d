"""What each run of pipe and each piece of equipment carries at its peak demand, and takes off."""

from collections.abc import Iterator

from handbook.answers.flowing.asked import Asked
from handbook.answers.flowing.demand import Load
from handbook.answers.flowing.flow_case import CAUTIOUS, pipe_id
from handbook.answers.flowing.flow_results import DeviceFlow, RunFlow
from handbook.answers.flowing.speed_limits import speed_limit
from handbook.house.house import House
from handbook.house.hydraulics import Device, Stretch
from handbook.house.losses import Printed, velocity

_DRY = Load((), 0.0, 0.0)
"""Of what no supply draws through."""


def run_flows(asked: Asked) -> Iterator[RunFlow]:
    """Yield every run of pipe, with its flow while what was asked runs, if anything was."""
    solved = None
    if asked.running and asked.hydraulics.gauge:
        solved = asked.solutions.opened(asked.running, CAUTIOUS)
    for stretch in asked.hydraulics.stretches.values():
        flow = solved.flows.get(pipe_id(stretch.id)) if solved else None
        yield _run(asked.house, asked.loads.get(pipe_id(stretch.id), _DRY), stretch, flow)


def _run(house: House, load: Load, stretch: Stretch, asked: float | None) -> RunFlow:
    bore = stretch.bores[0] if stretch.bores else None
    fast = None if bore is None or load.gpm is None else velocity(load.gpm, bore)
    cautious, kind = _losses(stretch, load)
    return RunFlow(
        stretch.id,
        stretch.thing,
        stretch.from_,
        stretch.run,
        stretch.hot,
        bore,
        stretch.fittings_ft + stretch.valve_ft,
        len(load.owners),
        round(load.wsfu, 3),
        load.gpm,
        fast,
        speed_limit(house, stretch),
        cautious,
        kind,
        asked,
        stretch.needs,
    )


def device_flows(asked: Asked) -> Iterator[DeviceFlow]:
    """Yield every piece of equipment that takes something off the pressure."""
    for device in asked.hydraulics.devices.values():
        load = asked.loads.get(device.id, _DRY)
        law = device.laws[CAUTIOUS]
        beyond = isinstance(law, Printed) and load.gpm is not None and load.gpm > law.ends
        yield DeviceFlow(device.id, device.kind, load.gpm, *_losses(device, load), beyond)


def _losses(element: Stretch | Device, load: Load) -> tuple[float | None, float | None]:
    if element.laws is None or load.gpm is None:
        return None, None
    cautious, kind = (law.loss(load.gpm)[0] if load.gpm > 0 else 0.0 for law in element.laws)
    return cautious, kind
