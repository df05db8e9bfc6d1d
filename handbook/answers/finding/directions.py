"""A way through a house in words that a stranger can follow, with left and right as one walks.

Where the way is not measured, or where nobody can know which way a person faces (at the start,
after a flight that turns), the words name rooms and doors and say nothing of left and right.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist, inf

from handbook.answers.finding.turns import Crossing, angle, crossing, facing
from handbook.house.floor_plan import Anchor, FloorPlan, Passage, Zone
from handbook.house.house import House
from handbook.house.spaces import XY
from handbook.house.walks import Walk
from handbook.record.grammar.places import OUTSIDE

STRAIGHT, HALF, FULL, BACK = 30, 60, 120, 150
"""Degrees up to which a turn is none, half, full, sharp; beyond, one turns back."""

LANDING = 48.0
"""Inches between a door and the stairs behind it that nobody would speak of."""

ACROSS = 54.0
"""Inches up to which a hall is only stepped across."""


@dataclass(frozen=True)
class _Stage:
    """One zone on the way, with the passages before and behind it; either may be missing."""

    zone: Zone
    before: Passage | None
    after: Passage | None
    turned: Crossing
    length: float


def turn_word(degrees: float | None) -> str:
    """Say a turn: `left`, `half right`, `back to the left`; empty for none or for unknown."""
    if degrees is None or abs(degrees) < STRAIGHT:
        return ""
    side = "left" if degrees > 0 else "right"
    size = abs(degrees)
    if size < HALF:
        return f"half {side}"
    if size <= FULL:
        return side
    return f"sharp {side}" if size <= BACK else f"back to the {side}"


def directions(house: House, walk: Walk, start: Anchor, goal: Anchor, since: int = 0) -> str:
    """Say the way up to the room in which it ends, from its zone number `since` on; empty where it
    begins there."""
    stages = _stages(house.plan, walk, start, goal)
    said: list[str] = []
    for number, stage in enumerate(stages):
        if number < since:
            continue
        if number == 0:
            said += _out_of(house, stage, stages)
        elif number < len(stages) - 1:
            named = number == 1 and _named_door(house.plan, stages[0])
            said += _across(house, stage, stages[number + 1], named)
        elif corners := _corners(stage):
            said += [turn_word(stage.turned.enters), *corners]
    return ", ".join(word for word in said if word)


def side_of(house: House, walk: Walk, start: Anchor, goal: Anchor) -> str:
    """Say on which side the goal is as one comes into its zone: `ahead on your left`.

    Empty where it is not known which way a person faces.
    """
    if not walk.passages or walk.length is None or goal.point is None:
        return ""
    stage = _stages(house.plan, walk, start, goal)[-1]
    assert stage.before is not None
    _, faced = facing(house.plan, stage.before, stage.zone.id)
    here = stage.before.toward(stage.zone.id)[-1]
    if faced is None:
        return ""
    if stage.turned.corners:
        return "ahead"
    size = angle(faced, (goal.point[0] - here[0], goal.point[1] - here[1]))
    if dist(here, goal.point) < 6 or abs(size) < 20:
        return "straight ahead"
    side = "left" if size > 0 else "right"
    if abs(size) < 70:
        return f"ahead on your {side}"
    return f"on your {side}" if abs(size) <= 110 else f"behind you on your {side}"


def _stages(plan: FloorPlan, walk: Walk, start: Anchor, goal: Anchor) -> list[_Stage]:
    stages = []
    for number, name in enumerate(walk.zones):
        before = walk.passages[number - 1] if number else None
        after = walk.passages[number] if number < len(walk.passages) else None
        zone = plan.zones[name]
        if walk.length is None or zone.space is None:
            stages.append(_Stage(zone, before, after, Crossing(None, (), None), inf))
            continue
        enters = facing(plan, before, name)[1] if before else None
        leaves = facing(plan, after, after.other(name))[0] if after else None
        a = before.toward(name)[-1] if before else (start.point or zone.space.middle)
        b = after.toward(name)[-1] if after else goal.point
        if b is None:
            turned, length = Crossing(None, (), None), inf
        else:
            turned = crossing(zone.space, a, enters, b, leaves)
            length = zone.space.length(a, b)
        stages.append(_Stage(zone, before, after, turned, length))
    return stages


def _out_of(house: House, stage: _Stage, stages: list[_Stage]) -> list[str]:
    """Begin: out of the room, by the door that leads on where it has several."""
    if stage.after is None:
        return []
    following = stages[1]
    climbed = _climbed(house, stage, following)
    if stage.zone.id == OUTSIDE:
        return [_way_in(house, stage, following), *climbed]
    if stage.after.kind == "stairs" and _landing(house.plan, stage):
        return climbed
    if len(stages) > 2 and _landing(house.plan, following) and _to_stairs(following):
        return []  # the next words are "down the stairs"
    said = f"out of {_the(stage.zone)}"
    if following.zone.name == OUTSIDE:
        said += " by its outer door"
    elif following.after is None:
        return [said, *climbed, _into(following.zone)] if not climbed else [said, *climbed]
    elif _named_door(house.plan, stage):
        said += f" to {_the(following.zone)}"
    return [said, *climbed]


def _named_door(plan: FloorPlan, stage: _Stage) -> bool:
    """Whether the way out has to be named, because the room has others."""
    return _ways_out(plan, stage.zone.id) > 1 and bool(stage.after and stage.after.kind != "stairs")


def _way_in(house: House, stage: _Stage, following: _Stage) -> str:
    door = stage.after
    assert door is not None
    inside = door.other(OUTSIDE)
    if door.kind == "steps":
        room = next(p.other(inside) for p in house.plan.passages if p.b == inside)
        return f"to the steps at the outer door of {_the(house.plan.zones[room])}"
    return f"in by the outer door of {_the(following.zone)}"


def _across(house: House, stage: _Stage, following: _Stage, named: bool) -> list[str]:
    """Say how one zone is crossed, and how it is left for the next; `named`: just spoken of."""
    turned = stage.turned
    if _stoop(stage.zone):
        return _over_stoop(house, stage, following)
    if _landing(house.plan, stage):
        net = (turned.enters or 0.0) + sum(turned.corners) + (turned.leaves or 0.0)
        return [*_leaving(house, stage, following, turn_word(net))]
    here = "it" if named else _the(stage.zone)
    if slant := _slant(stage):
        assert stage.after is not None
        said = f"through {here} to the {stage.after.kind} {slant}"
        return [said, *_leaving(house, stage, following, "")]
    hall = stage.zone.space and stage.zone.space.narrow
    turn, out = turn_word(turned.enters), turn_word(turned.leaves)
    short = stage.length < ACROSS and not (turn or out or _corners(stage))
    manner = "through" if not hall else "across" if short else "along"
    said = f"{turn} {manner} {here}".strip()
    return [said, *_corners(stage), *_leaving(house, stage, following, out)]


def _over_stoop(house: House, stage: _Stage, following: _Stage) -> list[str]:
    """From the door over the stoop and down its steps, or from the steps in by the door."""
    assert stage.after is not None
    if stage.after.kind != "steps":
        return ["in by the door", *([_into(following.zone)] if following.after is None else [])]
    on = turn_word(stage.turned.enters) or "straight"
    flight = _climbed(house, stage, following)[0]
    return [f"{on} on and {flight}" if stage.length > LANDING else flight]


def _leaving(house: House, stage: _Stage, following: _Stage, out: str) -> list[str]:
    leaving = stage.after
    assert leaving is not None
    if climbed := _climbed(house, stage, following):
        return [f"{out} {climbed[0]}".strip()]
    if following.zone.name == OUTSIDE:
        return [f"{out} out of the {leaving.kind}".strip()]
    if following.after is None:
        return [f"{out} {_into(following.zone)}".strip()]
    if out and _landing(house.plan, following):
        return [out]
    return [f"{out} through the {leaving.kind}"] if out else []


def _corners(stage: _Stage) -> list[str]:
    what = "the corner of the house" if stage.zone.level == OUTSIDE else "the corner"
    sides = [
        "left" if turn > 0 else "right" for turn in stage.turned.corners if abs(turn) >= STRAIGHT
    ]
    return [
        f"and again to the {side}"
        if number and side == sides[number - 1]
        else f"around {what} to the {side}"
        for number, side in enumerate(sides)
    ]


def _climbed(house: House, stage: _Stage, following: _Stage) -> list[str]:
    """Say the flight that leads on; nothing where a door does."""
    leaving = stage.after
    if leaving is None or leaving.kind not in ("stairs", "steps"):
        return []
    rise = leaving.rise_toward(following.zone.id)
    way = "by" if not rise else "up" if rise > 0 else "down"
    level = following.zone.level
    if leaving.kind == "steps":
        many = f"the {leaving.steps} steps" if leaving.steps else "the steps"
        return [f"{way} {many}"]
    count = f" ({leaving.steps} steps)" if leaving.steps else ""
    to = f" to {_level(house, level)}" if level in house.places.levels else ""
    return [f"{way} the stairs{to}{count}"]


def _level(house: House, level: str | None) -> str:
    name = house.places.levels[level or ""].name.lower()
    return f"the {name}"


def _slant(stage: _Stage) -> str:
    """Where the way out is, in a room crossed slantwise by two half turns; else empty."""
    turned = stage.turned
    if turned.enters is None or turned.leaves is None or _corners(stage):
        return ""
    if not all(STRAIGHT <= abs(turn) < HALF for turn in (turned.enters, turned.leaves)):
        return ""
    side = "left" if turned.enters > 0 else "right"
    same_way = (turned.enters > 0) == (turned.leaves > 0)
    return f"on the {side}" if same_way else f"ahead on the {side}"


def _landing(plan: FloorPlan, stage: _Stage) -> bool:
    """Whether a zone is only what lies between a door and the flight behind it.

    Where it is not measured, a zone with a door and a flight and nothing else is taken for one.
    """
    if "stairs" not in {passage.kind for passage in (stage.before, stage.after) if passage}:
        return False
    if stage.length == inf:
        return stage.before is not None and _ways_out(plan, stage.zone.id) == 2
    return stage.length < LANDING


def _to_stairs(stage: _Stage) -> bool:
    return stage.after is not None and stage.after.kind == "stairs"


def _ways_out(plan: FloorPlan, zone: str) -> int:
    return sum(zone in (passage.a, passage.b) for passage in plan.passages)


def _stoop(zone: Zone) -> bool:
    return zone.name == OUTSIDE and zone.id != OUTSIDE


def _the(zone: Zone) -> str:
    numbered = zone.name[-1:].isdigit()  # "bedroom 3" is a name of its own
    return zone.name if numbered else f"the {zone.name}"


def _into(zone: Zone) -> str:
    return "outside" if zone.name == OUTSIDE else f"into {_the(zone)}"


def path(
    plan: FloorPlan, walk: Walk, start: Anchor, goal: Anchor
) -> Iterator[tuple[str, tuple[XY, ...]]]:
    """Yield (level id or `outside`, points) for each zone crossed: what a map draws."""
    if walk.length is None:
        return
    for number, name in enumerate(walk.zones):
        zone = plan.zones[name]
        if zone.space is None:
            continue
        a = start.point or zone.space.middle
        if number:
            a = walk.passages[number - 1].toward(name)[-1]
        b = goal.point
        if number < len(walk.passages):
            b = walk.passages[number].toward(name)[-1]
        if b is not None:
            yield zone.level or OUTSIDE, zone.space.way(a, b)
