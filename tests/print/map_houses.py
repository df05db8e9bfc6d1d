"""Houses to draw maps of: the example, the example mirrored or in metres, and random ones."""

from __future__ import annotations

import random
from collections.abc import Callable
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from handbook import measures
from handbook.house.house import House, build
from handbook.record.grammar.record import Record

EXAMPLE = Path(__file__).parents[2] / "example_house" / "house.yaml"
Data = dict[str, Any]
Ground = tuple[list[str], int, int]
"""The levels' ids, and how wide and deep the house is, in feet."""
POINTS = ("at", "starts", "ends", "street")
LINES = ("outline", "building")

WORDS = (
    *("Kitchen", "Hall", "Bath", "Utility room", "Primary bedroom", "Den", "Pantry", "Study"),
    *("Mud room", "Walk-in linen closet", "Bedroom 2", "Laundry room", "Mechanical room and store"),
)


def house_of(data: Data) -> House:
    return build(Record.model_validate(data), Path())


def example_data() -> Data:
    data: Data = yaml.load(EXAMPLE.read_text("utf-8"), Loader=yaml.CBaseLoader)
    return data


@cache
def example() -> House:
    return house_of(example_data())


def moved(data: Data, to: Callable[[float, float], tuple[float, float]]) -> Data:
    """The same record with every point of its plans moved by `to`, in inches."""
    made = deepcopy(data)
    _move(made, to)
    return made


def mirrored(data: Data, about_in: float) -> Data:
    """The same house built the other way round: left and right exchanged."""
    return moved(data, lambda x, y: (about_in - x, y))


def _move(value: Any, to: Callable[[float, float], tuple[float, float]]) -> None:
    if isinstance(value, dict):
        for key, part in value.items():
            if key in POINTS and isinstance(part, list):
                value[key] = _point(part, to)
            elif key in LINES and isinstance(part, list):
                value[key] = [_point(one, to) for one in part]
            else:
                _move(part, to)
    elif isinstance(value, list):
        for part in value:
            _move(part, to)


def _point(pair: list[str], to: Callable[[float, float], tuple[float, float]]) -> list[str]:
    x, y = to(*(measures.parse_length(one).inches for one in pair))
    return [f"{x:.6g} in", f"{y:.6g} in"]


# --- random houses ------------------------------------------------------------------------------


def seeds(count: int) -> pytest.MarkDecorator:
    """Ask a test of so many random houses; all that is asked of one goes to one worker, which
    builds it and draws its maps once."""
    groups = ((seed, pytest.mark.xdist_group(f"random house {seed}")) for seed in range(count))
    return pytest.mark.parametrize(
        "seed", [pytest.param(seed, marks=mark) for seed, mark in groups]
    )


@cache
def random_house(seed: int) -> House:
    """A house of one to three levels with rooms, doors, stairs, and things strewn about, some of
    them in tight clusters; every fourth one in metres."""
    chance = random.Random(seed)
    wide, deep = chance.randrange(22, 60), chance.randrange(18, 44)
    levels = [_level(chance, number, wide, deep) for number in range(chance.randrange(1, 4))]
    ground = ([level["id"] for level in levels], wide, deep)
    data: Data = {
        "format": "1",
        "house": {"name": f"House {seed}", "units": "metric" if seed % 4 == 0 else "US"},
        "site": {
            "north": str(chance.randrange(360)),
            "outline": _box(-20, -30, wide + 25, deep + 30),
            "building": _box(0, 0, wide, deep),
        },
        "levels": levels,
        "stairs": _stairs(chance, levels, wide, deep),
        "water": {"valves": _things(chance, ground, "W", chance.randrange(3, 36))},
        "drains": _drains(chance, ground),
        "safeguards": {
            "sensors": _things(chance, ground, "S", chance.randrange(2, 14)),
            "pans": _things(chance, ground, "P", chance.randrange(1, 5)),
        },
        "gas": _gas(chance, ground),
    }
    return house_of(data)


def _feet(value: float) -> str:
    return f"{value * 12:.2f} in"


def _at(x: float, y: float) -> list[str]:
    return [_feet(x), _feet(y)]


def _box(left: float, low: float, right: float, high: float) -> list[list[str]]:
    return [_at(left, low), _at(right, low), _at(right, high), _at(left, high)]


def _level(chance: random.Random, number: int, wide: int, deep: int) -> Data:
    boxes = _split(chance, (0.0, 0.0, float(wide), float(deep)), chance.randrange(2, 5))
    rooms = [
        {"id": f"r{number}-{i}", "name": chance.choice(WORDS), "outline": _box(*box), "_box": box}
        for i, box in enumerate(boxes)
    ]
    doors = []
    for i, a in enumerate(rooms):
        for b in rooms[:i]:
            if (spot := _shared(chance, a["_box"], b["_box"])) and chance.random() < 0.6:
                swing = chance.choice((a["id"], b["id"], "none"))
                doors.append(
                    {"between": [a["id"], b["id"]], "at": _at(*spot), "width": "30 in"}
                    | {"swings_into": swing}
                )
    return {
        "id": f"level{number}",
        "name": f"Level {number}",
        "elevation": f"{number * 10} ft",
        "rooms": [{k: v for k, v in room.items() if k != "_box"} for room in rooms],
        "doors": doors,
    }


def _split(
    chance: random.Random, box: tuple[float, float, float, float], depth: int
) -> list[tuple[float, float, float, float]]:
    left, low, right, high = box
    across = right - left > high - low
    size = right - left if across else high - low
    if depth == 0 or size < 9:
        return [box]
    cut = (left if across else low) + round(chance.uniform(0.3, 0.7) * size * 2) / 2
    first = (left, low, cut, high) if across else (left, low, right, cut)
    rest = (cut, low, right, high) if across else (left, cut, right, high)
    return _split(chance, first, depth - 1) + _split(chance, rest, depth - 1)


def _shared(chance: random.Random, a: Any, b: Any) -> tuple[float, float] | None:
    """A point on the wall between two rooms, if it is long enough for a door."""
    for one, other in ((a, b), (b, a)):
        low, high = max(one[1], other[1]) + 1.5, min(one[3], other[3]) - 1.5
        if one[2] == other[0] and low < high:
            return one[2], chance.uniform(low, high)
        low, high = max(one[0], other[0]) + 1.5, min(one[2], other[2]) - 1.5
        if one[3] == other[1] and low < high:
            return chance.uniform(low, high), one[3]
    return None


def _stairs(chance: random.Random, levels: list[Data], wide: int, deep: int) -> list[Data]:
    stairs = []
    for number in range(len(levels) - 1):
        x, y = chance.uniform(3, wide - 3), chance.uniform(2, max(3, deep - 14))
        foot = {"level": f"level{number}", "at": _at(x, y)}
        head = {"level": f"level{number + 1}", "at": _at(x, y + 11)}
        stairs.append({"id": f"stair{number}", "foot": foot, "head": head, "steps": "14"})
    return stairs


def _place(chance: random.Random, ground: Ground, near: Any) -> tuple[Data, Any]:
    """A place inside or, now and then, outdoors; often close to the one before."""
    levels, wide, deep = ground
    if near and chance.random() < 0.5:
        place, (x, y) = near
        x, y = x + chance.uniform(-0.8, 0.8), y + chance.uniform(-0.8, 0.8)
        return place | {"at": _at(x, y)}, (place, (x, y))
    if chance.random() < 0.15:
        x, y = chance.uniform(-15, wide + 15), chance.choice((-6.0, deep + 5.0, -22.0))
        place = {"level": "outside", "depth": "2 ft"}
    else:
        x, y = chance.uniform(0.3, wide - 0.3), chance.uniform(0.3, deep - 0.3)
        place = {"level": chance.choice(levels)}
    return place | {"at": _at(x, y)}, (place, (x, y))


def _things(chance: random.Random, ground: Ground, letter: str, count: int) -> list[Data]:
    things, near = [], None
    for number in range(1, count + 1):
        place, near = _place(chance, ground, near)
        name = chance.choice(("Shutoff", "Shutoff of the second bath, hot", "Main shutoff, inside"))
        thing = {"id": f"{letter}{number}", "name": name, "place": place}
        if letter == "W" and chance.random() < 0.1:
            thing["main"] = "yes"
        things.append(thing)
    return things


def _drains(chance: random.Random, ground: Ground) -> Data:
    stretches: list[Data] = []
    count, near = chance.randrange(2, 12), None
    for number in range(1, count + 1):
        place, near = _place(chance, ground, near)
        kind = chance.choice(("branch", "branch", "stack", "building drain"))
        to = "SEWER" if number == 1 else f"D{chance.randrange(1, number)}"
        by = {"length": "5 ft", "size": "3 in", "material": "PVC"}
        named = {"name": f"Stack {number}"} if kind == "stack" else {}
        stretches.append(
            {"id": f"D{number}", "kind": kind, "to": to, "by": by, "place": place} | named
        )
    cleanouts = _things(chance, ground, "C", chance.randrange(1, 9))
    for cleanout in cleanouts:
        cleanout |= {"kind": chance.choice(("wall", "floor", "two-way")), "size": "4 in"}
    end = {"level": "outside", "at": _at(chance.uniform(0, ground[1]), -40)}
    discharge = {"id": "SEWER", "kind": "public sewer", "name": "Public sewer", "place": end}
    return {"discharge": discharge, "stretches": stretches, "cleanouts": cleanouts}


def _gas(chance: random.Random, ground: Ground) -> Data:
    valves = _things(chance, ground, "G", chance.randrange(2, 10))
    for number, valve in enumerate(valves):
        if number:
            valve["from"] = f"G{chance.randrange(1, number + 1)}"
    return {"fuel": "natural gas", "valves": valves}
