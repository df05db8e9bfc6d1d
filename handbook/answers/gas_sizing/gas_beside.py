"""Another heater and a stub kept for later, burning both: what is still too small for the two.

The pipes are taken in the sizes that the heater alone would need, the meter in the class.
"""

from __future__ import annotations

from collections.abc import Iterator

from handbook.answers.gas import GasAnswer, gas
from handbook.answers.gas_sizing.gas_outlets import Fit, GasOutletSize, Need
from handbook.answers.gas_sizing.gas_runs import GasRunSize
from handbook.house.house import House


def needed_for_both(
    house: House, heater: GasOutletSize, fit: Fit, stub: GasOutletSize
) -> tuple[Need, ...]:
    """Return what a heater in the place of one, and what a stub is meant for, need together.

    Only what the heater's own needs do not cover is named: each pipe on the way of either, and
    the meter. Empty where those needs, put right, carry both.
    """
    wants = 0.0 if stub.wants_btuh is None else stub.wants_btuh
    both = gas(house, instead={heater.id: fit.btuh, stub.id: wants})
    planned = {need.id: need for need in fit.needs}
    way = {node.id for end in (heater, stub) for node in house.gas.above(end.id)}
    return (*_pipes(both, way, planned), *_meter(both, planned))


def _pipes(both: GasAnswer, way: set[str], planned: dict[str, Need]) -> Iterator[Need]:
    for run in (each for each in both.runs if each.id in way):
        carries = _carries(run, planned.get(run.id))
        if carries is None or carries < run.load_btuh:
            yield Need(run.id, run.load_btuh, run.needs(run.load_btuh))


def _carries(run: GasRunSize, need: Need | None) -> float | None:
    """Return what a pipe carries by its row, in the size that is planned where one is."""
    return run.row_btuh if need is None else dict(run.sizes).get(need.size or "")


def _meter(both: GasAnswer, planned: dict[str, Need]) -> Iterator[Need]:
    meter = both.meter
    if meter is None or meter.capacity_btuh is None:
        return
    need = planned.get(meter.id)
    if meter.load_btuh > ((need and need.class_btuh) or meter.capacity_btuh):
        yield meter.need(meter.load_btuh)
