"""Hot water and its expansion, as text for a terminal and as JSON for machines."""

import json
from collections.abc import Iterator

from handbook.answers.expansion import Expansion
from handbook.answers.heating.expansion_said import sentences
from handbook.answers.heating.hot_said import held, verdicts, wait, wasted
from handbook.answers.hot_water import HotWater, Outlet, Way
from handbook.house.house import House
from handbook.measures import (
    Pressure,
    Temperature,
    Units,
    Volume,
    say_flow,
    say_length,
    say_temperature,
)


def hot_json(answer: HotWater) -> str:
    """Return `outlets: {id: {flow_gpm, from_loop, from_heater, ...}}`, `loop`, `heaters`."""
    loop = answer.loop
    said = {
        "outlets": {outlet.id: _outlet(outlet) for outlet in answer.outlets},
        "loop": loop and {"pump": loop.pump, "draws": loop.draws, "control": loop.control},
        "heaters": {
            heat.heater: {
                "setting_f": heat.setting and heat.setting.fahrenheit,
                "blisters_in_s": heat.scald and heat.scald.seconds,
                "or_sooner": heat.scald and heat.scald.sooner,
            }
            for heat in answer.heaters
        },
        "assumed": answer.assumed,
        "missing": answer.missing,
        "sources": answer.sources,
    }
    return _json(said)


def _outlet(outlet: Outlet) -> dict[str, object]:
    return {
        "name": outlet.name,
        "flow_gpm": outlet.flow and outlet.flow.gpm,
        "from_loop": _way(outlet, outlet.from_loop),
        "from_heater": _way(outlet, outlet.from_heater),
        "kept_off_by": [item.id for item in outlet.kept_off],
        "missing": outlet.missing,
    }


def _way(outlet: Outlet, way: Way | None) -> dict[str, object] | None:
    if way is None:
        return None
    return {
        "source": way.source,
        "length_ft": round(way.length.feet, 2),
        "volume_gal": round(way.volume.gallons, 4),
        "seconds": round(way.seconds, 1),
        "wait": way.wait,
        "stores_too_much": way.stores_too_much,
        "limit_ft": way.limit and way.limit.feet,
        "too_far": way.too_far,
        "wasted_gal_a_year": _gallons(outlet.wasted_a_year(way)),
    }


def hot_text(answer: HotWater, units: Units) -> str:
    """Return a paragraph an outlet, then what runs to waste and what was taken for granted."""
    if not answer.outlets:
        return "No fixture with hot water is recorded."
    lines: list[str] = []
    for outlet in answer.outlets:
        lines.append(f"{outlet.name}: {wait(answer, outlet)}")
        for way in (outlet.from_loop, outlet.from_heater):
            if way and outlet.flow:
                lines.append(f"  from {way.source}: {_measured(outlet, way, units)}")
    lines += ["", *_waste(answer, units)]
    if answer.loop:
        lines.append(f"{answer.loop.pump} runs: {answer.loop.control or 'not recorded when'}")
    lines += [f"Set to: {heat.heater}, {_setting(heat.setting, units)}" for heat in answer.heaters]
    lines += [f"Assumed: {each}" for each in answer.assumed]
    lines += [f"Not known: {each}" for each in answer.missing]
    return "\n".join(lines)


def _measured(outlet: Outlet, way: Way, units: Units) -> str:
    flow = say_flow(outlet.flow, units) if outlet.flow else ""
    pipe = f"{say_length(way.length, units)} of pipe, {held(way.volume, units)}"
    return f"{pipe}, at {flow}; wait {verdicts(way)}"


def _waste(answer: HotWater, units: Units) -> Iterator[str]:
    always = wasted(answer.outlets, units, loop=True) if answer.loop else None
    never = wasted(answer.outlets, units, loop=False)
    if always and never and answer.loop:
        runs = f"if {answer.loop.pump} runs whenever a tap is opened"
        yield f"Run to waste: about {always} a year {runs}, about {never} if it never does."
    elif never:
        yield f"Run to waste: about {never} a year."


def _setting(setting: Temperature | None, units: Units) -> str:
    return say_temperature(setting, units) if setting else "not recorded"


def expansion_json(answers: tuple[Expansion, ...]) -> str:
    """Return `heaters: {id: {system, swells_gal, tank_needed_gal, tank, ...}}`."""
    return _json({"heaters": {answer.heater: _expansion(answer) for answer in answers}})


def _expansion(answer: Expansion) -> dict[str, object]:
    return {
        "name": answer.name,
        "system": answer.closure.system,
        "by": answer.closure.by,
        "capacity_gal": _gallons(answer.capacity),
        "entry_f": answer.entry.fahrenheit,
        "setting_f": answer.setting and answer.setting.fahrenheit,
        "swells_gal": _gallons(answer.swells),
        "pressure_psi": _psi(answer.pressure),
        "pressure_from": answer.pressure_from,
        "limit_psi": answer.most.psi,
        "tank_needed_gal": _gallons(answer.tank_needed),
        "tank": {
            "id": answer.tank,
            "size_gal": _gallons(answer.tank_size),
            "precharge_psi": _psi(answer.precharge),
            "takes_gal": _gallons(answer.tank_takes),
            "big_enough": answer.big_enough,
            "charge_right": answer.charge_right,
        }
        if answer.tank
        else None,
        "assumed": answer.assumed,
        "missing": answer.missing,
    }


def expansion_text(house: House, answers: tuple[Expansion, ...]) -> str:
    """Return a paragraph a heater."""
    if not answers:
        return "No water heater is recorded."
    lines: list[str] = []
    for answer in answers:
        lines += [house.called(answer.heater)]
        lines += [f"  {sentence}" for sentence in sentences(house, answer)]
        lines += [f"  Assumed: {each}" for each in answer.assumed]
    return "\n".join(lines)


def _gallons(volume: Volume | None) -> float | None:
    return None if volume is None else round(volume.gallons, 4)


def _psi(pressure: Pressure | None) -> float | None:
    return None if pressure is None else round(pressure.psi, 2)


def _json(said: object) -> str:
    return json.dumps(said, indent=2, ensure_ascii=False)
