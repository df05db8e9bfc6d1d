"""Rule for how far levels lie apart: rooms over one another, and the stairs between them."""

from collections.abc import Iterator
from itertools import combinations

from handbook.house.house import House
from handbook.house.spaces import Space
from handbook.measures import Length, say_length
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.places import Level, Stair
from handbook.rules import facts
from handbook.rules.rule import Broken, CannotTell, Clear, Outcome, rule, told
from handbook.tables import table


@rule(
    "RC-13",
    "levels-too-close",
    "fault",
    why="Heights, pressures and the way up or down the stairs are reckoned from the levels.",
    remedy="Measure `elevation` again, from finished floor to finished floor, with its unit; "
    "`ceiling` and the stairs' `steps` have to fit it.",
    stages=("rough-in", "handover"),
    table="levels_apart",
)
def levels_too_close(house: House) -> Iterator[Outcome]:
    """Levels lie as far apart as the room below, and the steps of their stairs, let them."""
    yield from told(house.record.levels, facts.ROOMS)
    for level in each(house.record.levels):
        yield CannotTell(facts.ELEVATION) if level.elevation is None else Clear()
    known = [level for level in each(house.record.levels) if level.elevation is not None]
    for one, other in combinations(known, 2):
        below, above = sorted((one, other), key=_high)
        if _high(above) - _high(below) < _least(below):
            yield from _so_close(house, below, above)
    for stair in each(house.record.stairs):
        yield from _steps(house, stair)


def _least(below: Level) -> float:
    """Return how far up the next floor lies at least: half of the ceiling's height, which is
    recorded once for a level whose rooms differ."""
    least = float(table("levels_apart").values["least_in"])
    return max(least, below.ceiling.inches / 2) if below.ceiling else least


def _so_close(house: House, below: Level, above: Level) -> Iterator[Outcome]:
    """Levels side by side may be as close as they like; rooms over one another may not."""
    wide = float(table("levels_apart").values["rooms_share_in"])
    lower, upper = (_spaces(house, level) for level in (below, above))
    if any(low.overlaps(high, wide) for low in lower for high in upper if low and high):
        units = house.record.house.units
        apart = say_length(Length(_high(above) - _high(below)), units)
        said = f"The floor of the {above.name} is recorded {apart} above that of the "
        said += f"{below.name}, and there are rooms over one another"
        if below.ceiling is not None:
            said += f"; the ceiling between them is at {say_length(below.ceiling, units)}"
        yield Broken(None, said, above.mark_of("elevation"))
    elif None in lower or None in upper or not lower or not upper:
        yield CannotTell(facts.OUTLINES)


def _spaces(house: House, level: Level) -> list[Space | None]:
    return [house.plan.zones[room.id].space for room in each(level.rooms)]


def _steps(house: House, stair: Stair) -> Iterator[Outcome]:
    foot, head = (_level(house, place) for place in (stair.foot, stair.head))
    if not foot or not head or not stair.steps or foot.elevation is None or head.elevation is None:
        return
    limits, rise = table("levels_apart").values, _high(head) - _high(foot)
    one = rise / stair.steps
    if rise <= 0 or limits["step_least_in"] <= one <= limits["step_most_in"]:
        return  # stairs that lead down are another rule's
    units = house.record.house.units
    said = f"The stairs {stair.id} climb {say_length(Length(rise), units)} in {stair.steps} steps: "
    said += f"{say_length(Length(one), units)} a step"
    yield Broken(None, said, stair.mark_of("steps"))


def _level(house: House, place: Place) -> Level | None:
    return house.places.levels.get(house.places.level_id(place) or "")


def _high(level: Level) -> float:
    return level.elevation.inches if level.elevation else 0.0


RULES = (levels_too_close,)
