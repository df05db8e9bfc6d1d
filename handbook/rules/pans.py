"""Rules for drain pans: where each drains to, and whether it can carry a leak off."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.safeguards import Pan
from handbook.rules import facts
from handbook.rules.heaters import ends_somewhere
from handbook.rules.looks import safeguards, smaller, too_little, too_much
from handbook.rules.rule import Broken, CannotTell, Clear, Gap, Outcome, look, rule, told
from handbook.tables import table


def _pans(house: House) -> tuple[Pan, ...]:
    return each(safeguards(house).pans)


@rule(
    "SG-01",
    "pan-without-drain",
    "fault",
    why="A pan that drains nowhere fills, and then spills on the floor it was to protect.",
    remedy="Have a drain run from it to a floor drain or outdoors; until then, set a sensor in it.",
    stages=("rough-in", "trim-out", "handover"),
    source="IRC P2801.6.1 (2015), IPC 504.7",
)
def pan_without_drain(house: House) -> Iterator[Outcome]:
    """Each drain pan says where its drain ends."""
    yield from told(safeguards(house).pans, facts.PANS)
    for pan in _pans(house):
        name, mark = house.called(pan.id), pan.mark_of("drain")
        if pan.drain is ABSENT:
            yield Broken(pan.id, f"{name} has no drain", mark)
        elif ends_somewhere(given(pan.drain)):
            yield Clear(pan.id)
        else:
            said = f"{name} does not say where its drain ends"
            yield Gap(pan.id, said, mark, look("drain"))


def _under_heater(house: House, pan: Pan) -> bool | None:
    """Whether a pan stands under a water heater; None where the record does not say."""
    if any(given(heater.pan) == pan.id for heater in each(house.record.heaters)):
        return True
    if pan.under is None:
        return None
    return isinstance(house.items[pan.under].entry, Heater) if pan.under in house.items else False


@rule(
    "SG-02",
    "pan-too-shallow",
    "fault",
    why="A shallow pan runs over before its drain can carry the water off.",
    remedy="Have it replaced with a pan of at least the depth in the table.",
    stages=("rough-in", "trim-out"),
    table="heater_pans",
)
def pan_too_shallow(house: House) -> Iterator[Outcome]:
    """A pan under a water heater is deep enough."""
    least, units = Length(table("heater_pans").values["least_depth_in"]), house.record.house.units
    yield from told(safeguards(house).pans, facts.PANS)
    for pan in _pans(house):
        under = _under_heater(house, pan)
        if under is False:
            continue
        if pan.depth is None:
            yield CannotTell(facts.PAN_DEPTH, pan.id)
        elif not too_little(pan.depth.inches, least.inches):
            yield Clear(pan.id)
        elif under is None:
            yield CannotTell(facts.PAN_UNDER, pan.id)
        else:
            said = f"{house.called(pan.id)} is {say_length(pan.depth, units)} deep; "
            said += f"{say_length(least, units)} is the least"
            yield Broken(pan.id, said, pan.mark_of("depth"))


@rule(
    "SG-03",
    "pan-drain-too-small",
    "fault",
    why="A drain smaller than the pan's own outlet backs the water up into the pan.",
    remedy="Have it replaced with pipe of at least the size in the table.",
    stages=("rough-in", "trim-out"),
    table="heater_pans",
)
def pan_drain_too_small(house: House) -> Iterator[Outcome]:
    """The drain of a pan under a water heater is wide enough."""
    least = table("heater_pans").values["least_drain_in"]
    yield from told(safeguards(house).pans, facts.PANS)
    for pan in _pans(house):
        under, drain = _under_heater(house, pan), given(pan.drain)
        if under is False or drain is None:
            continue
        size = drain.by.size if drain.by else None
        if size is None:
            yield CannotTell(facts.PAN_DRAIN_SIZE, pan.id)
        elif not smaller(size, least):
            yield Clear(pan.id)
        elif under is None:
            yield CannotTell(facts.PAN_UNDER, pan.id)
        else:
            said = f"{house.called(pan.id)} drains through {size}; {least} in is the least"
            yield Broken(pan.id, said, drain.mark_of("by"))


@rule(
    "SG-04",
    "pan-drain-ends-at-wrong-height",
    "fault",
    why="Too low it is buried or frozen shut; too high its drip is not seen and wets the wall.",
    remedy="Have its end moved to between the two heights in the table.",
    stages=("rough-in", "handover"),
    table="pan_drain_ends",
)
def pan_drain_ends_at_wrong_height(house: House) -> Iterator[Outcome]:
    """A heater pan's drain ends outdoors neither too low nor too high above the ground."""
    limits, units = table("pan_drain_ends").values, house.record.house.units
    low, high = Length(limits["least_above_grade_in"]), Length(limits["most_above_grade_in"])
    yield from told(safeguards(house).pans, facts.PANS)
    for pan in _pans(house):
        under, drain = _under_heater(house, pan), given(pan.drain)
        if under is False or drain is None or drain.to not in ("outdoors", None):
            continue
        if drain.above is None or drain.to is None:
            yield CannotTell(facts.PAN_DRAIN_END, pan.id)
        elif not (
            too_little(drain.above.inches, low.inches) or too_much(drain.above.inches, high.inches)
        ):
            yield Clear(pan.id)
        elif under is None:
            yield CannotTell(facts.PAN_UNDER, pan.id)
        else:
            said = f"The drain of {house.called(pan.id)} ends "
            said += f"{say_length(drain.above, units)} above the ground; it should be between "
            said += f"{say_length(low, units)} and {say_length(high, units)}"
            yield Broken(pan.id, said, drain.mark_of("above"))


RULES = (
    pan_without_drain,
    pan_too_shallow,
    pan_drain_too_small,
    pan_drain_ends_at_wrong_height,
)
