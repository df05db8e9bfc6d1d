"""How long each outlet waits for hot water, and how much runs to waste meanwhile.

The wait is what stands in the pipe between hot water and the outlet, at the outlet's flow: from
the heater, and from the recirculated pipe while its pump runs. It is the time for the cold water
to run out; the pipe itself takes some heat too, so the water is a little longer in getting hot.
Where a run's length, size or material is not recorded there is no number, and it says so.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from handbook.answers.flowing.pipe_volume import gallons_per_foot, volume
from handbook.answers.heating.hot_ways import HotLines, HotWay, Piece
from handbook.answers.heating.scald import Scald, scald
from handbook.answers.isolating.targets import supply_kept_off
from handbook.house.house import House
from handbook.house.items import Item
from handbook.house.sizes import inches_of, trade_inches
from handbook.measures import Flow, Length, Temperature, Volume
from handbook.record.grammar.common import each, given
from handbook.record.grammar.fixtures import Fixture, WaterConnection
from handbook.tables import table

Wait = Literal["acceptable", "marginal", "too long"]


@dataclass(frozen=True)
class Way:
    """One way for hot water to an outlet. `limit` None: no published length for its pipe."""

    source: str
    """Id of the heater, or of the thing on the recirculated pipe where it starts."""
    pieces: tuple[Piece, ...]
    length: Length
    volume: Volume
    seconds: float
    limit: Length | None

    @property
    def wait(self) -> Wait:
        """The published class of the wait."""
        for row in table("hot_water_waits").values:
            if self.seconds <= row["up_to_s"]:
                found: Wait = row["class"]
                return found
        return "too long"

    @property
    def stores_too_much(self) -> bool:
        """Whether more stands in the pipe than is published as the most."""
        most: float = table("hot_water_stored").values["stored_gal"]
        return self.volume.gallons > most

    @property
    def too_far(self) -> bool | None:
        """Whether it is longer than published for its pipe; None where nothing is."""
        return None if self.limit is None else self.length > self.limit


@dataclass(frozen=True)
class Outlet:
    """One fixture with hot water. A way is None where it cannot be reckoned, or there is none."""

    id: str
    name: str
    kind: str
    flow: Flow | None
    machine: bool
    """It takes the cold water in, so none runs to waste."""
    from_loop: Way | None
    """While the recirculation pump runs; None too where there is no loop."""
    from_heater: Way | None
    missing: tuple[str, ...] = ()
    kept_off: tuple[Item, ...] = ()
    """The valves that are recorded as closed and keep the hot water away: then it has no way."""

    def wasted_a_year(self, way: Way | None) -> Volume | None:
        """Return what runs to waste in a year by a way, under the use that is assumed."""
        if way is None:
            return None
        use = table("hot_water_use").values
        starts = 0 if self.machine else use["cold_starts_a_day"] * use["days_a_year"]
        return Volume(way.volume.gallons * starts)


@dataclass(frozen=True)
class Loop:
    """The recirculation: its pump, where it draws, and what makes it run (None: not recorded)."""

    pump: str
    draws: str
    control: str | None


@dataclass(frozen=True)
class Heat:
    """A heater's setting, and how soon it burns; both None where it is not recorded."""

    heater: str
    setting: Temperature | None
    scald: Scald | None


@dataclass(frozen=True)
class HotWater:
    """The answer for a house; `assumed` in sentences, `sources` as cited."""

    outlets: tuple[Outlet, ...]
    loop: Loop | None
    heaters: tuple[Heat, ...]
    assumed: tuple[str, ...]
    missing: tuple[str, ...]
    sources: tuple[str, ...]


def hot_water(house: House) -> HotWater:
    """Return the answer for every fixture that has hot water, in walking order."""
    lines = HotLines(house)
    outlets = tuple(
        _outlet(lines, fixture, hot)
        for fixture in each(house.record.fixtures)
        if (hot := given(fixture.hot))
    )
    loop, heaters = _loop(lines), each(house.record.heaters)
    return HotWater(
        outlets,
        loop,
        tuple(Heat(h.id, h.setting, scald(h.setting) if h.setting else None) for h in heaters),
        tuple(_assumed(house, outlets, loop)),
        tuple(_missing(house, lines, loop)),
        tuple(table(name).cited for name in _TABLES) if outlets else (),
    )


_TABLES = (
    "pipe_volumes",
    "outlet_flows",
    "hot_water_waits",
    "hot_water_stored",
    "hot_water_lengths",
)


def _loop(lines: HotLines) -> Loop | None:
    pump = lines.pump
    if pump is None or pump.from_ is None or not lines.loop & lines.heaters:
        return None
    return Loop(pump.id, pump.from_, pump.control)


def _outlet(lines: HotLines, fixture: Fixture, hot: WaterConnection) -> Outlet:
    flow = _flow(fixture)
    ways = lines.from_heater(fixture.id, hot)
    loops = lines.from_loop(fixture.id, hot) if _loop(lines) else ()
    missing = dict.fromkeys(need for way in ways for need in _needs(lines.house, way))
    if flow is None:
        missing["the flow of such an outlet: no table has it (`delivers`)"] = None
    shut = supply_kept_off(lines.house, f"{fixture.id}.hot")
    return Outlet(
        fixture.id,
        lines.house.items[fixture.id].name,
        fixture.kind,
        flow,
        fixture.kind in table("hot_water_use").values["machines"],
        None if shut else _slowest(lines, loops, flow),
        None if shut else _slowest(lines, ways, flow),
        tuple(missing),
        tuple(lines.house.items[valve] for valve in shut),
    )


def _flow(fixture: Fixture) -> Flow | None:
    """Return the maker's flow where it is recorded, else the one published for its kind."""
    if fixture.delivers is not None:
        return fixture.delivers.flow
    row = table("outlet_flows").values.get(fixture.kind)
    return Flow(row["gpm"]) if row else None


def _needs(house: House, way: HotWay) -> Iterator[str]:
    """Yield what a way lacks, in words."""
    for piece in way.pieces:
        run, end = piece.run, _end(house, piece.to)
        lacks = [
            word
            for word, fact in (
                ("length", run and run.length),
                ("size", run and (run.size or run.bore)),
                ("material", run and (run.material or run.bore)),
            )
            if fact is None
        ]
        if lacks:
            yield f"the {' and '.join(lacks)} of the pipe to {end}"
        elif run and gallons_per_foot(run) is None:
            yield f"the bore of the pipe to {end}: no table has {run.size} {run.material}"
    if way.hole in house.water.network.sources:
        yield f"a water heater in its line: it leads straight to {_end(house, way.hole)}"
    elif way.hole is not None:
        yield f"what feeds {_end(house, way.hole)}, up to a water heater"


def _end(house: House, end: str) -> str:
    """Say what a run ends at: `W38 (Hall bath shutoff, hot)`; a fixture's own by its name."""
    fixture = house.items.get(end.removesuffix(".hot"))
    return fixture.name if fixture and end not in house.items else house.called(end)


def _slowest(lines: HotLines, ways: tuple[HotWay, ...], flow: Flow | None) -> Way | None:
    """Return the way that holds most, of several; None where one cannot be reckoned."""
    known = [_way(lines, way, flow) for way in ways if flow and not any(_needs(lines.house, way))]
    if not known or len(known) < len(ways):
        return None
    return max((way for way in known if way), key=lambda way: way.volume.gallons, default=None)


def _way(lines: HotLines, way: HotWay, flow: Flow | None) -> Way | None:
    runs = [piece.run for piece in way.pieces if piece.run]
    held = [volume(run) for run in runs]
    if way.source is None or flow is None or None in held:
        return None
    gallons = sum(part.gallons for part in held if part)
    length = Length(sum(run.length.inches for run in runs if run.length))
    seconds = gallons / flow.gpm * 60
    sizes = [trade_inches(run.size) for run in runs if run.size]
    limit = _limit(max(sizes, default=0), way.source in lines.heaters)
    return Way(way.source, way.pieces, length, Volume(gallons), seconds, limit)


def _limit(largest: float, from_heater: bool) -> Length | None:
    """Return the published length for the largest size on the way; None where there is none."""
    rows = table("hot_water_lengths").values["from_heater_ft" if from_heater else "from_loop_ft"]
    feet = {inches_of(name): limit for name, limit in rows.items()}.get(largest)
    return None if feet is None else Length(12.0 * feet)


def _assumed(house: House, outlets: tuple[Outlet, ...], loop: Loop | None) -> Iterator[str]:
    ways = [way for it in outlets for way in (it.from_loop, it.from_heater) if way]
    if not ways:
        return
    yield "All the pipe from hot water to the outlet is taken to be cold, and the tap full open."
    if loop:
        yield f"While {loop.pump} runs, the pipe up to {loop.draws} is taken to be hot."
    runs = [piece.run for way in ways for piece in way.pieces if piece.run]
    if any(run.material == "brass" and run.bore is None for run in runs):
        yield "Brass nipples are taken to have the bore of schedule 40 pipe."
    starts = table("hot_water_use").values["cold_starts_a_day"]
    yield f"For the water run to waste, each tap is taken to be opened cold {starts} times a day."
    if any(heater.kind == "tankless" for heater in each(house.record.heaters)):
        yield "A tankless heater's own start is not counted; it adds to each wait."


def _missing(house: House, lines: HotLines, loop: Loop | None) -> Iterator[str]:
    if house.record.water is None or house.record.water.recirculation is None:
        yield "whether hot water is recirculated (`water: recirculation`; `none` if it is not)"
    elif lines.pump and loop is None:
        yield f"where {lines.pump.id} draws, up to a water heater"
    if loop and loop.control is None:
        yield f"when {loop.pump} runs (`control`)"
    yield from (
        f"what {heater.id} is set to" for heater in each(house.record.heaters) if not heater.setting
    )
