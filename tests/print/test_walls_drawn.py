"""Walls on a map are as thick as the record has them, measured back from the drawing by shapely."""

from pathlib import Path

import pytest
from map_reading import read
from shapely import LineString, box, unary_union

from handbook.house.house import House, build
from handbook.output.drawing.draw import draw
from handbook.output.drawing.sheet import PAPER, fit
from handbook.pages.content import Map
from handbook.pages.maps import how_to_read
from handbook.pages.plan.level import base
from handbook.record.grammar.record import Record

WIDE, DEEP, MIDDLE = 240.0, 120.0, 100.0
"""Inches: a building of 20 by 10 ft, its inner wall 8 ft 4 in from the left."""


def house(thickness: dict[str, str] | None) -> House:
    ft = [["0 ft", "0 ft"], ["100 in", "0 ft"], ["100 in", "10 ft"], ["0 ft", "10 ft"]]
    right = [["100 in", "0 ft"], ["20 ft", "0 ft"], ["20 ft", "10 ft"], ["100 in", "10 ft"]]
    rooms = [{"id": "a", "name": "A", "outline": ft}, {"id": "b", "name": "B", "outline": right}]
    level = {"id": "main", "name": "Main", "elevation": "0 ft", "rooms": rooms}
    level |= {"wall_thickness": thickness} if thickness else {}
    return build(
        Record.model_validate({"format": "1", "house": {"name": "Two rooms"}, "levels": [level]}),
        Path(),
    )


@pytest.mark.parametrize(
    ("recorded", "inner", "outer", "said"),
    [
        ({"inside": "6 in", "outside": "12 in"}, 6, 12, ""),
        ({"inside": "1 in", "outside": "12 in"}, 3, 12, ""),  # too thin to be seen: 3 in
        ({"outside": "12 in"}, 4.5, 12, " How thick walls between rooms are is drawn"),
        ({"inside": "6 in"}, 6, 6.5, " How thick outside walls are is drawn"),
        (None, 4.5, 6.5, " How thick walls are is drawn"),  # by the table `map_walls`
    ],
)
def test_walls_are_as_thick_as_recorded_and_what_is_not_is_said(
    recorded: dict[str, str] | None, inner: float, outer: float, said: str
) -> None:
    """An outer wall lies inside the outline, an inner one to both sides of the line."""
    found = base(house(recorded), "main")
    assert found is not None
    frame = fit(found.plan, PAPER)
    drawn = unary_union(read(draw(found.plan, PAPER)).walls)
    (left, top), (right, bottom) = frame.at((0, DEEP)), frame.at((WIDE, 0))
    assert box(*drawn.bounds).equals_exact(box(left, top, right, bottom), 0.02)
    across = LineString([frame.at((0, DEEP / 2)), frame.at((WIDE, DEEP / 2))]).intersection(drawn)
    thick = [piece.length / frame.scale for piece in across.geoms]
    assert thick == pytest.approx([outer, inner, outer], abs=0.05)
    assert across.geoms[1].centroid.x == pytest.approx(frame.at((MIDDLE, 0))[0], abs=0.05)
    told = how_to_read([Map(found.plan, "Main")])
    assert told == "Drawn to scale from the record." + (f"{said} by convention." if said else "")
