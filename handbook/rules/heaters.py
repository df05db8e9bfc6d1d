"""Rules for water heaters: their shutoff, their relief valve, room for water to swell, a pan."""

from collections.abc import Iterator

from handbook.answers.heating.closed_system import closure
from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import Ending, each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.places import OUTSIDE
from handbook.rules import facts
from handbook.rules.looks import is_shutoff, safeguards, too_much
from handbook.rules.rule import Broken, CannotTell, Clear, Gap, Outcome, look, rule, told
from handbook.tables import table


@rule(
    "HE-01",
    "heater-without-cold-shutoff",
    "fault",
    why="A tank that leaks goes on filling until its cold supply is closed.",
    remedy="Have a full-open shutoff set in the cold pipe beside the heater.",
    stages=("trim-out", "handover"),
    source="IRC P2903.9.2, IPC 606.1",
)
def heater_without_cold_shutoff(house: House) -> Iterator[Outcome]:
    """Each water heater has a shutoff in its cold supply."""
    yield from told(house.record.heaters, facts.HEATERS)
    for heater in each(house.record.heaters):
        name, cold = house.called(heater.id), heater.cold
        mark = cold.mark_of("stop") if cold else heater.mark_of("id")
        if cold and (given(cold.stop) or is_shutoff(house, cold.from_)):
            yield Clear(heater.id)
        elif cold and cold.stop is ABSENT:
            yield Broken(heater.id, f"{name} has no shutoff in its cold supply", mark)
        else:
            said = f"{name} does not say whether its cold supply has a shutoff"
            yield Gap(heater.id, said, mark, look("cold: stop"))


@rule(
    "HE-02",
    "heater-without-relief-valve",
    "unsafe",
    why="A heater whose control fails and that cannot let go of pressure can burst.",
    remedy="Turn the heater off, and have a licensed plumber set a T&P relief valve at once.",
    stages=("trim-out", "handover", "lived-in"),
    source="IPC 504.4, 504.5 (as adopted in Chicago, 18-29-504.4)",
)
def heater_without_relief_valve(house: House) -> Iterator[Outcome]:
    """Each water heater has a relief valve."""
    yield from told(house.record.heaters, facts.HEATERS)
    for heater in each(house.record.heaters):
        name, mark = house.called(heater.id), heater.mark_of("relief")
        if heater.relief is ABSENT:
            yield Broken(heater.id, f"{name} has no relief valve", mark)
        elif heater.relief is None:
            said = f"{name} does not say whether it has a relief valve"
            yield Gap(heater.id, said, mark, look("relief"))
        else:
            yield Clear(heater.id)


@rule(
    "HE-03",
    "relief-without-discharge-pipe",
    "unsafe",
    why="A relief valve without a pipe throws scalding water at whoever stands there.",
    remedy="Have a licensed plumber pipe it full size to the floor, a receptor or outdoors.",
    stages=("trim-out", "handover", "lived-in"),
    source="IRC P2804.6.1, IPC 504.6 (2018)",
)
def relief_without_discharge_pipe(house: House) -> Iterator[Outcome]:
    """Each relief valve's discharge pipe ends somewhere that is recorded."""
    yield from told(house.record.heaters, facts.HEATERS)
    for heater in each(house.record.heaters):
        if not (relief := given(heater.relief)):
            continue
        mark, name = relief.mark_of("discharge"), house.called(heater.id)
        if relief.discharge is ABSENT:
            yield Broken(heater.id, f"The relief valve of {name} has no discharge pipe", mark)
        elif ends_somewhere(given(relief.discharge)):
            yield Clear(heater.id)
        else:
            said = f"{name} does not say where its relief valve's pipe ends"
            yield Gap(heater.id, said, mark, look("discharge"))


def ends_somewhere(ending: Ending | None) -> bool:
    """Whether an ending says in any way where it is."""
    return bool(ending and (ending.to or ending.drain or ending.where or ending.place))


@rule(
    "HE-04",
    "relief-ends-too-high",
    "fault",
    why="Water near boiling that falls from a height splashes on skin and goes unseen.",
    remedy="Have the pipe extended to within the limit of the floor or the receptor's rim.",
    stages=("trim-out", "handover"),
    table="relief_discharge",
)
def relief_ends_too_high(house: House) -> Iterator[Outcome]:
    """A relief valve's pipe ends close above the floor or the receptor."""
    most = Length(table("relief_discharge").values["most_above_in"])
    units = house.record.house.units
    yield from told(house.record.heaters, facts.HEATERS)
    for heater in each(house.record.heaters):
        relief = given(heater.relief)
        ending = given(relief.discharge) if relief else None
        if ending is None or ending.to == "outdoors":
            continue
        if ending.above is None:
            yield CannotTell(facts.RELIEF_HEIGHT, heater.id)
        elif too_much(ending.above.inches, most.inches):
            high, limit = say_length(ending.above, units), say_length(most, units)
            said = (
                f"The relief pipe of {house.called(heater.id)} ends {high} up; {limit} is the most"
            )
            yield Broken(heater.id, said, ending.mark_of("above"))
        else:
            yield Clear(heater.id)


@rule(
    "HE-05",
    "closed-system-without-expansion-tank",
    "fault",
    why="Heated water swells; where it cannot flow back it strains pipes and the relief valve.",
    remedy="Have an expansion tank set in the cold pipe between the heater and its shutoff.",
    stages=("trim-out", "handover"),
    table="thermal_expansion",
)
def closed_system_without_expansion_tank(house: House) -> Iterator[Outcome]:
    """A storage heater behind a one-way device in the line has an expansion tank."""
    yield from told(house.record.heaters, facts.HEATERS)
    for heater in each(house.record.heaters):
        closed = closure(house, heater.id)
        if given(heater.expansion_tank) or heater.kind == "tankless" or closed.system == "open":
            yield Clear(heater.id)
        elif closed.lacks:
            fact = facts.EQUIPMENT if closed.lacks == "equipment" else facts.WATER_FEED
            yield CannotTell(fact, heater.id)
        elif heater.kind is None or heater.expansion_tank is None:
            fact = facts.HEATER_KIND if heater.kind is None else facts.EXPANSION_TANK
            yield CannotTell(fact, heater.id)
        else:
            said = f"{house.called(heater.id)} has no expansion tank, and {closed.by} "
            said += f"({house.items[closed.by or ''].kind}) lets its water go back no further"
            yield Broken(heater.id, said, heater.mark_of("expansion_tank"))


@rule(
    "HE-06",
    "heater-without-pan",
    "fault",
    why="A tank that leaks above other rooms comes through their ceiling.",
    remedy="Have a pan set under it, with a drain to a floor drain or outdoors.",
    stages=("rough-in", "trim-out"),
    source="IRC P2801.6 (2015), IPC 504.7",
)
def heater_without_pan(house: House) -> Iterator[Outcome]:
    """A storage heater that stands above another level stands in a pan."""
    yield from told(house.record.heaters, facts.HEATERS)
    for heater in each(house.record.heaters):
        if heater.kind == "tankless":
            continue
        above = _above_another_level(house, heater)
        under = any(pan.under == heater.id for pan in each(safeguards(house).pans))
        name, mark = house.called(heater.id), heater.mark_of("pan")
        if given(heater.pan) or under or above is False:
            yield Clear(heater.id)
        elif above is None:
            yield CannotTell(facts.HEATER_PLACE, heater.id)
        elif heater.kind is None:
            yield CannotTell(facts.HEATER_KIND, heater.id)
        elif heater.pan is ABSENT:
            yield Broken(heater.id, f"{name} stands above other rooms without a pan", mark)
        else:
            said = f"{name} does not say whether it stands in a pan"
            yield Gap(heater.id, said, mark, look("pan"))


def _above_another_level(house: House, heater: Heater) -> bool | None:
    """Whether a heater's leak would find rooms below; None where the levels do not say."""
    level = house.places.level_id(heater.place)
    if level == OUTSIDE:
        return False
    if level is None:
        return None
    own = house.places.levels[level].elevation
    others = [at for name, at in house.places.levels.items() if name != level]
    if not others:
        return False
    if own and any(other.elevation and other.elevation < own for other in others):
        return True
    return None if own is None or any(other.elevation is None for other in others) else False


RULES = (
    heater_without_cold_shutoff,
    heater_without_relief_valve,
    relief_without_discharge_pipe,
    relief_ends_too_high,
    closed_system_without_expansion_tank,
    heater_without_pan,
)
