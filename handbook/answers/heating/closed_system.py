"""Whether a heater's water can go back to the street, and at what pressure it stands.

Asked along the line as the record points. A check valve, a reducing valve or a backflow preventer
upstream closes the system; a pressure tank on the house's side of it takes up what swells, as if
the system were open. Where the line is not recorded all the way, neither is said.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from handbook.house.house import House
from handbook.house.lines import Lines, water_lines
from handbook.measures import Pressure
from handbook.record.grammar.common import each, given
from handbook.record.grammar.water import Equipment, Water
from handbook.tables import table

REDUCER = "pressure-reducing valve"

NEEDS = {
    "equipment": "the equipment in the line (`water: equipment`; `none` if there is none)",
    "feed": "what feeds the heater, up to the street",
    "pressure": "the pressure behind the reducing valve (`set_to`), or the static pressure",
}
"""What would tell, in words."""


@dataclass(frozen=True)
class Closure:
    """`system` None: the record does not tell, and `lacks` what.

    `by`: the thing that closes it, or the pressure tank that keeps it open.
    """

    system: Literal["open", "closed"] | None
    by: str | None = None
    lacks: Literal["equipment", "feed"] | None = None

    @property
    def needs(self) -> str:
        """What would tell, in words."""
        return NEEDS[self.lacks or "feed"]


def closure(house: House, heater: str) -> Closure:
    """Return whether a heater's system is open or closed."""
    lines, equipment = water_lines(house.record), _equipment(house)
    closers = {name for name, it in equipment.items() if _closes(it)}
    way = lines.upstream(heater, closers)
    for tank in _pressure_tanks(equipment, lines, (heater, *way)):
        return Closure("open", tank)
    # A main may be fed from the street without saying so; one that says what feeds it is no end.
    if any(met in lines.ends and not lines.up.get(met) for met in way):
        known = house.record.water is not None and house.record.water.equipment is not None
        return Closure("open") if known else Closure(None, lacks="equipment")
    closer = next((met for met in way if met in closers), None)
    if closer is None or lines.holes(heater, closers):
        return Closure(None, lacks="feed")
    return Closure("closed", closer)


def _equipment(house: House) -> dict[str, Equipment]:
    return {it.id: it for it in each((house.record.water or Water()).equipment)}


def _closes(it: Equipment) -> bool:
    return it.kind in table("thermal_expansion").values or given(it.has_check) is True


def _pressure_tanks(
    equipment: dict[str, Equipment], lines: Lines, way: tuple[str, ...]
) -> Iterator[str]:
    """Yield the pressure tanks in the line to the heater, and those that hang on it."""
    near = (*way, *(name for met in way for name in lines.down.get(met, ())))
    for name in near:
        if name in equipment and equipment[name].kind == "pressure tank":
            yield name


def pressure_at(house: House, thing: str) -> tuple[Pressure | None, str]:
    """Return the pressure with no water running at a thing, and in words where it is known from.

    Behind a reducing valve it is that valve's setting, or else a gauge's reading behind it;
    without one upstream it is the static pressure. None: the record does not tell.
    """
    lines, equipment = water_lines(house.record), _equipment(house)
    water = house.record.water or Water()
    static, way = water.static_pressure, lines.upstream(thing)
    reducer = next((it for met in way if (it := equipment.get(met)) and it.kind == REDUCER), None)
    if reducer is not None:
        if reducer.set_to is not None:
            return reducer.set_to, f"what {reducer.id} is set to"
        gauge = static.near if static else None
        if static and gauge and reducer.id in lines.upstream(gauge):
            return static.value, f"the gauge at {gauge}"
        return None, ""
    if static is None or water.equipment is None or lines.holes(thing):
        return None, ""
    return static.value, "the static pressure"


def pressure_lacks(house: House, thing: str) -> Literal["equipment", "feed", "pressure"]:
    """Return what is missing where the pressure at a thing is not known."""
    lines, equipment = water_lines(house.record), _equipment(house)
    water = house.record.water or Water()
    reduced = any(
        met in equipment and equipment[met].kind == REDUCER for met in lines.upstream(thing)
    )
    if reduced or water.static_pressure is None:
        return "pressure"
    return "equipment" if water.equipment is None else "feed"
