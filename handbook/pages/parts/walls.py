"""What is behind the wallboard: photos taken while it was open, plates, insulation, remarks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from handbook.answers.behind import Behind, anywhere, behind, either
from handbook.answers.finding.across import across
from handbook.answers.finding.along_wall import along
from handbook.answers.finding.hidden_pipes import Piped
from handbook.answers.finding.wall_names import toward
from handbook.answers.finding.which_wall import part_of_wall, wall_at, wall_of
from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.pages.content import Block, Bullets, Line, Note, Page, Para, Part, Photo, Strong
from handbook.pages.levels import caption, top_down
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
from handbook.pages.trade_words import letters
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
    if not any(room.anything for room in found):
        return ()
    blocks: tuple[Block, ...] = ()
    if any(pipe.system == "gas" for room in found for pipe in _all(room)):
        blocks += (Note("danger", ((GAS_FIRST,),)),)
    for level in top_down(house):
        here = [room for room in found if house.places.rooms[room.room][1].id == level]
        rows = [row for room in here for row in _rows(house, room)]
        blocks += table(
            caption(house, level), ("Room and where in it", "Hidden there"), rows, (3, 8)
        )
    astray = [_pipe(house, pipe) for pipe in anywhere(house)]
    if astray:
        unknown: Line = ("Which rooms these pass is not recorded: ", *joined(astray, "; "), ".")
        blocks += (Para(unknown),)
    first = tuple(Para(said) for said in ((LOOK_FIRST,), letters(house, blocks)) if said)
    return (Page("behind_this_wall", "Behind this wall", (*first, *blocks)),)


def _all(room: Behind) -> tuple[Piped, ...]:
    return (*room.in_walls, *room.in_floor_or_ceiling)


LOOK_FIRST = (
    "Before you drill, cut or nail, look here and at the photos. A pipe is named by what it ends "
    "at. Where no one wall is named, it may be in any of the room's; what stands under wall, "
    "floor or ceiling may be in any of them. A length is where along the wall it ends, from the "
    "left corner as you face that wall: it comes there from one side, from above or from below. "
    "Where two walls of a room lead to one other room, the compass says which it is. "
    "What is not recorded may still be there; wires, cables and the branch vents of single "
    "fixtures are not in this record at all."
)
GAS_FIRST = (
    "A gas pipe that is drilled can kill. Where GAS stands, have a licensed plumber show where it "
    "runs before the wall is opened."
)


@dataclass
class _Cell:
    """What is hidden at one place of a room: its pipes, and what else is there."""

    pipes: list[Piped] = field(default_factory=list)
    beside: list[Line] = field(default_factory=list)


def _rows(house: House, room: Behind) -> Iterator[tuple[Line, ...]]:
    """Yield a row for each wall that the record names, then what is less surely placed."""
    name = house.places.rooms[room.room][0].name
    for number, (where, cell) in enumerate(_sorted(house, room).items()):
        said = name if number else Strong(name)
        hidden = joined([*_systems(house, cell.pipes, room.room, where), *cell.beside], "; ")
        yield (said, f": {where}") if where else (said,), hidden


def _sorted(house: House, room: Behind) -> dict[str, _Cell]:
    """Return what is hidden, by where in the room it is; by nothing, what is only known to be
    in it."""
    named: dict[str, _Cell] = {}
    rest = {WALLS: _Cell(), FLAT: _Cell()}
    for pipe in room.in_walls:
        wall = wall_of(house, pipe, room.room)
        where = WALLS if not either(pipe) else _either_at(house, pipe, room.room)
        cell = named.setdefault(wall, _Cell()) if wall else rest.setdefault(where, _Cell())
        cell.pipes.append(pipe)
    rest[FLAT].pipes += [pipe for pipe in room.in_floor_or_ceiling if not either(pipe)]
    for wall, line in _beside_pipes(house, room):
        (named if wall else rest).setdefault(wall, _Cell()).beside.append(line)
    return named | {where: cell for where, cell in rest.items() if cell.pipes or cell.beside}


def _systems(house: House, pipes: Sequence[Piped], room: str, wall: str) -> Iterator[Line]:
    """Yield the pipes of each system, gas first and by its name; the others' where they differ."""
    found = {system: [p for p in pipes if p.system == system] for system in NAMES}
    several = sum(map(bool, found.values())) > 1
    for system, name in NAMES.items():
        label: Line = (Strong(f"{name}: "),) if several or system == "gas" else ()
        lines = [(*_pipe(house, p), _along(house, p, room, wall)) for p in found[system]]
        if lines:
            yield (*label, *joined(lines, "; "))


def _along(house: House, pipe: Piped, room: str, wall: str) -> str:
    """Say how far along a wall a pipe ends, or what the record says of it: ` at 5 ft 6 in`."""
    wall = wall.removeprefix(ENDS_AT)
    inches = along(house, pipe, room, wall) if wall not in (WALLS, FLAT, EITHER) else None
    if inches is not None:
        return f" at {say_length(Length(round(inches)), house.record.house.units)}"
    if " toward " not in wall:
        return ""
    unknown = "where along it is not recorded" if pipe.system == "gas" else ""
    return f" {part_of_wall(pipe) or unknown}".rstrip()


NAMES = {"gas": "GAS", "water": "Water", "drain": "Drains"}
"""What a table calls each system's pipes, those first that must not be drilled into at any cost."""


def _either_at(house: House, pipe: Piped, room: str) -> str:
    """Where a pipe may be, of which it is not recorded; with the wall at which it ends."""
    wall = wall_at(house, house.items[pipe.thing].place, room)
    return f"{ENDS_AT}{wall}" if wall else EITHER


WALLS, FLAT, EITHER = "walls", "floor or ceiling", "wall, floor or ceiling"
ENDS_AT = f"{EITHER}; ends at the "


def _beside_pipes(house: House, room: Behind) -> Iterator[tuple[str, Line]]:
    """Yield the plates, the insulation and the photos, each with its wall where it is recorded."""
    for shield in room.shields:
        yield wall_at(house, shield.place, room.room), (f"plates: {said(shield.plate)}",)
    for insulation in room.insulation:
        yield wall_at(house, insulation.place, room.room), (insulation.what,)
    for photo in room.photos:
        far = across(house, photo.place, photo.looks)
        yield _looked_at(house, photo, room.room, far), to_photos((photo,), "photo")


def _looked_at(house: House, photo: WallPhoto, room: str, far: str | None) -> str:
    """The wall of a room that a photo shows, taken in it or in the room behind that wall."""
    own = photo.place.room if photo.place else None
    if not far or not own:
        return ""
    if own == room:
        return toward(house, room, far, told=photo.looks)
    return toward(house, room, own, told=OPPOSITE.get(photo.looks or ""))


OPPOSITE = {"north": "south", "south": "north", "east": "west", "west": "east"}


def _pipe(house: House, pipe: Piped) -> Line:
    """Return `T14 1/2 in`, a fixture's water by its side."""
    size = f" {pipe.run.size}" if pipe.run and pipe.run.size else ""
    side = pipe.end.rpartition(".")[2] if house.items[pipe.thing].system == "fixture" else ""
    words = f" {side}" if side in ("cold", "hot") else ""
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
    plates = table("Shield plates", head, rows, (2.6, 3.2, 1.5, 2))
    return (*plates, Para((BETWEEN,))) if plates else ()


BETWEEN = (
    "Do not drill there. A plate covers a stud or a joist only: between the plates, and wherever "
    "none is recorded, nothing protects the pipe."
)


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
    return table("Insulation", head, rows, (1.6, 2.2, 1.6, 3, 2))
