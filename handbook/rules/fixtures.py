"""Rules for fixtures: that each can be shut off, and that the record says what feeds it."""

from collections.abc import Iterator

from handbook.answers.isolating import ladder
from handbook.house.house import House
from handbook.house.lines import water_lines
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import each, given
from handbook.record.grammar.fixtures import Fixture, WaterConnection
from handbook.record.grammar.water import Tee
from handbook.record.problems import Mark
from handbook.rules import facts
from handbook.rules.looks import is_indoors, is_shutoff, water
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Gap, Outcome, look, rule, told
from handbook.tables import table


def _supplies(fixture: Fixture) -> tuple[tuple[str, WaterConnection], ...]:
    sides = (("cold", given(fixture.cold)), ("hot", given(fixture.hot)))
    return tuple((side, connection) for side, connection in sides if connection)


@rule(
    "FX-01",
    "fixture-not-isolable",
    "fault",
    why="Its leak can be stopped only outdoors or by the water utility, while the water runs on.",
    remedy="Have a shutoff set indoors in its line, or repair the one that is out of order.",
    stages=("rough-in", "trim-out", "handover"),
    source=PRACTICE + "; IRC P2903.9.1 asks for one accessible main shutoff",
)
def fixture_not_isolable(house: House) -> Iterator[Outcome]:
    """Each fixture can be shut off indoors, without the utility's valve."""
    yield from told(house.record.fixtures, facts.FIXTURES)
    lines = water_lines(house.record)
    known, all_ = _indoor_valves(house)
    for fixture in each(house.record.fixtures):
        ends = [f"{fixture.id}.{side}" for side, _ in _supplies(fixture)]
        wet = house.water.bodies[fixture.id]
        if not ends:
            continue
        if not ladder.cuts(house.water.network, wet, all_):
            said = f"No shutoff indoors stops the water to {house.called(fixture.id)}"
            yield Broken(fixture.id, said, fixture.mark_of("id"))
        elif any(lines.holes(end) for end in ends):
            yield CannotTell(facts.WATER_FEED, fixture.id)
        elif not ladder.cuts(house.water.network, wet, known):
            yield CannotTell(facts.INDOORS, fixture.id)
        else:
            yield Clear(fixture.id)


def _indoor_valves(house: House) -> tuple[list[str], list[str]]:
    """Return the occupant's valves known to be indoors, and with them those that may be."""
    known, all_ = [], []
    for valve in house.water.network.handles:
        item = house.items.get(valve)
        if item is None or getattr(item.entry, "utility", False):
            continue
        indoors = is_indoors(house, item.place)
        known += [valve] if indoors else []
        all_ += [valve] if indoors is not False else []
    return known, all_


@rule(
    "FX-02",
    "fixture-without-stop",
    "fault",
    why="Without a stop of its own, mending one fixture shuts off others, or the whole house.",
    remedy="Have a stop set in each of its supplies.",
    stages=("trim-out", "handover"),
    table="fixture_stops",
)
def fixture_without_stop(house: House) -> Iterator[Outcome]:
    """Each supply of a fixture has a stop, except at tubs and showers."""
    exempt = table("fixture_stops").values["exempt"]
    yield from told(house.record.fixtures, facts.FIXTURES)
    for fixture in each(house.record.fixtures):
        if fixture.kind in exempt:
            continue
        for side, connection in _supplies(fixture):
            name, mark = house.called(fixture.id), connection.mark_of("stop")
            if given(connection.stop) or is_shutoff(house, connection.from_):
                yield Clear(fixture.id)
            elif connection.stop is ABSENT:
                yield Broken(fixture.id, f"The {side} supply of {name} has no stop", mark)
            else:
                said = f"The {side} supply of {name} does not say whether it has a stop"
                yield Gap(fixture.id, said, mark, look("stop"))


@rule(
    "FX-03",
    "feed-not-recorded",
    "gap",
    why="Until then it is taken to hang on the main shutoff, and no nearer valve can be named.",
    remedy="Follow its pipe back, and record what feeds it under `from`; of a fixture, under "
    "`cold: from` or `hot: from`.",
    stages=("rough-in", "top-out", "handover"),
    source=PRACTICE,
)
def feed_not_recorded(house: House) -> Iterator[Outcome]:
    """Each thing that water passes says what feeds it."""
    yield from told(house.record.fixtures, facts.FIXTURES)
    yield from told(house.record.heaters, facts.HEATERS)
    yield from _fixtures_without_feed(house)
    for heater in each(house.record.heaters):
        cold = heater.cold
        mark = cold.mark_of("from_") if cold else heater.mark_of("id")
        yield _fed(house, heater.id, "cold water", cold.from_ if cold else None, mark)
    yield from _mains_without_feed(house)
    supply = water(house)
    pump, irrigation = given(supply.recirculation), given(supply.irrigation)
    for thing in (
        *(valve for valve in each(supply.valves) if not valve.main and not valve.utility),
        *each(supply.tees),
        *each(supply.manifolds),
        *each(supply.equipment),
        *each(supply.softeners),
        *([pump] if pump else []),
        *([irrigation] if irrigation else []),
    ):
        feeds = each(thing.feeds) if isinstance(thing, Tee) else ()
        from_ = thing.from_ or (feeds[0].from_ if feeds else None)
        yield _fed(house, thing.id, "water", from_, thing.mark_of("from_"))


def _mains_without_feed(house: House) -> Iterator[Outcome]:
    """Yield for each main, and the utility's valve: alone at the street one needs no `from`."""
    supply = water(house)
    mains = [valve for valve in each(supply.valves) if valve.main or valve.utility]
    ahead = bool(given(supply.meter) or supply.sources) or len(mains) > 1
    for main in mains:
        if main.from_ or not ahead:
            yield Clear(main.id)
        else:
            yield CannotTell(facts.WATER_FEED, main.id)


def _fixtures_without_feed(house: House) -> Iterator[Outcome]:
    needs = table("fixture_connections").values
    for fixture in each(house.record.fixtures):
        for side, connection in _supplies(fixture):
            mark = connection.mark_of("from_")
            yield _fed(house, fixture.id, f"{side} water", connection.from_, mark)
        for side, pipe in (("cold", fixture.cold), ("hot", fixture.hot)):
            if pipe is None and side in needs[fixture.kind]:
                yield _fed(house, fixture.id, f"{side} water", None, fixture.mark_of("id"))


def _fed(house: House, thing: str, what: str, from_: str | None, mark: Mark) -> Outcome:
    if from_:
        return Clear(thing)
    return Gap(thing, f"{house.called(thing)} does not say what feeds it with {what}", mark)


RULES = (fixture_not_isolable, fixture_without_stop, feed_not_recorded)
