"""Rules for what reports a leak, and for condensate drains."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import each, given
from handbook.record.grammar.safeguards import Sensor
from handbook.record.grammar.water import Valve
from handbook.rules import facts
from handbook.rules.heaters import ends_somewhere
from handbook.rules.looks import safeguards
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Gap, Outcome, look, rule, told


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
            yield Gap(drain.id, said, drain.mark_of("primary"), look("primary"))
        elif any(backups):
            yield Clear(drain.id)
        elif None in backups:
            said = f"{name} does not say what catches its water when it blocks"
            yield Gap(drain.id, said, drain.mark_of("id"), look("secondary"))
        else:
            said = f"{name} has no second drain, no pan and no float switch"
            yield Broken(drain.id, said, drain.mark_of("id"))


RULES = (
    sensor_without_target,
    sensor_without_battery,
    sensor_that_closes_no_valve,
    condensate_without_backup,
)
