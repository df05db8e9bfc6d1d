"""Reads a riser diagram back from its SVG as shapes, with shapely and Pillow, which drew none of
it, and says what covers what."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations

from map_reading import Text, text_of
from shapely import LineString, Point, Polygon, STRtree, box, union_all
from shapely.geometry.base import BaseGeometry

Pair = tuple[float, float]

INK = 0.01
"""Square points of overlap below which two shapes only touch (coordinates have two decimals)."""

TOUCH = 0.6
"""Points from a symbol within which the end of a pipe counts as joined to it."""


@dataclass
class Piece:
    """A symbol, a frame or a bar with its words. `pipe` is the one that it stands in, if any."""

    name: str
    shape: BaseGeometry
    framed: bool
    texts: list[Text]
    pipe: int | None = None


@dataclass
class Read:
    """A diagram as shapes, in points. A pipe is its line, unbroken where others run over it."""

    sheet: BaseGeometry
    pieces: list[Piece] = field(default_factory=list)
    pipes: list[LineString] = field(default_factory=list)
    strokes: list[BaseGeometry] = field(default_factory=list)
    arrows: list[BaseGeometry] = field(default_factory=list)
    lines: list[BaseGeometry] = field(default_factory=list)
    sizes: list[tuple[Text, int]] = field(default_factory=list)
    titles: list[Text] = field(default_factory=list)
    legend: list[Text] = field(default_factory=list)

    @property
    def texts(self) -> list[tuple[Text, Piece | None]]:
        """All words, with the piece that they name."""
        found: list[tuple[Text, Piece | None]] = [(t, p) for p in self.pieces for t in p.texts]
        found += [(t, None) for t, _ in self.sizes]
        return found + [(t, None) for t in (*self.titles, *self.legend)]


def read(svg: str) -> Read:
    """Read a sheet of a riser diagram back."""
    root = ET.fromstring(re.sub(r' xmlns="[^"]+"', "", svg))
    left, top, wide, high = map(float, root.get("viewBox", "").split())
    found = Read(box(left, top, left + wide, top + high))
    for part in root:
        match part.get("class"):
            case "led":
                _led(found, part)
            case "body":
                found.pieces += [] if not len(part) else [_piece(part)]
            case "legend":
                found.legend += [text_of(element) for element in part.iter("text")]
            case "floor" | "wall":
                found.lines.append(_stroke(part))
            case _:
                assert part.tag == "text", f"nobody knows what {part.tag} is"
                found.titles.append(text_of(part))
    return found


def _led(found: Read, part: ET.Element) -> None:
    """Read a pipe with what stands in it; its pieces run on over the gaps between them."""
    number = len(found.pipes)
    spots: list[Pair] = []
    for element in part.findall("polyline"):
        spots += _spots(element)
        found.strokes.append(_stroke(element))
    found.pipes.append(LineString(spots))
    found.arrows += [Polygon(_spots(e)) for e in part.findall("polygon")]
    for inner in part.findall("g"):
        if inner.get("class") == "size":
            found.sizes += [(text_of(e), number) for e in inner]
        else:
            found.pieces.append(_piece(inner, number))


def _piece(part: ET.Element, pipe: int | None = None) -> Piece:
    name = part.get("data-thing") or "junction"
    shapes = [_shape(e) for e in part if e.tag != "text"]
    whole: BaseGeometry = shapes[0] if shapes else Polygon()
    for shape in shapes[1:]:
        whole = whole.union(shape)
    is_framed = part.find("rect") is not None
    return Piece(name, whole, is_framed, [text_of(e) for e in part.findall("text")], pipe)


def _shape(element: ET.Element) -> BaseGeometry:
    half = float(element.get("stroke-width") or 0) / 2
    number = {name: float(element.get(name) or 0) for name in ("x", "y", "cx", "cy", "r")}
    if element.tag == "circle":
        return Point(number["cx"], number["cy"]).buffer(number["r"] + half)
    if element.tag == "rect":
        wide, high = float(element.get("width") or 0), float(element.get("height") or 0)
        return box(number["x"], number["y"], number["x"] + wide, number["y"] + high)
    if element.tag == "polygon":
        return Polygon(_spots(element)).buffer(half)
    return _stroke(element)


def _stroke(element: ET.Element) -> BaseGeometry:
    if element.tag == "line":
        x1, y1, x2, y2 = (float(element.get(name) or 0) for name in ("x1", "y1", "x2", "y2"))
        line = LineString([(x1, y1), (x2, y2)])
    else:
        line = LineString(_spots(element))
    return line.buffer(float(element.get("stroke-width") or 0) / 2, cap_style="flat")


def _spots(element: ET.Element) -> list[Pair]:
    pairs = (pair.split(",") for pair in (element.get("points") or "").split())
    return [(float(x), float(y)) for x, y in pairs]


# --- whose words are whose ---------------------------------------------------------------------


def mistaken(found: Read) -> list[str]:
    """Say which words stand no nearer to their own symbol than to another one."""
    said = []
    for piece in found.pieces:
        if not piece.texts or piece.shape.is_empty:
            continue
        words = union_all([text.ink for text in piece.texts])
        own = piece.shape.distance(words)
        others = [p for p in found.pieces if p is not piece and not p.shape.is_empty]
        said += [
            f"{piece.name}, {own:.1f} off, stands {far:.1f} from {other.name}"
            for other in others
            if (far := other.shape.distance(words)) <= own
        ]
    return said


# --- what covers what ------------------------------------------------------------------------


def overlaps(found: Read) -> list[str]:
    """Say what covers what: words, symbols, pipes, arrows, floors; and what is off the sheet."""
    return [*_words(found), *_symbols(found), *_off(found)]


def _words(found: Read) -> Iterator[str]:
    texts = found.texts
    for (one, _), (other, _) in combinations(texts, 2):
        if _meet(one.ink, other.ink):
            yield f"{one.words} on {other.words}"
    things: list[tuple[str, BaseGeometry]] = [("pipe", s) for s in found.strokes]
    things += [("arrow", s) for s in found.arrows] + [("floor or wall", s) for s in found.lines]
    tree = STRtree([shape for _, shape in things])
    for text, piece in texts:
        for n in tree.query(text.ink):
            if _meet(text.ink, things[n][1]):
                yield f"{text.words} on {things[n][0]}"
        for other in found.pieces:
            inside = other is piece and other.framed and other.shape.contains(text.ink)
            if not inside and _meet(text.ink, other.shape):
                yield f"{text.words} on {other.name}"


def _symbols(found: Read) -> Iterator[str]:
    for one, other in combinations(found.pieces, 2):
        if _meet(one.shape, other.shape):
            yield f"{one.name} on {other.name}"
    for piece in found.pieces:
        near = piece.shape.buffer(TOUCH)
        for n, line in enumerate(found.pipes):
            ends = (Point(line.coords[0]), Point(line.coords[-1]))
            if n == piece.pipe or any(near.intersects(end) for end in ends):
                continue
            if line.intersects(piece.shape):
                yield f"a pipe through {piece.name}"


def _off(found: Read) -> Iterator[str]:
    for text, _ in found.texts:
        if not found.sheet.contains(text.ink):
            yield f"{text.words} leaves the sheet"
    for name, shape in [(p.name, p.shape) for p in found.pieces] + [
        ("pipe", s) for s in found.strokes
    ]:
        if not found.sheet.contains(shape):
            yield f"{name} leaves the sheet"


def _meet(one: BaseGeometry, other: BaseGeometry) -> bool:
    return bool(one.intersects(other)) and one.intersection(other).area > INK
