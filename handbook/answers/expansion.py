"""Where a heater's water goes when it swells: open or closed system, how much, and which tank.

Water that is heated swells; where a one-way device lets it go back no further, a tank has to take
it up before the pressure passes the limit of static pressure. The swelling is the heater's volume
times the ratio of water's densities, less one; the tank follows from Boyle's law on its air. The
heater's own metal, which gives a little more room, is left out: the tank comes out larger, never
smaller. A tankless heater stores nothing that could swell to speak of.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from handbook.answers.heating.closed_system import (
    NEEDS,
    Closure,
    closure,
    pressure_at,
    pressure_lacks,
)
from handbook.house.house import House
from handbook.measures import Pressure, Temperature, Volume
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import ExpansionTank, Heater
from handbook.tables import table

Lack = Literal[
    "kind",
    "capacity",
    "setting",
    "system",
    "pressure",
    "equipment",
    "feed",
    "tank",
    "size",
    "precharge",
]
"""What an answer waits for: `system` whether it is open or closed, `tank` whether there is one;
`equipment` or `feed` where the static pressure is known, and not what changes it on its way."""

_NEEDS: dict[str, str] = {
    "kind": "what kind of heater it is",
    "capacity": "how much it holds (`capacity`)",
    "setting": "what it is set to (`setting`)",
    **NEEDS,
    "tank": "whether it has an expansion tank",
    "size": "the expansion tank's size",
    "precharge": "the expansion tank's air charge (`precharge`)",
}


@dataclass(frozen=True)
class Expansion:
    """One heater. Volumes in gallons, gauge pressures, None where the record does not tell."""

    heater: str
    name: str
    kind: str | None
    closure: Closure
    capacity: Volume | None
    entry: Temperature
    """How cold the water is taken to come in: an assumption, never recorded."""
    setting: Temperature | None
    swells: Volume | None
    pressure: Pressure | None
    pressure_from: str
    most: Pressure
    """The limit that the pressure must stay under while the water swells."""
    tank_needed: Volume | None
    """The tank that takes the swelling when its air is charged to the pressure."""
    tank: str | None
    tank_size: Volume | None
    precharge: Pressure | None
    lacks: tuple[Lack, ...] = ()
    missing: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()

    @property
    def big_enough(self) -> bool | None:
        """Whether the recorded tank is as large as needed; None where that cannot be told."""
        if self.tank_needed is None or self.tank_size is None:
            return None
        return self.tank_size.gallons >= self.tank_needed.gallons

    @property
    def charge_right(self) -> bool | None:
        """Whether the tank's air is charged to the pressure, as near as a gauge tells.

        None too where the pressure is past its limit: it has to come down first.
        """
        if self.precharge is None or self.pressure is None or self.pressure > self.most:
            return None
        within = table("expansion_tanks").values["charge_within_psi"]
        return bool(abs(self.precharge.psi - self.pressure.psi) <= within)

    @property
    def tank_takes(self) -> Volume | None:
        """What the recorded tank takes up to the limit, at the charge that it has."""
        if self.tank_size is None or self.precharge is None or self.pressure is None:
            return None
        return Volume(self.tank_size.gallons * taken(self.precharge, self.pressure, self.most))

    @property
    def room_up_to(self) -> float | None:
        """The psi up to which the recorded tank, charged to it, takes the swelling."""
        if self.swells is None or self.tank_size is None:
            return None
        air = table("expansion_tanks").values["atmosphere_psi"]
        share = self.swells.gallons / self.tank_size.gallons  # 1 - (psi + air) / (most + air)
        return float((self.most.psi + air) * (1 - share) - air)


def expansion(house: House) -> tuple[Expansion, ...]:
    """Return the answer for each heater, in the order of the record."""
    return tuple(_of(house, heater) for heater in each(house.record.heaters))


def swelling(cold: Temperature, hot: Temperature) -> float | None:
    """Return by which share of its volume water swells; None outside the table's temperatures."""
    dense, light = density(cold), density(hot)
    return None if dense is None or light is None else dense / light - 1


def density(water: Temperature) -> float | None:
    """Return the density in pounds per gallon, linear between the table's rows; None beyond them.

    The column of pounds per gallon is read because it is printed to most digits.
    """
    rows = [(row[0], row[3]) for row in table("water_density").values["rows"]]
    for (t0, d0), (t1, d1) in pairwise(rows):
        if t0 <= water.fahrenheit <= t1:
            return float(d0 + (d1 - d0) * (water.fahrenheit - t0) / (t1 - t0))
    return None


def taken(charge: Pressure, start: Pressure, most: Pressure) -> float:
    """Return which share of its size a tank takes up between two pressures, by Boyle's law.

    A tank charged above the starting pressure takes nothing until the pressure is at its charge.
    """
    air = table("expansion_tanks").values["atmosphere_psi"]
    first = max(charge.psi, start.psi) + air
    last = max(most.psi + air, first)
    return float((charge.psi + air) * (1 / first - 1 / last))


def _of(house: House, heater: Heater) -> Expansion:
    tank = given(heater.expansion_tank) or ExpansionTank.model_construct(id="")
    pressure, pressure_from = pressure_at(house, heater.id)
    entry = Temperature(table("expansion_tanks").values["entry_temp_f"])
    most = Pressure(table("static_pressure").values["most_psi"])
    swells = _swells(heater, entry)
    closed = closure(house, heater.id)
    lacks = tuple(_lacks(house, heater, closed, pressure, tank))
    return Expansion(
        heater.id,
        house.items[heater.id].name,
        heater.kind,
        closed,
        heater.capacity,
        entry,
        heater.setting,
        swells,
        pressure,
        pressure_from,
        most,
        _needed(swells, pressure, most),
        tank.id or None,
        tank.size,
        tank.precharge,
        lacks,
        tuple(_missing(heater, closed, lacks, swells, pressure)),
        _ASSUMED if swells else (),
    )


_ASSUMED = (
    "Cold water is taken to come in at the temperature at which it is densest, so that no colder "
    "water swells more.",
    "The hot pipes are not counted: what stands in them cools.",
)


def _swells(heater: Heater, entry: Temperature) -> Volume | None:
    if heater.kind == "tankless" or heater.capacity is None or heater.setting is None:
        return None
    share = swelling(entry, heater.setting)
    return None if share is None else Volume(heater.capacity.gallons * share)


def _needed(swells: Volume | None, pressure: Pressure | None, most: Pressure) -> Volume | None:
    """Return the tank, charged to the pressure; None where the pressure leaves it no room."""
    if swells is None or pressure is None or pressure.psi >= most.psi:
        return None
    return Volume(swells.gallons / taken(pressure, pressure, most))


def _lacks(
    house: House, heater: Heater, closed: Closure, pressure: Pressure | None, tank: ExpansionTank
) -> Iterator[Lack]:
    if closed.system is None:
        yield "system"
    if heater.kind is None:
        yield "kind"
    if heater.kind == "tankless":
        return
    if heater.capacity is None:
        yield "capacity"
    if heater.setting is None:
        yield "setting"
    if pressure is None:
        yield pressure_lacks(house, heater.id)
    if heater.expansion_tank is None:
        yield "tank"
    if tank.id and tank.size is None:
        yield "size"
    if tank.id and tank.precharge is None:
        yield "precharge"


def _missing(
    heater: Heater,
    closed: Closure,
    lacks: tuple[Lack, ...],
    swells: Volume | None,
    pressure: Pressure | None,
) -> Iterator[str]:
    yield from dict.fromkeys(_NEEDS.get(lack, closed.needs) for lack in lacks)
    if heater.kind != "tankless" and heater.capacity and heater.setting and swells is None:
        ends = table("water_density").values["rows"][-1][0]
        yield f"a setting that the table of water's density reaches: it ends at {ends} F"
    most = table("static_pressure").values["most_psi"]
    if pressure is not None and pressure.psi >= most:
        yield "a lower pressure: it stands at the limit before the water swells"
