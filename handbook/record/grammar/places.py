"""Levels with their rooms and doors, the stairs that join them, and the lot."""

from typing import Annotated, ClassVar

from pydantic import Field

from handbook.record.bounds import Within
from handbook.record.entry import Entry
from handbook.record.fields import (
    Count,
    Degrees,
    Distance,
    Id,
    Known,
    Length,
    Maybe,
    Point,
    Ref,
    Text,
)
from handbook.record.grammar.common import Place, Thing

OUTSIDE = "outside"
"""The level, and the room beyond an outer door, that no record has to declare."""


class Room(Entry):
    """A room as an outline on its level's plan."""

    written: ClassVar[str] = (
        "id: hall-bath, name: Hall bath, outline: [[0 ft, 0 ft], [8 ft, 0 ft], [8 ft, 5 "
        "ft], [0 ft, 5 ft]]"
    )

    id: Id
    name: Text
    outline: Known[tuple[Point, ...]] = Field(
        None,
        description=(
            "its corners, in order round it: where two rooms share a line it is the middle of "
            "their wall, on the building's outline the outer face; else the finished face"
        ),
    )


class WallThickness(Entry):
    """How thick the finished walls of a level are, from face to face, so that what is taped from
    a corner is taped from the corner that one can touch."""

    written: ClassVar[str] = "inside: 4-1/2 in, outside: 6-1/2 in"

    inside: Known[Annotated[Distance, Within("wall")]] = Field(
        None, description="between two rooms"
    )
    outside: Known[Annotated[Distance, Within("wall")]] = Field(
        None, description="from the finished face to the building's outline"
    )


class Steps(Entry):
    """The steps outside an outer door; between its floor and the ground."""

    written: ClassVar[str] = "count: 3, starts: [18 ft, -3 ft], ends: [18 ft, -6 ft]"

    count: Known[Annotated[Count, Within("steps")]] = None
    starts: Known[Point] = Field(None, description="their end toward the door, on the plan")
    ends: Known[Point] = Field(None, description="where they meet the ground")


class Door(Entry):
    """A door or a plain opening between two rooms, or between a room and `outside`."""

    written: ClassVar[str] = (
        "between: [hall, kitchen], at: [7 ft, 12 ft], width: 2 ft 8 in, swings_into: kitchen"
    )

    between: tuple[Ref, Ref]
    at: Known[Point] = Field(None, description="the middle of the opening")
    width: Known[Annotated[Distance, Within("door_width")]] = None
    swings_into: Maybe[Ref] = Field(None, description="the room it opens into; `none`: an opening")
    steps: Maybe[Steps] = Field(None, description="outside an outer door, down to the ground")


class Level(Entry):
    """One floor of the house."""

    written: ClassVar[str] = (
        "id: main, name: Main level, elevation: 0 ft, rooms: [{id: kitchen, name: Kitchen}]"
    )

    id: Id
    name: Text
    elevation: Known[Annotated[Length, Within("elevation")]] = Field(
        None, description="finished floor, from the main floor"
    )
    ceiling: Known[Annotated[Distance, Within("ceiling")]] = Field(
        None, description="height of its ceiling"
    )
    wall_thickness: Known[WallThickness] = None
    rooms: Known[tuple[Room, ...]] = None
    doors: Known[tuple[Door, ...]] = None


class Stair(Entry):
    """A flight of stairs between two levels."""

    written: ClassVar[str] = (
        "id: stairs, foot: {room: hall, at: [3 ft, 14 ft]}, head: {room: landing, at: [12 "
        "ft, 14 ft]}, steps: 15"
    )

    id: Id
    name: Known[Text] = None
    foot: Place
    head: Place
    steps: Known[Annotated[Count, Within("steps")]] = None
    turns: Known[tuple[Point, ...]] = Field(
        None, description="points where it changes direction, from the foot to the head"
    )


class Feature(Thing):
    """What else is on the lot and helps to find things: a deck, a driveway, a hydrant."""

    written: ClassVar[str] = (
        "id: DRIVE, name: Driveway, "
        "outline: [[0 ft, -20 ft], [10 ft, -20 ft], [10 ft, 0 ft], [0 ft, 0 ft]]"
    )

    outline: Known[tuple[Point, ...]] = Field(None, description="its corners, in order round it")


class Site(Entry):
    """The lot, on the same origin as the plans."""

    north: Known[Degrees] = Field(None, description="clockwise from the top of the plan")
    outline: Known[tuple[Point, ...]] = Field(None, description="the lot's corners")
    building: Known[tuple[Point, ...]] = Field(None, description="the building's corners")
    grade: Known[Annotated[Length, Within("grade")]] = Field(
        None, description="finished grade, from the main floor"
    )
    street: Known[Point] = Field(
        None, description="a point in the street that the house faces; it tells front from back"
    )
    altitude: Known[Annotated[Length, Within("altitude")]] = Field(
        None, description="of the lot, above the sea"
    )
    features: Maybe[tuple[Feature, ...]] = Field(None, description="what else helps to find things")
