"""What is behind the wallboard: photos taken while it was open, plates, insulation, remarks."""

from handbook.answers.behind import Behind, anywhere, behind, either
from handbook.answers.finding.across import across
from handbook.answers.finding.hidden_pipes import Piped
from handbook.house.house import House
from handbook.pages.content import Block, Bullets, Line, Page, Para, Part, Photo
from handbook.pages.parts.own import mark, to_photos
from handbook.pages.parts.phrases import (
    NOT_RECORDED,
    all_called,
    day,
    established,
    joined,
    said,
    short,
    table,
)
from handbook.pages.words import lower, sentences
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.walls import Photo as WallPhoto
from handbook.record.grammar.walls import Walls


def walls_part(house: House) -> tuple[Part, ...]:
    """Return the part on the walls; none where nothing of it is recorded."""
    walls = house.record.walls or Walls()
    pages = (*_rooms(house), *_hidden(house, walls), *_photos(house, walls))
    return (Part("walls_part", "In the walls", pages),) if pages else ()


def _photos(house: House, walls: Walls) -> tuple[Page, ...]:
    """Return the photos by room, in the order of the record."""
    rooms: dict[str, list[WallPhoto]] = {}
    for photo in each(walls.photos):
        rooms.setdefault(_room(house, photo.place), []).append(photo)
    blocks: list[Block] = []
    for photos in rooms.values():
        blocks += [Photo(p.file, p.caption, _caption(house, p), mark(p)) for p in photos]
    return (
        (Page("open_walls", "Photos taken while the walls were open", tuple(blocks)),)
        if (blocks)
        else ()
    )


def _room(house: House, place: Place | None) -> str:
    return house.places.room_and_level(place) or f"Place {NOT_RECORDED}"


def _caption(house: House, photo: WallPhoto) -> Line:
    looks = (
        f"Looks {photo.looks}{_other_side(house, photo)}."
        if photo.looks
        else f"Which way it looks: {NOT_RECORDED}."
    )
    words = sentences(photo.caption, house.places.say(photo.place) or f"place {NOT_RECORDED}")
    taken = f"Taken: {said(photo.on, day)}."
    shows: Line = (" Shows ", *all_called(house, photo.shows), ".") if photo.shows else ()
    return (f"{words} {looks}", *shows, f" {taken}")


def _other_side(house: House, photo: WallPhoto) -> str:
    room = across(house, photo.place, photo.looks)
    return f"; behind this wall: {lower(house.places.rooms[room][0].name)}" if room else ""


def _rooms(house: House) -> tuple[Page, ...]:
    """Return what each room hides, in one table; none where the record knows of nothing."""
    found = [behind(house, room) for room in house.places.rooms]
    rows = [_row(house, room) for room in found if room.anything]
    if not rows:
        return ()
    head = ("Room", "In its walls", "In its floor or ceiling", "In one of these", "Plates, photos")
    astray = [_pipe(house, pipe) for pipe in anywhere(house)]
    blocks: tuple[Block, ...] = (
        Para((LOOK_FIRST,)),
        *table("Behind this wall, room by room", head, rows, (1.7, 2.4, 2.4, 2.8, 1.7)),
    )
    if astray:
        unknown: Line = ("Which rooms these pass is not recorded: ", *joined(astray, "; "), ".")
        blocks += (Para(unknown),)
    return (Page("behind_this_wall", "Behind this wall", blocks),)


LOOK_FIRST = (
    "Before you drill, cut or nail, look here and at the photos. A pipe is named by what it ends "
    "at. In one of these: not recorded whether in a wall, the floor or the ceiling. What is not "
    "recorded may still be there."
)


def _row(house: House, room: Behind) -> tuple[Line, ...]:
    name, level = house.places.rooms[room.room]
    more: list[Line] = [(f"plates: {said(shield.plate)}",) for shield in room.shields]
    more += [(insulation.what,) for insulation in room.insulation]
    if room.photos:
        more.append(to_photos(room.photos, "photo"))
    where = f"{name.name}, {lower(level.name)}" if len(house.places.levels) > 1 else name.name
    return (
        (where,),
        *(
            joined([_pipe(house, pipe) for pipe in pipes], "; ") or ("-",)
            for pipes in _sorted(room)
        ),
        joined(more, "; ") or ("-",),
    )


def _sorted(room: Behind) -> tuple[list[Piped], list[Piped], list[Piped]]:
    """Return the pipes in the walls, those in floor or ceiling, those in one of the two."""
    walls, flat = (
        [pipe for pipe in pipes if not either(pipe)]
        for pipes in (room.in_walls, room.in_floor_or_ceiling)
    )
    together = dict.fromkeys((*room.in_walls, *room.in_floor_or_ceiling))
    return walls, flat, [pipe for pipe in together if either(pipe)]


def _pipe(house: House, pipe: Piped) -> Line:
    """Return `T14 1/2 in`, a fixture's by its side, gas and drain by that word."""
    size = f" {pipe.run.size}" if pipe.run and pipe.run.size else ""
    side = pipe.end.rpartition(".")[2] if house.items[pipe.thing].system == "fixture" else ""
    kind = side if side in ("cold", "hot") else "" if pipe.system == "water" else pipe.system
    drain = pipe.system == "drain" and house.items[pipe.thing].system == "drain"
    words = f" {kind}" if kind and not drain else ""
    return (*short(house, pipe.thing), f"{words}{size}")


def _hidden(house: House, walls: Walls) -> tuple[Page, ...]:
    blocks: tuple[Block, ...] = (*_shields(house, walls), *_insulation(house, walls))
    if walls.notes:
        blocks += (Bullets(tuple((sentences(note),) for note in walls.notes)),)
    return (
        (Page("behind_the_wallboard", "Plates, insulation and remarks", blocks),)
        if (blocks)
        else ()
    )


def _shields(house: House, walls: Walls) -> tuple[Block, ...]:
    rows = [
        (
            (house.places.say(shield.place) or NOT_RECORDED,),
            all_called(house, shield.protects),
            (said(shield.plate),),
            (established(shield.seen),),
        )
        for shield in each(walls.shields)
    ]
    head = ("Where", "Protects", "Plate", "Established")
    return table("Shield plates: drill no holes here", head, rows, (3, 2.4, 1.6, 2))


def _insulation(house: House, walls: Walls) -> tuple[Block, ...]:
    rows = [
        (
            (insulation.what,),
            (house.places.say(insulation.place) or NOT_RECORDED,),
            (said(insulation.kind),),
            all_called(house, insulation.protects),
            (established(insulation.seen),),
        )
        for insulation in each(walls.insulation)
    ]
    head = ("What", "Where", "Kind", "Protects", "Established")
    return table("Insulation", head, rows, (2, 2.6, 1.6, 2, 2))
