"""Levels with their rooms and doors, the stairs that join them, and the lot."""

from pydantic import Field

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

    id: Id
    name: Text
    outline: Known[tuple[Point, ...]] = Field(None, description="its corners, in order round it")


class Steps(Entry):
    """The steps outside an outer door; between its floor and the ground."""

    count: Known[Count] = None
    starts: Known[Point] = Field(None, description="their end toward the door, on the plan")
    ends: Known[Point] = Field(None, description="where they meet the ground")


class Door(Entry):
    """A door or a plain opening between two rooms, or between a room and `outside`."""

    between: tuple[Ref, Ref]
    at: Known[Point] = Field(None, description="the middle of the opening")
    width: Known[Distance] = None
    swings_into: Maybe[Ref] = Field(None, description="the room it opens into; `none`: an opening")
    steps: Maybe[Steps] = Field(None, description="outside an outer door, down to the ground")


class Level(Entry):
    """One floor of the house."""

    id: Id
    name: Text
    elevation: Known[Length] = Field(None, description="finished floor, from the main floor")
    ceiling: Known[Distance] = Field(None, description="height of its ceiling")
    rooms: Known[tuple[Room, ...]] = None
    doors: Known[tuple[Door, ...]] = None


class Stair(Entry):
    """A flight of stairs between two levels."""

    id: Id
    name: Known[Text] = None
    foot: Place
    head: Place
    steps: Known[Count] = None
    turns: Known[tuple[Point, ...]] = Field(
        None, description="points where it changes direction, from the foot to the head"
    )


class Feature(Thing):
    """What else is on the lot and helps to find things: a deck, a driveway, a hydrant."""

    outline: Known[tuple[Point, ...]] = Field(None, description="its corners, in order round it")


class Site(Entry):
    """The lot, on the same origin as the plans."""

    north: Known[Degrees] = Field(None, description="clockwise from the top of the plan")
    outline: Known[tuple[Point, ...]] = Field(None, description="the lot's corners")
    building: Known[tuple[Point, ...]] = Field(None, description="the building's corners")
    grade: Known[Length] = Field(None, description="finished grade, from the main floor")
    street: Known[Point] = Field(
        None, description="a point in the street that the house faces; it tells front from back"
    )
    altitude: Known[Length] = Field(None, description="of the lot, above the sea")
    features: Maybe[tuple[Feature, ...]] = Field(None, description="what else helps to find things")
