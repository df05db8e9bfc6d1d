"""Flow as JSON for machines, in psi, gpm, feet and feet a second whatever the house's units."""

import json

from handbook.answers.flowing.adjustments import Adjustment
from handbook.answers.flowing.bathrooms import Bathroom, bathrooms
from handbook.answers.flowing.flow_results import DeviceFlow, FixtureFlow, Flow, RunFlow
from handbook.answers.flowing.margins import Margins
from handbook.answers.flowing.pressure_profile import WayStep, way_table
from handbook.answers.flowing.readings import Reading
from handbook.answers.flowing.upsizing import Upsizing
from handbook.house.house import House


def flow_json(house: House, answer: Flow) -> str:
    """Return `fixtures`, `runs`, `devices` by id, what is left at peak, and what it leans on.

    `way` goes from the meter to the worst fixture; `bathrooms` is by room. `upsizing` is of the
    costliest pipe, `upsizings` of each whose next size shows, the most given back first.
    `adjustments` come before any pipe is changed, each by itself: a reducing valve at `set_psi`
    (`bound` by `limit`, `ahead`, `range` or `tank`), or with both null a softener on its bypass;
    `bathroom_psi` is what is left at the worst fixture with it and one bathroom more.

    `pressure_psi` and `flow_gpm` are with what was asked to run, else alone; `kind_...` is what
    the kinder assumption gives.
    """
    margins = answer.margins
    said = {
        "static_psi": answer.static_psi,
        "running": answer.running,
        "fixtures": {name: _fixture(each) for name, each in answer.fixtures.items()},
        "runs": {name: _run(each) for name, each in answer.runs.items()},
        "devices": {name: _device(each) for name, each in answer.devices.items()},
        "wsfu": _round(answer.wsfu),
        "demand_gpm": _round(answer.demand_gpm),
        **_margins(margins),
        "way": [_step(each) for each in way_table(house, margins)] if margins else None,
        "bathrooms": {each.room: _bathroom(each) for each in bathrooms(house)},
        "assumed": answer.assumed,
        "missing": answer.missing,
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def _round(value: float | None) -> float | None:
    return None if value is None else round(value, 3) + 0.0


def _reading(reading: Reading) -> dict[str, float | None]:
    return {
        "pressure_psi": _round(reading.pressure_psi),
        "flow_gpm": _round(reading.flow_gpm),
        "kind_pressure_psi": _round(reading.kind_pressure_psi),
        "kind_flow_gpm": _round(reading.kind_flow_gpm),
    }


def _fixture(each: FixtureFlow) -> dict[str, object]:
    return {
        "name": each.name,
        "kind": each.kind,
        **_reading(each.asked),
        "need_psi": each.need_psi,
        "need_gpm": each.need_gpm,
        "rated": each.rating and {"flow_gpm": each.rating.gpm, "pressure_psi": each.rating.psi},
        "height_ft": _round(each.height_ft),
        "static_psi": _round(each.static_psi),
        "alone": _reading(each.alone),
        "peak": _reading(each.peak),
        "own_speed_ft_s": _round(each.speed_ft_s),
        "own_speed_limit_ft_s": each.limit and each.limit.ft_s,
        "sides": {side: _reading(reading) for side, reading in each.sides.items()},
        "needs": each.needs,
    }


def _run(each: RunFlow) -> dict[str, object]:
    run = each.run
    return {
        "from": each.from_,
        "to": each.thing,
        "length_ft": _round(run.length.feet) if run and run.length else None,
        "size": str(run.size) if run and run.size else None,
        "material": run.material if run else None,
        "bore_in": _round(each.bore_in),
        "equivalent_ft": _round(each.equivalent_ft),
        "hot": each.hot,
        "fixtures": each.fixtures,
        "wsfu": each.wsfu,
        "demand_gpm": _round(each.demand_gpm),
        "velocity_ft_s": _round(each.velocity_ft_s),
        "velocity_limit_ft_s": each.limit and each.limit.ft_s,
        "loss_psi": _round(each.loss_psi),
        "kind_loss_psi": _round(each.kind_loss_psi),
        "flow_gpm": _round(each.asked_gpm),
        "needs": each.needs,
    }


def _device(each: DeviceFlow) -> dict[str, object]:
    return {
        "kind": each.kind,
        "demand_gpm": _round(each.demand_gpm),
        "loss_psi": _round(each.loss_psi),
        "kind_loss_psi": _round(each.kind_loss_psi),
        "beyond_its_table": each.beyond,
    }


def _margins(found: Margins | None) -> dict[str, object]:
    if found is None:
        nothing = ("worst", "costliest", "costliest_equipment", "upsizing", "spare")
        return {**dict.fromkeys(nothing), "adjustments": [], "upsizings": []}
    larger, spare = found.upsizing, found.spare
    pipe, device = found.costliest, found.equipment
    return {
        "worst": {
            "fixture": found.worst,
            "supply": found.supply,
            "pressure_psi": _round(found.pressure_psi),
            "need_psi": found.need_psi,
            "left_psi": _round(found.left_psi),
        },
        "costliest": pipe and {"run": pipe.id, "loss_psi": _round(pipe.psi)},
        "costliest_equipment": device and {"id": device.id, "loss_psi": _round(device.psi)},
        "adjustments": [_adjustment(each) for each in found.adjustments],
        "upsizing": larger and _upsizing(larger),
        "upsizings": [_upsizing(each) for each in found.upsizings],
        "spare": spare
        and {
            "added_wsfu": spare.added_wsfu,
            "demand_gpm": _round(spare.demand_gpm),
            "pressure_psi": _round(spare.pressure_psi),
            "left_psi": _round(spare.left_psi),
            "holds": spare.holds,
            "bathrooms_left": spare.bathrooms_left,
        },
    }


def _adjustment(each: Adjustment) -> dict[str, object]:
    return {
        "thing": each.thing,
        "set_psi": each.set_psi,
        "bound": each.bound,
        "gives_back_psi": _round(each.gives_back_psi),
        "pressure_psi": _round(each.pressure_psi),
        "flow_gpm": _round(each.flow_gpm),
        "bathroom_psi": _round(each.bathroom_psi),
    }


def _upsizing(each: Upsizing) -> dict[str, object]:
    return {
        "run": each.run,
        "length_ft": _round(each.length_ft),
        "from_size": each.from_size,
        "to_size": each.to_size,
        "gives_back_psi": _round(each.gives_back_psi),
        "pressure_psi": _round(each.pressure_psi),
    }


def _step(each: WayStep) -> dict[str, object]:
    return {
        "thing": each.thing,
        "run": each.pipe and each.pipe.id,
        "flow_gpm": _round(each.gpm),
        "velocity_ft_s": _round(each.speed_ft_s),
        "loss_psi": _round(each.loss_psi),
        "height_ft": _round(each.height_ft),
        "left_psi": _round(each.left_psi),
    }


def _bathroom(each: Bathroom) -> dict[str, object]:
    return {
        "fixture": each.fixture,
        "with": each.other,
        "loses": _round(each.loses),
        "kind_loses": _round(each.kind_loses),
        "said": each.sentence,
    }
