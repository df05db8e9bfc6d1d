"""Everything in the house that has an id, in walking order, with its plain name and its place.

A stop recorded inside a fixture becomes a thing of its own here; where the record leaves its name
out it is called after what it serves ("cold stop, sink, hall bath"), and where it leaves its place
out it stands in the room of what it serves; a pan, in the room of what it is under. Nothing else
is made up.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from handbook.record.entry import Entry
from handbook.record.grammar.common import Place, Stop, Thing, each, given
from handbook.record.grammar.record import Record
from handbook.record.grammar.water import Bypass, Recirculation, Softener
from handbook.tables import table

System = Literal["water", "drain", "gas", "sensor", "equipment", "fixture", "site"]


@dataclass(frozen=True)
class Item:
    """One thing with an id. `kind` is the trade's word for it; `owner` what it is recorded in."""

    id: str
    name: str
    kind: str
    system: System
    entry: Entry
    place: Place | None = None
    owner: str | None = None
    tagged: bool = False

    @property
    def says_where(self) -> bool:
        """Whether its place is its own: a stop without one only has the room of what it serves."""
        entry = self.entry
        return not isinstance(entry, Stop) or bool(entry.place or entry.where)


def items(record: Record) -> dict[str, Item]:
    """Return every thing of the record by id, in the order in which it is met on the walk."""
    found = {item.id: item for item in _all(record)}
    for pan in each(record.safeguards.pans if record.safeguards else None):
        place = _beside(pan.place, found.get(pan.under or ""))
        found[pan.id] = replace(found[pan.id], place=place)
    return found


def _all(record: Record) -> Iterator[Item]:
    yield from _water(record)
    yield from _heaters(record)
    yield from _fixtures(record)
    yield from _drains(record)
    yield from _gas(record)
    yield from _safeguards(record)
    yield from _rest(record)


def _item(
    thing: Thing, kind: str, system: System, *, tagged: bool = False, owner: Item | None = None
) -> Item:
    name = thing.name or _plain(kind).capitalize() + (f", {lower(owner.name)}" if owner else "")
    place = _beside(thing.place, owner)
    return Item(thing.id, name, kind, system, thing, place, owner.id if owner else None, tagged)


def _plain(kind: str) -> str:
    """Return a kind as a homeowner says it: what the record does not name is named so."""
    plain: str = table("plain_names").values.get(kind, kind)
    return plain


def _stop(stop: Stop, what: str, owner: Item, system: System = "water") -> Item:
    """Make an item of a valve that is recorded inside the thing it serves."""
    place = _beside(stop.place, owner)
    if stop.where is not None:
        place = (place or Place()).model_copy(update={"where": stop.where})
    name = stop.name or f"{what}, {lower(owner.name)}"
    kind = "gas valve" if system == "gas" else "stop"
    return Item(stop.id, name, kind, system, stop, place, owner.id, tagged=True)


def _beside(place: Place | None, owner: Item | None) -> Place | None:
    """Give a thing its own place, and the level and room of its owner where it has none."""
    if owner is None or owner.place is None:
        return place
    near = Place.model_construct(level=owner.place.level, room=owner.place.room)
    if place is None:
        return near
    if place.level is None and place.room is None:
        return place.model_copy(update={"level": near.level, "room": near.room})
    return place


def lower(name: str) -> str:
    """Return a name as it stands inside a sentence; `HB1 tap` and the like keep their capitals."""
    return name if name[1:2].isupper() or name[1:2].isdigit() else name[:1].lower() + name[1:]


def _water(record: Record) -> Iterator[Item]:
    water = record.water
    if water is None:
        return
    for source in each(water.sources):
        yield _item(source, source.kind or "water source", "water")
    if meter := given(water.meter):
        yield _item(meter, "water meter", "water", tagged=True)
    for valve in each(water.valves):
        yield _item(valve, "shutoff", "water", tagged=True)
    for equipment in each(water.equipment):
        yield _item(equipment, equipment.kind, "equipment", tagged=True)
    for softener in each(water.softeners):
        yield from _softener(softener)
    for manifold in each(water.manifolds):
        yield _item(manifold, "manifold", "water", tagged=True)
    for tee in each(water.tees):
        yield _item(tee, "tee", "water")
    if pump := given(water.recirculation):
        yield from _recirculation(pump)
    if irrigation := given(water.irrigation):
        owner = _item(irrigation, "irrigation", "equipment", tagged=True)
        yield owner
        if stop := given(irrigation.stop):
            yield _stop(stop, "Shutoff", owner)


def _softener(softener: Softener) -> Iterator[Item]:
    owner = _item(softener, "water softener", "equipment", tagged=True)
    yield owner
    bypass = given(softener.bypass) or Bypass()
    for what, stop in (
        ("Inlet valve", bypass.inlet),
        ("Outlet valve", bypass.outlet),
        ("Bypass valve", bypass.across),
        ("Bypass lever", bypass.lever),
    ):
        if stop is not None:
            yield _stop(stop, what, owner)


def _recirculation(pump: Recirculation) -> Iterator[Item]:
    owner = _item(pump, "recirculation pump", "equipment", tagged=True)
    yield owner
    if check := given(pump.check):
        yield _item(check, "check valve", "equipment", tagged=True, owner=owner)
    if stop := given(pump.shutoff):
        yield _stop(stop, "Shutoff", owner)


def _heaters(record: Record) -> Iterator[Item]:
    for heater in each(record.heaters):
        owner = _item(heater, "water heater", "equipment", tagged=True)
        yield owner
        if heater.cold and (stop := given(heater.cold.stop)):
            yield _stop(stop, "Cold shutoff", owner)
        if (gas := given(heater.gas)) and (stop := given(gas.shutoff)):
            yield _stop(stop, "Gas shutoff", owner, "gas")
        if tank := given(heater.expansion_tank):
            yield _item(tank, "expansion tank", "equipment", tagged=True, owner=owner)


def _fixtures(record: Record) -> Iterator[Item]:
    for fixture in each(record.fixtures):
        kind = "fixture" if fixture.kind == "other" else fixture.kind
        owner = _item(fixture, kind, "fixture")
        yield owner
        for what, connection in (("Cold valve", fixture.cold), ("Hot valve", fixture.hot)):
            pipe = given(connection)
            if pipe and (stop := given(pipe.stop)):
                yield _stop(stop, what, owner)
        if (gas := given(fixture.gas)) and (stop := given(gas.shutoff)):
            yield _stop(stop, "Gas shutoff", owner, "gas")


def _drains(record: Record) -> Iterator[Item]:
    drains = record.drains
    if drains is None:
        return
    for cleanout in each(drains.cleanouts):
        yield _item(cleanout, "cleanout", "drain", tagged=True)
    for stretch in each(drains.stretches):
        yield _item(stretch, stretch.kind or "drain", "drain")
    for equipment in each(drains.equipment):
        yield _item(equipment, equipment.kind, "drain", tagged=True)
    for vent in each(drains.vents):
        yield _item(vent, "vent", "drain")
    if drains.discharge:
        yield _item(drains.discharge, drains.discharge.kind or "discharge", "drain")


def _gas(record: Record) -> Iterator[Item]:
    gas = given(record.gas)
    if gas is None:
        return
    if gas.meter:
        owner = _item(gas.meter, f"gas {gas.meter.kind or 'meter'}", "gas", tagged=True)
        yield owner
        if stop := given(gas.meter.shutoff):
            yield _stop(stop, "Utility's shutoff", owner, "gas")
    for regulator in each(gas.regulators):
        yield _item(regulator, "gas regulator", "gas", tagged=True)
    for valve in each(gas.valves):
        yield _item(valve, "gas valve", "gas", tagged=True)
    for tee in each(gas.tees):
        yield _item(tee, "gas tee", "gas")
    for outlet in each(gas.outlets):
        owner = _item(outlet, "gas outlet", "gas", tagged=True)
        yield owner
        if stop := given(outlet.shutoff):
            yield _stop(stop, "Gas shutoff", owner, "gas")
    for appliance in each(gas.appliances):
        owner = _item(appliance, appliance.kind, "fixture")
        yield owner
        if (line := given(appliance.gas)) and (stop := given(line.shutoff)):
            yield _stop(stop, "Gas shutoff", owner, "gas")


def _safeguards(record: Record) -> Iterator[Item]:
    guards = record.safeguards
    if guards is None:
        return
    for pan in each(guards.pans):
        yield _item(pan, "drain pan", "equipment", tagged=True)
    for sensor in each(guards.sensors):
        yield _item(sensor, "leak sensor", "sensor", tagged=True)
    for condensate in each(guards.condensate):
        yield _item(condensate, "condensate drain", "equipment", tagged=True)


def _rest(record: Record) -> Iterator[Item]:
    if record.electrical and record.electrical.panel:
        yield _item(record.electrical.panel, "breaker panel", "site")
    if record.site:
        for feature in each(record.site.features):
            yield _item(feature, "landmark", "site")
