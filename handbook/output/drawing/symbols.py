"""The symbols of a map, each told from the others by its shape alone.

Shapes are drawn in a square from -1 to 1, y downward, and scaled to the size of the map's
symbols. Each is filled with white first, so that no wall or line runs through it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import cos, radians, sin

from handbook.output.drawing import svg

_BOW = "M-1 -.6L1 .6V-.6L-1 .6Z"
_RING = "M-1 0A1 1 0 1 1 1 0A1 1 0 1 1 -1 0Z"
_BOX = "M-.9 -.9H.9V.9H-.9Z"
_SMALL_BOW = "M-.72 -.42L.72 .42V-.42L-.72 .42Z"


def _ring(radius: float) -> str:
    r = svg.num(radius)
    return f"M-{r} 0A{r} {r} 0 1 1 {r} 0A{r} {r} 0 1 1 -{r} 0Z"


SHAPES: dict[str, tuple[tuple[str, str], ...]] = {
    # What is done with each path: "w" filled white and outlined, "b" filled black, "l" a line.
    "valve": (("w", _BOW),),
    "valve-in-ring": (("w", _RING), ("b", _SMALL_BOW)),
    "valve-in-box": (("w", _BOX), ("l", _SMALL_BOW)),
    "valve-waste": (("w", _BOW), ("l", "M0 0V1M-.35 1H.35")),
    "valve-motor": (
        ("w", "M-1 -.1L1 1V-.1L-1 1Z"), ("l", "M0 .45V-.3"), ("w", "M-.5 -1H.5V-.25H-.5Z"),
    ),
    "angle": (("w", "M0 0L-1 -.55V.55Z"), ("w", "M0 0L-.55 1H.55Z"), ("l", "M0 0V-.9M-.4 -.9H.4")),
    "gas": (("b", _BOW),),
    "gas-in-ring": (("w", _RING), ("b", _SMALL_BOW), ("l", "M0 -1V1")),
    "box-M": (("w", _BOX), ("l", "M-.5 .5V-.5L0 .2L.5 -.5V.5")),
    "box-G": (("w", _BOX), ("l", "M.45 -.35A.55 .55 0 1 0 .45 .4V.05H.1")),
    "box": (("w", _BOX), ("b", _ring(0.25))),
    "box-I": (("w", _BOX), ("l", "M0 -.5V.5M-.3 -.5H.3M-.3 .5H.3")),
    "box-E": (("w", _BOX), ("l", "M.4 -.5H-.35V.5H.4M-.35 0H.25")),
    "triangle": (("w", "M0 -1L1 .8H-1Z"),),
    "capped": (("l", "M0 1V-.7M-.8 -.7H.8M-.8 -1H.8"), ("w", "M-.25 .1H.25V.6H-.25Z")),
    "dot": (("b", _ring(0.35)),),
    "rings": (("w", _RING), ("w", _ring(0.5))),
    "rings-bar": (("w", _RING), ("w", _ring(0.5)), ("l", "M-1 0H1")),
    "rings-open": (("w", _RING), ("b", _ring(0.35))),
    "half": (("w", _RING), ("b", "M0 -1A1 1 0 0 0 0 1Z")),
    "check": (("w", "M-1 -.7L.7 0L-1 .7Z"), ("l", "M.8 -.8V.8")),
    "checks": (("w", "M-1 -.7L-.1 0L-1 .7Z"), ("w", "M-.1 -.7L.8 0L-.1 .7Z"), ("l", "M.9 -.8V.8")),
    "grate": (("w", _RING), ("l", "M-.9 -.4H.9M-.9 .4H.9M-.4 -.9V.9M.4 -.9V.9")),
    "stack": (("w", _RING), ("b", _ring(0.62))),
    "end": (("w", "M0 -1L1 0L0 1L-1 0Z"), ("b", "M0 -.45L.45 0L0 .45L-.45 0Z")),
    "spout": (("w", "M-.9 -.7H.9L0 .9Z"),),
    "tank": (("w", "M-1 -.6H1V.6H-1Z"), ("l", "M.2 -.6V.6")),
    "bibb": (
        ("w", "M-.2 -.5H.6A.4 .4 0 0 1 1 -.1V.8H.3V.3H-.2Z"),
        ("l", "M.2 -.5V-1M-.3 -1H.7M-1 -.1H-.2"),
    ),
    "drop": (("w", "M0 -1C.2 -.5 .75 0 .75 .4A.75 .6 0 0 1 -.75 .4C-.75 0 -.2 -.5 0 -1Z"),),
    "pan": (("w", _BOX), ("l", "M-.5 -.5H.5V.5H-.5Z")),
    "slash": (("w", _BOX), ("l", "M-.9 .9L.9 -.9")),
    "round-H": (("w", _RING), ("l", "M-.35 -.5V.5M.35 -.5V.5M-.35 0H.35")),
    "panel": (("w", "M-.7 -1H.7V1H-.7Z"), ("b", "M.2 -.8L-.4 .15H0L-.2 .8L.4 -.15H0Z")),
    "square": (("w", "M-.65 -.65H.65V.65H-.65Z"),),
    "cross": (("l", "M-.7 0H.7M0 -.7V.7"),),
    "corner": (("b", "M-.4 -.4H.4V.4H-.4Z"),),
    "start": (("b", _ring(0.7)), ("w", _ring(0.3))),
    "rises": (("w", _RING), ("l", "M0 .6V-.55M-.45 -.1L0 -.55L.45 -.1")),
    "falls": (("w", _RING), ("l", "M0 -.6V.55M-.45 .1L0 .55L.45 .1")),
    "climb": (("w", "M-1 1V.4H-.35V-.2H.3V-.8H1V1Z"),),
}  # fmt: skip


@cache
def extent(shape: str, turn: float = 0.0) -> tuple[float, float, float, float]:
    """Return how far a symbol reaches in its square: left, top, right, bottom; turned by so many
    degrees counterclockwise."""
    points = [point for _, data in SHAPES[shape] for point in _reached(data)]
    across, down = cos(radians(turn)), sin(radians(turn))
    xs = [_within(x * across + y * down) for x, y in points]
    ys = [_within(y * across - x * down) for x, y in points]
    return (min(xs), min(ys), max(xs), max(ys))


@cache
def hull(shape: str, turn: float = 0.0) -> tuple[tuple[float, float], ...]:
    """Return the corners of what a symbol covers in its square, in order round it, turned by so
    many degrees counterclockwise; of a round one, of a shape with many sides."""
    if SHAPES[shape][0][1] == _RING:
        turns = [radians(15 * n) for n in range(24)]
        return tuple((cos(angle), sin(angle)) for angle in turns)
    across, down = cos(radians(turn)), sin(radians(turn))
    points = (point for _, data in SHAPES[shape] for point in _reached(data))
    turned = {(x * across + y * down, y * across - x * down) for x, y in points}
    around = sorted((_within(x), _within(y)) for x, y in turned)
    return (*_bent_left(around), *_bent_left(around[::-1]))


def _bent_left(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the points of one side of a hull, but for the last."""
    side: list[tuple[float, float]] = []
    for x, y in points:
        while len(side) > 1:
            (ax, ay), (bx, by) = side[-2:]
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                break
            side.pop()
        side.append((x, y))
    return side[:-1]


def _within(side: float) -> float:
    return max(-1.0, min(1.0, side))


def _reached(data: str) -> Iterator[tuple[float, float]]:
    """Yield points that bound path data; a curve by what its circle could reach from its chord."""
    x = y = 0.0
    for command, numbers in _commands(data):
        match command:
            case "H":
                x = numbers[0]
            case "V":
                y = numbers[0]
            case "A":
                for i in range(0, len(numbers), 7):
                    radius, *_, to_x, to_y = numbers[i : i + 7]
                    yield ((x + to_x) / 2 - radius, (y + to_y) / 2 - radius)
                    yield ((x + to_x) / 2 + radius, (y + to_y) / 2 + radius)
                    x, y = to_x, to_y
            case "M" | "L" | "C":
                yield from zip(numbers[::2], numbers[1::2], strict=True)
                x, y = numbers[-2:]
        yield (x, y)


@cache
def symbol(shape: str, size: float) -> str:
    """Return a symbol round the origin, in a square of side `size`."""
    return "".join(_piece(how, data, size / 2) for how, data in SHAPES[shape])


def _piece(how: str, data: str, half: float) -> str:
    paint = {"w": "#fff", "b": svg.INK, "l": "none"}[how]
    line = 1.0 if how != "b" else 0.4
    scaled = _scaled(data, half)
    return (
        f'<path d="{scaled}" fill="{paint}" stroke="{svg.INK}" stroke-width="{svg.num(line)}" '
        'stroke-linejoin="round"/>'
    )


def _scaled(data: str, half: float) -> str:
    """Scale path data; an arc's flags and turn stay as they are."""
    out: list[str] = []
    for command, numbers in _commands(data):
        scaled = [n * half for n in numbers]
        if command == "A":
            for i in range(0, len(numbers), 7):
                scaled[i + 2 : i + 5] = numbers[i + 2 : i + 5]
        out.append(command + " ".join(svg.num(n) for n in scaled))
    return "".join(out)


def _commands(data: str) -> list[tuple[str, list[float]]]:
    found: list[tuple[str, str]] = []
    for char in data:
        if char.isalpha():
            found.append((char, ""))
        else:
            found[-1] = (found[-1][0], found[-1][1] + char)
    return [(command, [float(word) for word in rest.split()]) for command, rest in found]
