"""Rules for what catches or reports a leak: pans, sensors, condensate drains."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.safeguards import Pan, Sensor
from handbook.record.grammar.water import Valve
from handbook.rules import facts
from handbook.rules.heaters import ends_somewhere
from handbook.rules.looks import safeguards, smaller, too_little, too_much
from handbook.rules.rule import (
    LOOK_OR_NONE,
    PRACTICE,
    Broken,
    CannotTell,
    Clear,
    Gap,
    Outcome,
    rule,
    told,
)
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
            yield Gap(pan.id, said, mark, LOOK_OR_NONE)


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


@rule(
    "SG-05",
    "sensor-without-target",
    "gap",
    why="When it sounds, somebody must know at once what to look at and what to close.",
    remedy="Record under `watches` the ids of what would leak there.",
    stages=("trim-out", "handover"),
    source=PRACTICE,
)
def sensor_without_target(house: House) -> Iterator[Outcome]:
    """Each leak sensor says what it watches."""
    yield from told(safeguards(house).sensors, facts.SENSORS)
    for sensor in each(safeguards(house).sensors):
        if sensor.watches:
            yield Clear(sensor.id)
        else:
            said = f"{house.called(sensor.id)} does not say what it watches"
            yield Gap(sensor.id, said, sensor.mark_of("watches"))


@rule(
    "SG-06",
    "sensor-without-battery",
    "gap",
    why="A sensor with a flat battery is worse than none: somebody relies on it.",
    remedy="Record its `battery` and when it was changed, or `none` if it has mains power.",
    stages=("trim-out", "handover", "lived-in"),
    source=PRACTICE,
)
def sensor_without_battery(house: House) -> Iterator[Outcome]:
    """Each leak sensor says which battery it has, or that it has none."""
    yield from told(safeguards(house).sensors, facts.SENSORS)
    for sensor in each(safeguards(house).sensors):
        battery = given(sensor.battery)
        if sensor.battery is ABSENT or (battery and (battery.kind or battery.changed)):
            yield Clear(sensor.id)
        else:
            said = f"{house.called(sensor.id)} does not say what battery it has"
            yield Gap(sensor.id, said, sensor.mark_of("battery"))


@rule(
    "SG-07",
    "sensor-that-closes-no-valve",
    "fault",
    why="People leave the house trusting that a leak will shut the water off by itself.",
    remedy="Pair it with the automatic shutoff, try it, and record that valve under `closes`.",
    stages=("trim-out", "handover"),
    source=PRACTICE,
)
def sensor_that_closes_no_valve(house: House) -> Iterator[Outcome]:
    """A leak sensor that is said to close a valve closes an automatic shutoff."""
    yield from told(safeguards(house).sensors, facts.SENSORS)
    for sensor in each(safeguards(house).sensors):
        if sensor.does is None:
            yield CannotTell(facts.SENSOR_DOES, sensor.id)
        elif "closes a valve" in sensor.does or sensor.closes:
            yield _closes(house, sensor)
        else:
            yield Clear(sensor.id)


def _closes(house: House, sensor: Sensor) -> Outcome:
    name, mark = house.called(sensor.id), sensor.mark_of("closes")
    if sensor.closes is ABSENT:
        return Broken(sensor.id, f"{name} is said to close a valve, but closes none", mark)
    if sensor.closes is None:
        return Gap(sensor.id, f"{name} does not say which valve it closes", mark)
    valve = house.items[sensor.closes].entry
    kind = valve.kind if isinstance(valve, Valve) else None
    if kind == "automatic shutoff":
        return Clear(sensor.id)
    if kind is None:
        said = f"{name} closes {house.called(sensor.closes)}, which does not say its kind"
        return Gap(sensor.id, said, mark)
    said = f"{name} is said to close {house.called(sensor.closes)}, which is no automatic shutoff"
    return Broken(sensor.id, said, mark)


@rule(
    "SG-08",
    "condensate-without-backup",
    "fault",
    why="A condensate drain that blocks in summer comes through the ceiling below.",
    remedy="Have a second drain, a pan with its own drain, or a float switch set.",
    stages=("rough-in", "trim-out"),
    source="IRC M1411.3.1 (2018)",
)
def condensate_without_backup(house: House) -> Iterator[Outcome]:
    """Each condensate drain says where it ends, and has a second line of defence."""
    yield from told(safeguards(house).condensate, facts.CONDENSATE)
    for drain in each(safeguards(house).condensate):
        name = house.called(drain.id)
        backups = (drain.secondary, drain.pan, drain.float_switch)
        if not ends_somewhere(given(drain.primary)):
            said = f"{name} does not say where it ends"
            yield Gap(drain.id, said, drain.mark_of("primary"))
        elif any(backups):
            yield Clear(drain.id)
        elif None in backups:
            said = f"{name} does not say what catches its water when it blocks"
            yield Gap(drain.id, said, drain.mark_of("id"), LOOK_OR_NONE)
        else:
            said = f"{name} has no second drain, no pan and no float switch"
            yield Broken(drain.id, said, drain.mark_of("id"))


RULES = (
    pan_without_drain,
    pan_too_shallow,
    pan_drain_too_small,
    pan_drain_ends_at_wrong_height,
    sensor_without_target,
    sensor_without_battery,
    sensor_that_closes_no_valve,
    condensate_without_backup,
)
