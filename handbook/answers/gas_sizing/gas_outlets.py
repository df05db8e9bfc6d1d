"""What could still be added: at each appliance and stub, and at the meter.

Whatever burns at an outlet passes every pipe on its way, so the tightest of those decides.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from handbook.answers.gas_sizing.gas_pressure import meter_class
from handbook.answers.gas_sizing.gas_runs import Found, GasRunSize
from handbook.house.gas import GasNode
from handbook.house.house import House
from handbook.record.grammar.gas import Gas, GasOutlet
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.places import OUTSIDE
from handbook.tables import table

WantsBy = Literal["record", "usual"]


@dataclass(frozen=True)
class Need:
    """A pipe that is too small, or the meter (`meter`), and what it would have to be.

    `load_btuh` is what would burn behind it; `size` the smallest tabulated size that carries it,
    `class_btuh` the smallest usual class of a meter. None: the table holds none so large.
    """

    id: str
    load_btuh: float
    size: str | None = None
    class_btuh: float | None = None
    meter: bool = False


@dataclass(frozen=True)
class Fit:
    """What appliances of one kind usually take, and whether the pipes could feed one there.

    `needs` are the runs on its way, and the meter, that could not, and what they would have to be.
    """

    what: str
    btuh: float
    needs: tuple[Need, ...] = ()

    @property
    def fits(self) -> bool:
        """Whether everything on its way carries it."""
        return not self.needs

    @property
    def short(self) -> tuple[str, ...]:
        """The ids of what is too small."""
        return tuple(need.id for need in self.needs)


@dataclass(frozen=True)
class GasOutletSize:
    """An appliance or a stub, in Btu an hour.

    `margin_btuh` is what could still be added there (below zero where its way is over already),
    `limited_by` the run (or the meter) that allows no more; None where a fact is missing.
    `wants_btuh` is what a stub is meant for, and `wants_by` where that is from. `fits` is what
    people connect to such a stub, or put in the place of such an appliance.
    """

    id: str
    name: str
    kind: Literal["appliance", "outlet"]
    load_btuh: float
    margin_btuh: float | None
    limited_by: str | None
    wants_btuh: float | None = None
    wants_by: WantsBy | None = None
    fits: tuple[Fit, ...] = ()

    @property
    def spare_btuh(self) -> float | None:
        """What could still be added there; nothing where its way is over already."""
        return None if self.margin_btuh is None else max(0.0, self.margin_btuh)

    @property
    def too_small(self) -> bool:
        """Whether the stub could not feed what it is meant for, as far as that is known."""
        if self.wants_btuh is None or self.margin_btuh is None:
            return False
        return self.wants_btuh > self.margin_btuh + self.load_btuh


@dataclass(frozen=True)
class GasMeterSize:
    """The meter's class in cubic feet an hour, and the same and the load in Btu an hour.

    `whole`: everything that burns behind it is known.
    """

    id: str
    load_btuh: float
    class_cfh: float | None
    capacity_btuh: float | None
    whole: bool = True

    def need(self, load_btuh: float) -> Need:
        """Return what its class would have to be for a load."""
        heat = float(table("gas_heat").values["btu_per_cubic_foot"]["natural gas"])
        classes = [heat * cfh for cfh in table("gas_meters").values["classes_cfh"]]
        enough = next((btuh for btuh in classes if btuh >= load_btuh), None)
        return Need(self.id, load_btuh, class_btuh=enough, meter=True)

    @property
    def margin_btuh(self) -> float | None:
        """What the meter could still pass; below zero where the load is more than its class."""
        if self.capacity_btuh is None or not self.whole:
            return None
        return self.capacity_btuh - self.load_btuh


Way = tuple[GasRunSize | GasMeterSize, ...]
"""All that the gas passes to an outlet: the runs, and the meter."""


def meter_size(house: House, line: Gas, load: float, found: Found) -> GasMeterSize | None:
    """Return the meter, which all gas passes; None for a tank."""
    if line.meter is None or line.meter.kind == "tank" or line.fuel == "propane":
        return None
    badge = meter_class(line.meter.capacity)
    if badge is None:
        found.missing["the meter's class in cubic feet an hour (on its badge)"] = None
    heat = float(table("gas_heat").values["btu_per_cubic_foot"]["natural gas"])
    passes = None if badge is None else badge * heat
    return GasMeterSize(line.meter.id, load, badge, passes, house.gas.whole)


def outlet_sizes(
    house: House,
    runs: tuple[GasRunSize, ...],
    meter: GasMeterSize | None,
    loads: Mapping[str, float],
    found: Found,
) -> tuple[GasOutletSize, ...]:
    """Return what burns gas and what may one day, in the order of the record."""
    sized = []
    for node in house.gas.ends:
        way = _way(house, node, runs, meter)
        margin, by = _margin(way)
        name, load = house.items[node.id].name, loads[node.id]
        if node.kind == "appliance":
            fits = () if margin is None else _instead(house, node.id, load, way)
            sized.append(GasOutletSize(node.id, name, "appliance", load, margin, by, fits=fits))
            continue
        wants, wants_by = _wanted(house, node.id, found)
        fits = () if margin is None else _fits(house, node.id, load, way)
        sized.append(
            GasOutletSize(node.id, name, "outlet", load, margin, by, wants, wants_by, fits)
        )
    return tuple(sized)


def _margin(way: Way) -> tuple[float | None, str | None]:
    """Return what could be added at a node, and the run (or meter) that allows no more."""
    left = [(each.margin_btuh, each.id) for each in way]
    known = [(margin, thing) for margin, thing in left if margin is not None]
    if not known or len(known) < len(left):
        return None, None
    return min(known)


def _way(
    house: House, node: GasNode, runs: tuple[GasRunSize, ...], meter: GasMeterSize | None
) -> Way:
    """Return each run on a node's way, and the meter where its class is known."""
    above = {upper.id for upper in house.gas.above(node.id)}
    way: list[GasRunSize | GasMeterSize] = [run for run in runs if run.id in above]
    if meter and meter.capacity_btuh is not None:
        way.append(meter)
    return tuple(way)


def _wanted(house: House, outlet: str, found: Found) -> tuple[float | None, WantsBy | None]:
    """Return what a stub is meant for: its recorded input, else what its kind usually takes."""
    entry = house.items[outlet].entry
    if not isinstance(entry, GasOutlet):
        return None, None
    if entry.input is not None:
        return entry.input.btu_h, "record"
    words = (entry.meant_for or "").lower()
    for usual in table("gas_inputs").values:
        if any(word in words for word in usual["words"]):
            said = f"for {house.called(outlet)} what a {usual['what']} usually takes"
            found.assumed[said] = None
            return float(usual["btuh"]), "usual"
    return None, None


def _instead(house: House, appliance: str, load_btuh: float, way: Way) -> tuple[Fit, ...]:
    """Return what people put in a storage heater's place, and what is too small for that."""
    entry = house.items[appliance].entry
    if not isinstance(entry, Heater) or entry.kind == "tankless":
        return ()
    usual = [each for each in table("gas_inputs").values if "replaces" in each]
    return tuple(_fit(each, load_btuh, way) for each in usual)


def _fits(house: House, outlet: str, load_btuh: float, way: Way) -> tuple[Fit, ...]:
    """Return what people connect at such a place, smallest first, and whether it would fit."""
    place = house.items[outlet].place
    outdoors = OUTSIDE in (house.places.level_id(place), place.room if place else None)
    usual = [each for each in table("gas_inputs").values if not outdoors or each.get("outdoors")]
    ordered = sorted(usual, key=lambda each: (each["btuh"], each["what"]))
    return tuple(_fit(each, load_btuh, way) for each in ordered)


def _fit(usual: Mapping[str, Any], load_btuh: float, way: Way) -> Fit:
    """Return what such an appliance takes, and which runs, or the meter, have too little left."""
    takes = float(usual["btuh"])
    return Fit(str(usual["what"]), takes, tuple(_needs(way, takes - load_btuh)))


def _needs(way: Way, more: float) -> Iterator[Need]:
    for each in way:
        if each.margin_btuh is None or each.margin_btuh >= more:
            continue
        load = each.load_btuh + more
        if isinstance(each, GasMeterSize):
            yield each.need(load)
        else:
            yield Need(each.id, load, each.needs(load))
