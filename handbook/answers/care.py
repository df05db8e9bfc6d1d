"""What is due when: the looking-after that this house needs, computed from what it has.

Intervals and instructions are in `tables/care.yaml`, each with its source; here is decided what
applies, to which things, and, where the record says when it was last done, when it is due.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from handbook.answers.has import burners
from handbook.answers.isolate import isolate
from handbook.house.house import House
from handbook.house.items import Item
from handbook.record.grammar.common import Stop, each, given
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.safeguards import Safeguards
from handbook.record.grammar.water import Water
from handbook.tables import table

Last = date | None
FROM_MEMORY = "stated from memory"
"""Said of a source that was not at hand when its figure was written down."""


@dataclass(frozen=True)
class Chore:
    """One thing to do again and again. `who` is `you`, or whose work it is."""

    key: str
    title: str
    things: tuple[str, ...]
    """Ids of what it is done to; empty where the record has no entry for it."""
    every_months: int
    season: str | None
    who: str
    do: str
    why: str
    source: str
    last: date | None = None
    """When it was last done, where the record says so."""

    @property
    def due(self) -> date | None:
        """The day it is due, counted from `last`; None where that is not recorded."""
        return None if self.last is None else months_later(self.last, self.every_months)


def care(house: House) -> tuple[Chore, ...]:
    """Return every chore of this house, the most frequent first."""
    found = [
        *_safeguards(house),
        *_valves(house),
        *_water(house),
        *_heaters(house),
        *_fixtures(house),
        *_drains(house),
        *_gas(house),
    ]
    return tuple(sorted(found, key=lambda chore: chore.every_months))


def months_later(day: date, months: int) -> date:
    """Return the same day so many months on, or the last day of a month that is shorter."""
    years, month = divmod(day.month - 1 + months, 12)
    for last in (day.day, 30, 29, 28):
        try:
            return date(day.year + years, month + 1, last)
        except ValueError:
            continue
    raise AssertionError("every month has a 28th")


def _chore(
    key: str, things: Iterable[str], last: Last = None, valves: Iterable[str] = ()
) -> Iterator[Chore]:
    """Yield the chore for these things; nothing where there are none."""
    ids = tuple(things)
    if ids:
        yield _written(key, ids, last, valves)


def _written(key: str, ids: tuple[str, ...], last: Last, valves: Iterable[str] = ()) -> Chore:
    row = table("care").values[key]
    source = row["source"] if row["seen"] else f"{row['source']} ({FROM_MEMORY})"
    do = row["do"].replace("{valves}", ", ".join(valves))
    return Chore(
        key,
        row["title"],
        ids,
        row["every_months"],
        row.get("season"),
        row["who"],
        do,
        row["why"],
        source,
        last,
    )


def _safeguards(house: House) -> Iterator[Chore]:
    guards = house.record.safeguards or Safeguards()
    sensors = each(guards.sensors)
    yield from _chore("sensor_test", (sensor.id for sensor in sensors))
    changed: dict[Last, list[str]] = {}
    for sensor in sensors:
        if battery := given(sensor.battery):
            changed.setdefault(battery.changed, []).append(sensor.id)
    for last, ids in changed.items():
        yield from _chore("sensor_battery", ids, last)
    yield from _chore("sensor_unknown", (s.id for s in sensors if s.battery is None))
    yield from _chore("pan_drains", (pan.id for pan in each(guards.pans) if given(pan.drain)))
    coils = [coil.id for coil in each(guards.condensate) if given(coil.primary)]
    yield from _chore("condensate", coils)


def _valves(house: House) -> Iterator[Chore]:
    for key, things in worked(house).items():
        yield from _chore(key, things)


def worked(house: House) -> dict[str, tuple[str, ...]]:
    """Return the water valves that an occupant works, by the chore that they belong to; none that
    is known not to work, and none of the utility's."""
    items = [item for item in house.items.values() if item.kind in {"shutoff", "stop"}]
    fit = [item for item in items if getattr(item.entry, "condition", None) in {None, "works"}]
    own = [item for item in fit if not getattr(item.entry, "utility", False)]
    found: dict[str, list[str]] = {
        "automatic_shutoff": [],
        "exercise_valves": [],
        "exercise_stops": [],
    }
    for item in own:
        automatic = getattr(item.entry, "kind", None) == "automatic shutoff"
        by_hand = "exercise_stops" if _at_fixture(house, item) else "exercise_valves"
        found["automatic_shutoff" if automatic else by_hand].append(item.id)
    return {key: tuple(things) for key, things in found.items()}


def _at_fixture(house: House, item: Item) -> bool:
    """Whether a valve is a fixture's own stop: a heater's or a softener's is none of those."""
    owner = house.items.get(item.owner or "")
    return isinstance(item.entry, Stop) and owner is not None and owner.system == "fixture"


def _water(house: House) -> Iterator[Chore]:
    water = house.record.water or Water()
    by_kind: dict[str, list[str]] = {}
    for equipment in each(water.equipment):
        by_kind.setdefault(equipment.kind, []).append(equipment.id)
    yield from _chore("pressure", by_kind.get("pressure-reducing valve", ()))
    yield from _chore("filter", by_kind.get("filter", ()))
    yield from _chore("softener_salt", (softener.id for softener in each(water.softeners)))
    if pump := given(water.recirculation):
        yield from _chore("recirculation", (pump.id,))
    for equipment in each(water.equipment):
        if equipment.kind == "backflow preventer":
            yield from _chore("backflow_test", (equipment.id,), equipment.tested)
    if irrigation := given(water.irrigation):
        yield from _chore("irrigation", (irrigation.id,))
    yield from _chore("well", (s.id for s in each(water.sources) if s.kind == "well"))


def _heaters(house: House) -> Iterator[Chore]:
    heaters = each(house.record.heaters)
    tanks = [heater.id for heater in heaters if heater.kind in {"storage", "heat pump"}]
    yield from _chore("heater_sediment", tanks)
    yield from _chore("heater_anode", tanks)
    yield from _chore("heater_descale", (h.id for h in heaters if h.kind == "tankless"))
    yield from _chore("heater_filter", (h.id for h in heaters if h.kind == "heat pump"))
    relieved = [heater for heater in heaters if given(heater.relief)]
    yield from _chore("heater_relief", (heater.id for heater in relieved))
    yield from _chore("heater_relief_end", (h.id for h in relieved if _discharges(h)))
    tank_ids = [tank.id for heater in heaters if (tank := given(heater.expansion_tank))]
    yield from _chore("expansion_tank", tank_ids)


def _discharges(heater: Heater) -> bool:
    relief = given(heater.relief)
    return bool(relief and given(relief.discharge))


def _fixtures(house: House) -> Iterator[Chore]:
    fixtures = each(house.record.fixtures)
    yield from _chore("floor_drain", (f.id for f in fixtures if f.kind == "floor drain"))
    yield from _chore("laundry_hoses", (f.id for f in fixtures if f.kind == "laundry box"))
    bibbs = [fixture for fixture in fixtures if fixture.kind == "hose bibb"]
    stops = {bibb.id: stop for bibb in bibbs if (stop := _winter_stop(house, bibb))}
    valves = dict.fromkeys(stops.values())
    yield from _chore("hose_bibb_stops", stops, valves=valves)
    yield from _chore("hose_bibbs", (bibb.id for bibb in bibbs if bibb.id not in stops))


def _winter_stop(house: House, bibb: Fixture) -> str | None:
    """Return the one valve that dries this bibb and nothing but bibbs, if there is one."""
    if bibb.id not in house.water.own:
        return None
    ladder = isolate(house, bibb.id).ladder
    if not ladder or len(ladder[0].close) != 1 or ladder[0].open or ladder[0].utility:
        return None
    bibbs = {f.id for f in each(house.record.fixtures) if f.kind == "hose bibb"}
    others = {supply.rpartition(".")[0] for supply in ladder[0].also_off} - bibbs
    return None if others else ladder[0].close[0]


def _drains(house: House) -> Iterator[Chore]:
    drains = house.record.drains
    if drains is None:
        return
    for kind, key in (("backwater valve", "backwater_valve"), ("sewage ejector", "sewage_ejector")):
        yield from _chore(key, (e.id for e in each(drains.equipment) if e.kind == kind))
    if drains.discharge and drains.discharge.kind == "septic tank":
        yield from _chore("septic_tank", (drains.discharge.id,))


def _gas(house: House) -> Iterator[Chore]:
    burning = burners(house)
    yield from _chore("gas_appliances", burning)
    if burning:
        yield _written("co_test", (), None)
        yield _written("co_battery", (), None)
