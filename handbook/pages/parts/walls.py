"""What is behind the wallboard: photos taken while it was open, plates, insulation, remarks."""

from handbook.house.house import House
from handbook.pages.content import Block, Bullets, Line, Page, Part, Photo
from handbook.pages.parts.phrases import NOT_RECORDED, all_called, day, established, said, table
from handbook.pages.words import sentences
from handbook.record.grammar.common import Place, each
from handbook.record.grammar.walls import Photo as WallPhoto
from handbook.record.grammar.walls import Walls


def walls_part(house: House) -> tuple[Part, ...]:
    """Return the part on the walls; none where nothing of it is recorded."""
    walls = house.record.walls or Walls()
    pages = (*_photos(house, walls), *_hidden(house, walls))
    return (Part("walls_part", "In the walls", pages),) if pages else ()


def _photos(house: House, walls: Walls) -> tuple[Page, ...]:
    """Return the photos by room, in the order of the record."""
    rooms: dict[str, list[WallPhoto]] = {}
    for photo in each(walls.photos):
        rooms.setdefault(_room(house, photo.place), []).append(photo)
    blocks: list[Block] = []
    for photos in rooms.values():
        blocks += [Photo(p.file, p.caption, _caption(house, p)) for p in photos]
    return (
        (Page("open_walls", "Photos taken while the walls were open", tuple(blocks)),)
        if (blocks)
        else ()
    )


def _room(house: House, place: Place | None) -> str:
    return house.places.room_and_level(place) or f"Place {NOT_RECORDED}"


def _caption(house: House, photo: WallPhoto) -> Line:
    looks = f"Looks {photo.looks}." if photo.looks else f"Which way it looks: {NOT_RECORDED}."
    words = sentences(photo.caption, house.places.say(photo.place) or f"place {NOT_RECORDED}")
    taken = f"Taken: {said(photo.on, day)}."
    shows: Line = (" Shows ", *all_called(house, photo.shows), ".") if photo.shows else ()
    return (f"{words} {looks}", *shows, f" {taken}")


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
