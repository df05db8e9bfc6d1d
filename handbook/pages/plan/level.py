"""A level, or the lot, as a plan without things: rooms, walls, doors and stairs; and what it
takes for granted.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.pages.plan.doors import Fabric, fabric
from handbook.pages.plan.geometry import edges, point
from handbook.pages.plan.shapes import Outline, Pipe, Plan, Room
from handbook.pages.plan.stairs import flights, outdoor_steps
from handbook.pages.plan.walls import Thick, Wall, walls
from handbook.pages.words import listed
from handbook.record.grammar.common import each
from handbook.record.grammar.places import OUTSIDE, Door, Level, Site, WallThickness
from handbook.record.grammar.places import Room as Recorded
from handbook.tables import table


@dataclass(frozen=True)
class Base:
    """A plan, and the sentences that stand under every map drawn on it."""

    plan: Plan
    notes: tuple[str, ...] = ()


def base(house: House, level: str) -> Base | None:
    """Return the bare plan of a level, or of the lot for `outside`; None where the record has
    no outline to draw."""
    if level == OUTSIDE:
        return _lot(house, house.record.site or Site())
    found = house.places.levels.get(level)
    return _level(house, found) if found else None


def _level(house: House, level: Level) -> Base | None:
    drawn = [
        (room, _outline(room))
        for room in each(level.rooms)
        if room.outline and len(room.outline) > 2
    ]
    if not drawn:
        return None
    rooms = tuple(Room(room.name, outline) for room, outline in drawn)
    thick = Thick.of(level.wall_thickness)
    found = walls([(room.id, outline) for room, outline in drawn], thick)
    cut = fabric(found, each(level.doors))
    notes = (*_unoutlined(level, drawn), *_taken(house, cut))
    return Base(
        Plan(
            rooms=rooms,
            walls=cut.walls,
            doors=cut.doors,
            flights=flights(house, level.id, rooms),
            north=house.record.site.north if house.record.site else None,
            metric=house.places.units == "metric",
            walls_taken=_by_convention(found, thick),
        ),
        notes,
    )


def _lot(house: House, site: Site) -> Base | None:
    """Return the lot with the building's shell and its outer doors; None without the building."""
    if not site.building or len(site.building) < 3:
        return None
    shell = tuple(point(corner) for corner in site.building)
    lot = tuple(point(corner) for corner in site.outline or ())
    thick = Thick.of(_shell(house))
    found = walls([("building", shell)], thick)
    cut = fabric(found, _outer_doors(house))
    return Base(
        Plan(
            rooms=(Room("House", shell),),
            walls=cut.walls,
            doors=cut.doors,
            flights=outdoor_steps(house),
            pipes=(*(Pipe("lot line", side) for side in edges(lot)), *_grounds(site)),
            north=site.north,
            metric=house.places.units == "metric",
            walls_taken=_by_convention(found, thick),
        )
    )


def _shell(house: House) -> WallThickness | None:
    """Return how thick the building's walls are, where they are so on all levels."""
    found = {level.wall_thickness for level in house.places.levels.values()}
    return found.pop() if len(found) == 1 else None


def _by_convention(found: Iterable[Wall], thick: Thick) -> tuple[str, ...]:
    """Return which of the walls that are drawn are so thick by convention."""
    kinds = {"outside" if wall.outer else "inside" for wall in found}
    return tuple(kind for kind in thick.taken if kind in kinds)


def _grounds(site: Site) -> Iterator[Pipe]:
    """Yield the edges of what lies on the lot: decks, drives, walks."""
    for feature in each(site.features):
        corners = tuple(point(corner) for corner in feature.outline or ())
        for side in edges(corners):
            yield Pipe("ground edge", side)


def _outer_doors(house: House) -> list[Door]:
    """Return the doors that lead outside, as gaps in the shell."""
    return [
        door.model_copy(update={"swings_into": None})
        for level in house.places.levels.values()
        for door in each(level.doors)
        if OUTSIDE in door.between and door.at
    ]


def _outline(room: Recorded) -> Outline:
    return tuple(point(corner) for corner in room.outline or ())


def _unoutlined(level: Level, drawn: list[tuple[Recorded, Outline]]) -> list[str]:
    known = {room.id for room, _ in drawn}
    missing = [room.name for room in each(level.rooms) if room.id not in known]
    return [f"Not drawn, because their outline is not recorded: {listed(missing)}."] * bool(missing)


def _taken(house: House, cut: Fabric) -> list[str]:
    said = []
    if cut.unplaced:
        said.append(f"Doors not drawn, because their place is not recorded: {cut.unplaced}.")
    if cut.width_taken:
        width = Length(table("map_walls").values["opening_in"])
        wide = say_length(width, house.places.units)
        said.append(f"Where a door's width is not recorded, it is drawn {wide} wide.")
    return said
