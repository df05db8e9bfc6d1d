"""Reads a drawn map back from its SVG as shapes, with shapely and Pillow, which drew none of it."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files

from PIL import ImageFont
from shapely import LineString, Polygon, box
from shapely.affinity import rotate, translate
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

Pair = tuple[float, float]
FACES = {("", ""): "Regular", ("700", ""): "Bold", ("", "italic"): "Italic"}
EM = 1000


@dataclass
class Text:
    """A piece of text: its words, size, and the ink that it leaves on the map."""

    words: str
    size: float
    ink: BaseGeometry


@dataclass
class Drawn:
    """A map as shapes, in the units of its sheet."""

    width: float
    height: float
    labels: list[list[Text]] = field(default_factory=list)
    numbers: list[BaseGeometry] = field(default_factory=list)
    counted: list[str] = field(default_factory=list)
    marks: list[tuple[tuple[str, ...], BaseGeometry, Pair, str]] = field(default_factory=list)
    walls: list[Polygon] = field(default_factory=list)
    lines: dict[str, list[BaseGeometry]] = field(default_factory=dict)
    looks: set[tuple[str, str, str]] = field(default_factory=set)
    spots: list[Pair] = field(default_factory=list)
    tapes: list[LineString] = field(default_factory=list)
    leaders: list[LineString] = field(default_factory=list)
    legend: list[tuple[str, str]] = field(default_factory=list)
    keys: list[tuple[str, str]] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    colours: set[str] = field(default_factory=set)
    scale: tuple[float, str] = (0.0, "")


def read(svg: str) -> Drawn:
    """Read a map back."""
    root = ET.fromstring(re.sub(r' xmlns="[^"]+"', "", svg))
    _, _, width, height = map(float, root.get("viewBox", "").split())
    drawn = Drawn(width, height)
    for part in root:
        _part(drawn, part)
    for element in root.iter():
        for name in ("fill", "stroke"):
            if value := element.get(name):
                drawn.colours.add(value)
    drawn.texts = [text_of(element) for element in root.iter("text")]
    return drawn


def _part(drawn: Drawn, part: ET.Element) -> None:
    kind, *ids = (part.get("class") or "").split()
    data = part.get("d", "")
    match kind:
        case "m-wall":
            drawn.walls += [Polygon(points) for points in _subpaths(data)]
        case "m-label":
            drawn.labels.append([text_of(element) for element in part])
        case "m-number":
            drawn.numbers += [_circle(element) for element in part.findall("circle")]
            drawn.counted += [element.text or "" for element in part.findall("text")]
        case "m-mark":
            at = _moved(part)
            shape = rotate(unary_union(list(_shapes(part))), _turn(part), origin=(0, 0))
            shape = translate(shape, *at)
            looks = "".join(ET.tostring(e, "unicode") for e in part if e.tag == "path")
            drawn.marks.append((tuple(ids), shape, at, looks))
        case "m-leader":
            drawn.leaders.append(LineString(_subpaths(data)[0]))
        case "m-door" | "m-tie":
            _line(drawn, kind, part)
        case "m-stair" | "m-line" | "m-way" | "m-moved":
            drawn.spots += [_circle(spot).centroid.coords[0] for spot in part.findall("circle")]
            for inner in part.findall("path"):
                _line(drawn, inner.get("class", ""), inner)
        case "m-legend":
            drawn.legend += [_entry(entry) for entry in part]
        case "m-keys":
            drawn.keys += [_entry(entry) for entry in part]
        case "m-scale":
            drawn.scale = _scale(part)
        case _:
            assert kind == "m-north", f"nobody knows what {kind} is"


def _scale(part: ET.Element) -> tuple[float, str]:
    """How long the scale bar is drawn, and how long it says that it is."""
    bar = part.find("path[@class='m-bar-edge']")
    assert bar is not None
    xs = [x for x, _ in _subpaths(bar.get("d", ""))[0]]
    return max(xs) - min(xs), [e.text or "" for e in part.iter("text")][-1]


def _line(drawn: Drawn, kind: str, element: ET.Element) -> None:
    thick = float(element.get("stroke-width") or 0)
    for points in _subpaths(element.get("d", "")):
        drawn.tapes += [LineString(points)] if kind == "m-tie" else []
        shape: BaseGeometry = Polygon(points) if not thick else LineString(points)
        shape = shape if not thick else shape.buffer(thick / 2, cap_style="flat")
        drawn.lines.setdefault(kind, []).append(shape)
    if thick and kind in ("m-pipe", "m-tie", "m-way-line"):
        drawn.looks.add(_look(element))


def _look(element: ET.Element) -> tuple[str, str, str]:
    names = ("stroke", "stroke-width", "stroke-dasharray")
    a, b, c = (element.get(name) or "" for name in names)
    return a, b, c


def _entry(entry: ET.Element) -> tuple[str, str]:
    """A line of the legend: what is drawn as its sample, and its words."""
    sample = entry.find("g")
    assert sample is not None
    words = " ".join(e.text or "" for e in entry.findall("text"))
    drawn = "".join(ET.tostring(e, "unicode") for e in sample)
    return drawn, words.replace("\u00a0", " ")


def _moved(element: ET.Element) -> Pair:
    x, y, *_ = re.findall(r"-?[\d.]+", element.get("transform", ""))
    return float(x), float(y)


def _turn(element: ET.Element) -> float:
    """How far a symbol is turned: on a sheet, whose y runs down, clockwise."""
    found = re.search(r"rotate\((-?[\d.]+)\)", element.get("transform", ""))
    return float(found[1]) if found else 0.0


def _shapes(part: ET.Element) -> Iterator[BaseGeometry]:
    """The outline of each piece of a symbol; curves by the box of the points they run through."""
    for element in part:
        if element.tag == "circle":
            yield _circle(element)
            continue
        line = float(element.get("stroke-width") or 0) / 2
        for points in _subpaths(element.get("d", "")):
            yield (
                LineString(points).buffer(line)
                if len(set(points)) > 1
                else box(*points[0], *points[0])
            )


def _circle(element: ET.Element) -> BaseGeometry:
    x, y, r = (float(element.get(name) or 0) for name in ("cx", "cy", "r"))
    return translate(LineString([(0, 0), (0, 0.001)]).buffer(r), x, y)


def _subpaths(data: str) -> list[list[Pair]]:
    """The points of path data: M, L, H, V, Z; of curves the points that they are drawn toward."""
    found: list[list[Pair]] = []
    for command, rest in re.findall(r"([MLHVZAC])([^MLHVZAC]*)", data):
        numbers = [float(n) for n in re.findall(r"-?\d*\.?\d+", rest)]
        if command == "M":
            found.append([])
        here = found[-1][-1] if found[-1] else (0.0, 0.0)
        found[-1] += _points(command, numbers, here, found[-1][:1])
    return found


def _points(command: str, numbers: list[float], here: Pair, first: list[Pair]) -> list[Pair]:
    match command:
        case "H":
            return [(numbers[0], here[1])]
        case "V":
            return [(here[0], numbers[0])]
        case "Z":
            return first
        case "A":
            return _arcs(here, numbers)
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _arcs(here: Pair, numbers: list[float]) -> list[Pair]:
    points: list[Pair] = []
    for i in range(0, len(numbers), 7):
        points += _arc(here, numbers[i : i + 7])
        here = points[-1]
    return points


def _arc(a: Pair, arc: list[float]) -> list[Pair]:
    """Points along an elliptic arc (SVG 1.1, appendix F.6.5), for an unturned ellipse."""
    rx, ry, _, large, sweep, *b = arc
    dx, dy = (a[0] - b[0]) / 2, (a[1] - b[1]) / 2
    over = max(math.sqrt(dx * dx / rx**2 + dy * dy / ry**2), 1.0)
    rx, ry = rx * over, ry * over
    across = rx**2 * dy**2 + ry**2 * dx**2
    factor = math.sqrt(max(rx**2 * ry**2 - across, 0) / across) * (-1 if large == sweep else 1)
    mx, my = factor * rx * dy / ry, -factor * ry * dx / rx
    cx, cy = mx + (a[0] + b[0]) / 2, my + (a[1] + b[1]) / 2
    start = math.atan2((dy - my) / ry, (dx - mx) / rx)
    end = math.atan2((-dy - my) / ry, (-dx - mx) / rx)
    turn = (end - start) % (2 * math.pi) if sweep else -((start - end) % (2 * math.pi))
    angles = [start + turn * i / 12 for i in range(1, 13)]
    return [(cx + rx * math.cos(t), cy + ry * math.sin(t)) for t in angles]


def text_of(element: ET.Element) -> Text:
    face = FACES[element.get("font-weight") or "", element.get("font-style") or ""]
    size = float(element.get("font-size") or 0)
    x, y = float(element.get("x") or 0), float(element.get("y") or 0)
    words = element.text or ""
    left, top, right, bottom = _font(face).getbbox(words, anchor="ls")
    unit = size / EM
    right = max(right, _font(face).getlength(words))
    return Text(
        words, size, box(x + left * unit, y + top * unit, x + right * unit, y + bottom * unit)
    )


@cache
def _font(face: str) -> ImageFont.FreeTypeFont:
    folder = files("fontpkg_atkinson_hyperlegible") / "files"
    return ImageFont.truetype(str(folder / f"AtkinsonHyperlegible-{face}.ttf"), EM)
