"""Houses for walking in: as plain data, so that a test can turn, mirror or thin them out."""

from copy import deepcopy
from math import cos, radians, sin
from pathlib import Path
from typing import Any

import yaml

from handbook.house.house import House, build
from handbook.record.grammar.record import Record

EXAMPLE = Path(__file__).parents[2] / "example_house" / "house.yaml"
POINTS = ("at", "starts", "ends")
LINES = ("outline", "building", "turns")

Data = dict[str, Any]


def made(data: Data) -> House:
    return build(Record.model_validate(data), Path())


def example(*, wordless: bool = False) -> Data:
    """The example's record; `wordless` leaves out the places in the writer's own words."""
    data: Data = yaml.load(EXAMPLE.read_text("utf-8"), Loader=yaml.CBaseLoader)
    if wordless:
        _strip(data, {"where", "behind"})
    return data


def _strip(value: Any, keys: set[str]) -> None:
    if isinstance(value, dict):
        for key in keys & set(value):
            del value[key]
        for part in value.values():
            _strip(part, keys)
    elif isinstance(value, list):
        for part in value:
            _strip(part, keys)


def without(data: Data, *keys: str) -> Data:
    """The same record with these facts left out wherever they stand."""
    thinned = deepcopy(data)
    _strip(thinned, set(keys))
    return thinned


def inches(text: str) -> float:
    from handbook.measures import parse_length

    return parse_length(text).inches


def mapped(data: Data, turned: Any) -> Data:
    """The same house with every point of its plans moved by `turned(x, y)`, in inches."""
    moved = deepcopy(data)
    _map(moved, turned)
    return moved


def _map(value: Any, turned: Any) -> None:
    if isinstance(value, list):
        for part in value:
            _map(part, turned)
    if not isinstance(value, dict):
        return
    for key, part in value.items():
        if key in POINTS and isinstance(part, list):
            value[key] = _moved(part, turned)
        elif key in LINES and isinstance(part, list):
            value[key] = [_moved(point, turned) for point in part]
        else:
            _map(part, turned)


def _moved(point: list[str], turned: Any) -> list[str]:
    return [f"{value:.6f} in" for value in turned(*map(inches, point))]


def mirrored(data: Data) -> Data:
    return mapped(data, lambda x, y: (480 - x, y))


def rotated(data: Data, degrees: float) -> Data:
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return mapped(data, lambda x, y: (c * x - s * y + 7, s * x + c * y - 11))


def in_metres(data: Data) -> Data:
    """The same house with its points written in metres, and told in metres."""
    moved = mapped(data, lambda x, y: (x, y))
    text = yaml.safe_dump(moved)
    import re

    text = re.sub(r"(-?\d+\.\d{6}) in", lambda m: f"{float(m[1]) * 0.0254:.7f} m", text)
    again: Data = yaml.load(text, Loader=yaml.CBaseLoader)
    again["house"]["units"] = "metric"
    return again


def two_rooms(**door: Any) -> Data:
    """A den (0..10 ft) and a hall east of it (10..20 ft), joined in the middle of their wall."""
    return {
        "format": "1",
        "house": {"name": "Two rooms"},
        "levels": [
            {
                "id": "main",
                "name": "Main level",
                "rooms": [
                    {"id": "den", "name": "Den", "outline": box(0, 0, 10, 10)},
                    {"id": "yard-room", "name": "Garden room", "outline": box(10, 0, 20, 10)},
                ],
                "doors": [{"between": ["den", "yard-room"], "at": ["10 ft", "5 ft"], **door}],
            }
        ],
    }


def box(left: float, low: float, right: float, high: float) -> list[list[str]]:
    """The corners of an upright rectangle, in feet."""
    corners = ((left, low), (right, low), (right, high), (left, high))
    return [[f"{x} ft", f"{y} ft"] for x, y in corners]
