"""Rules for what burns gas: that each can be shut off, near it, and what feeds it.

What is wrong here is put right by a licensed plumber or the gas utility, never by an occupant.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist

from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.record.entry import Entry
from handbook.record.fields import ABSENT
from handbook.record.fitting import free
from handbook.record.grammar.common import each, given
from handbook.record.grammar.fixtures import GasConnection
from handbook.record.grammar.gas import Gas, GasFed
from handbook.rules import facts
from handbook.rules.looks import is_shutoff, too_much
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Gap, Outcome, look, rule, told
from handbook.tables import table

BURNING = ("natural gas", "propane")


@dataclass(frozen=True)
class _Burner:
    """Something that burns gas, and what the record says of its connection."""

    id: str
    kind: str
    entry: Entry
    gas: GasConnection | None
    sure: bool
    """Whether the record says that it burns gas; else it may be electric."""

    @property
    def tail(self) -> str | None:
        """What its connection hangs on."""
        return self.gas.from_ if self.gas else None


def _burners(house: House) -> Iterator[_Burner]:
    """Yield what burns gas or may; nothing in a house that is known to have none."""
    if house.record.gas is ABSENT:
        return
    gas = _gas(house)
    for heater in each(house.record.heaters):
        if heater.gas is not ABSENT and heater.fuel != "electric" and heater.kind != "heat pump":
            sure = heater.fuel in BURNING or heater.gas is not None
            yield _Burner(heater.id, "water heater", heater, given(heater.gas), sure)
    for fixture in each(house.record.fixtures):
        if given(fixture.gas) or (fixture.kind == "range" and fixture.gas is None):
            sure = fixture.gas is not None
            yield _Burner(fixture.id, fixture.kind, fixture, given(fixture.gas), sure)
    for appliance in each(gas.appliances):
        if appliance.gas is not ABSENT:
            yield _Burner(appliance.id, appliance.kind, appliance, given(appliance.gas), True)


def _gas(house: House) -> Gas:
    return given(house.record.gas) or Gas()


def _sections(house: House) -> Iterator[Outcome]:
    """Yield what is left out of the record and would hold something that burns gas."""
    yield from told(house.record.gas, facts.GAS)
    if gas := given(house.record.gas):
        yield from told(gas.appliances, facts.APPLIANCES)
        yield from told(house.record.heaters, facts.HEATERS)
        yield from told(house.record.fixtures, facts.FIXTURES)


@rule(
    "GA-01",
    "appliance-without-gas-shutoff",
    "unsafe",
    why="Its gas can then be stopped only together with that of the whole house.",
    remedy="Have a licensed plumber set a shutoff at the appliance; nobody else works on gas pipe.",
    stages=("rough-in", "trim-out"),
    source="IRC G2420.5 (2018)",
)
def appliance_without_gas_shutoff(house: House) -> Iterator[Outcome]:
    """Each appliance that burns gas has a shutoff of its own."""
    yield from _sections(house)
    for burner in _burners(house):
        shutoff = burner.gas.shutoff if burner.gas else None
        name, mark = house.called(burner.id), burner.entry.mark_of("gas")
        if not burner.sure:
            yield CannotTell(facts.BURNS_GAS, burner.id)
        elif given(shutoff) or is_shutoff(house, burner.tail):
            yield Clear(burner.id)
        elif shutoff is ABSENT:
            yield Broken(burner.id, f"{name} has no gas shutoff", mark)
        else:
            said = f"{name} does not say whether it has a gas shutoff"
            yield Gap(burner.id, said, mark, look("gas: shutoff"))


@rule(
    "GA-02",
    "gas-shutoff-too-far",
    "fault",
    why="Whoever stands at the appliance must see the shutoff and reach it in a few steps.",
    remedy="Have a licensed plumber set a shutoff beside the appliance.",
    stages=("rough-in", "trim-out"),
    table="gas_shutoffs",
)
def gas_shutoff_too_far(house: House) -> Iterator[Outcome]:
    """A gas shutoff is in the same room as its appliance, and close to it."""
    yield from _sections(house)
    elsewhere = table("gas_shutoffs").values["may_be_elsewhere"]
    for burner in _burners(house):
        own = given(burner.gas.shutoff) if burner.gas else None
        at = own.id if own else burner.tail if is_shutoff(house, burner.tail) else None
        if at and burner.kind not in elsewhere:
            yield _near(house, burner, at)


def _near(house: House, burner: _Burner, shutoff: str) -> Outcome:
    most = Length(12 * table("gas_shutoffs").values["most_away_ft"])
    here, there = house.items[burner.id].place, house.items[shutoff].place
    names = f"{house.called(shutoff)} is", f"than {house.called(burner.id)}"
    mark = house.items[shutoff].entry.mark_of("place")
    if here and there and here.room and there.room and here.room != there.room:
        return Broken(burner.id, f"{names[0]} in another room {names[1]}", mark)
    if not (here and there and here.at and there.at):
        return CannotTell(facts.GAS_SHUTOFF_PLACE, burner.id)
    away = Length(dist((here.at.x, here.at.y), (there.at.x, there.at.y)))
    if not too_much(away.inches, most.inches):
        return Clear(burner.id)
    units = house.record.house.units
    said = f"{names[0]} {say_length(away, units)} away from {house.called(burner.id)}; "
    return Broken(burner.id, said + f"{say_length(most, units)} is the most", mark)


@rule(
    "GA-03",
    "appliance-without-sediment-trap",
    "fault",
    why="Scale and chips from the pipe are carried into the appliance's gas valve.",
    remedy="Have a licensed plumber set one between the shutoff and the appliance.",
    stages=("trim-out",),
    table="sediment_traps",
)
def appliance_without_sediment_trap(house: House) -> Iterator[Outcome]:
    """Each appliance that needs a sediment trap has one."""
    yield from _sections(house)
    exempt = table("sediment_traps").values["exempt"]
    for burner in _burners(house):
        if burner.kind in exempt or not burner.sure:
            continue
        trap = burner.gas.sediment_trap if burner.gas else None
        if trap is True:
            yield Clear(burner.id)
        elif trap is None:
            yield CannotTell(facts.SEDIMENT_TRAP, burner.id)
        else:
            said = f"{house.called(burner.id)} has no sediment trap"
            mark = burner.gas.mark_of("sediment_trap") if burner.gas else burner.entry.mark
            yield Broken(burner.id, said, mark)


@rule(
    "GA-04",
    "gas-feed-not-recorded",
    "gap",
    why="What a gas shutoff stops, and what a run has left to give, are told from the pipe.",
    remedy="Record what feeds it (`from`, or `gas: from` of an appliance); read it off the plan, "
    "never by opening pipe.",
    stages=("rough-in", "top-out"),
    source=PRACTICE,
)
def gas_feed_not_recorded(house: House) -> Iterator[Outcome]:
    """Each thing on the gas line says what feeds it."""
    yield from _sections(house)
    gas = _gas(house)
    things: tuple[GasFed, ...] = (
        *each(gas.regulators),
        *each(gas.valves),
        *each(gas.tees),
        *each(gas.outlets),
    )
    for thing in things:
        yield _fed(house, thing.id, thing.from_, thing, "`from: {}`")
    for burner in _burners(house):
        if burner.sure and burner.gas:
            yield _fed(house, burner.id, burner.tail, burner.gas, "`from: {}` inside its `gas`")
        elif burner.sure:
            yield _fed(house, burner.id, None, burner.entry, "`gas: {{from: {}}}`")


def _fed(house: House, thing: str, from_: str | None, entry: Entry, written: str) -> Outcome:
    if from_:
        return Clear(thing)
    said = f"{house.called(thing)} does not say what feeds it with gas"
    return Gap(thing, said, entry.mark_of("from_"), _feed_asked(house, thing, written))


def _feed_asked(house: House, thing: str, written: str) -> str:
    """Say where the feed of a thing is written, with an id of the gas line that there is."""
    gas = _gas(house)
    fed = (*each(gas.valves), *each(gas.tees), *each(gas.regulators))
    feeds = {it.id: it.from_ for it in fed}
    line = [meter.id] if (meter := given(gas.meter)) else []
    line += [name for name in feeds if not _hangs_on(name, thing, feeds)]
    first = line[0] if line else free("GM", {name.casefold() for name in house.items})
    of = f"of {thing}, {written.format(first)}"
    if line:
        return f"Record what feeds it: {of} where {house.called(first)} does; {_READ}"
    return f"Record the gas meter under `gas: meter` first, then what feeds it: {of}; {_READ}"


def _hangs_on(name: str | None, thing: str, feeds: dict[str, str | None]) -> bool:
    """Whether a thing of the line is this one or behind it, and so cannot feed it."""
    while name and name != thing:
        name = feeds.get(name)
    return name is not None


_READ = "read it off the plan, never by opening pipe."


RULES = (
    appliance_without_gas_shutoff,
    gas_shutoff_too_far,
    appliance_without_sediment_trap,
    gas_feed_not_recorded,
)
