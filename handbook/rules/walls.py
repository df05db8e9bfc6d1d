"""Rules for what is in the walls: that hidden pipe was photographed and its plates are recorded."""

from collections.abc import Iterator

from handbook.house.house import House
from handbook.record import ids
from handbook.record.entry import Entry
from handbook.record.fields import ABSENT
from handbook.record.grammar.common import Run, each
from handbook.rules import facts
from handbook.rules.looks import walls
from handbook.rules.rule import PRACTICE, Broken, CannotTell, Clear, Gap, Outcome, rule, told


@rule(
    "WL-01",
    "hidden-pipe-never-photographed",
    "gap",
    why="A photo of the open wall saves opening it again to look.",
    remedy="While a wall is still open, photograph it; ask the trades for photos of those closed.",
    stages=("rough-in", "top-out"),
    source=PRACTICE,
)
def hidden_pipe_never_photographed(house: House) -> Iterator[Outcome]:
    """Where walls or floors hide pipe, photos were taken while they were open."""
    photos = walls(house).photos
    yield from told(photos, facts.PHOTOS)
    hiding = _hiding_rooms(house)
    if not hiding:
        yield CannotTell(facts.HIDDEN)
    elif photos is ABSENT:
        said = f"Pipe is hidden in {', '.join(hiding)}, and there is no photo of any of it"
        yield Gap(None, said, walls(house).mark_of("photos"))
    shown = {photo.place.room for photo in each(photos) if photo.place}
    for room in hiding if each(photos) else ():
        yield Clear(room) if room in shown else CannotTell(facts.PHOTO_OF_ROOM, room)


def _hiding_rooms(house: House) -> tuple[str, ...]:
    """Return the rooms whose walls or floors hide pipe."""
    runs = (entry for entry in ids.entries(house.record) if isinstance(entry, Run))
    return tuple(dict.fromkeys(room for run in runs for room in each(run.through)))


@rule(
    "WL-02",
    "photo-file-missing",
    "fault",
    why="The wall is closed; a photo that is lost now cannot be taken again.",
    remedy="Put the file where the record says it is, or correct its name.",
    stages=("rough-in", "handover"),
    source=PRACTICE,
)
def photo_file_missing(house: House) -> Iterator[Outcome]:
    """Each photo of the record is there as a file."""
    yield from told(walls(house).photos, facts.PHOTOS)
    cover = house.record.house.cover_photo
    named: list[tuple[str | None, str, Entry, str]] = [
        (photo.id, photo.file, photo, "file") for photo in each(walls(house).photos)
    ]
    if isinstance(cover, str):
        named.append((None, cover, house.record.house, "cover_photo"))
    for thing, file, entry, field in named:
        if (house.folder / file).is_file():
            yield Clear(thing)
        else:
            said = f"{thing or 'The cover'} names {file}, which is not in the record's folder"
            yield Broken(thing, said, entry.mark_of(field))


@rule(
    "WL-03",
    "shield-without-target",
    "gap",
    why="Plates tell where it is safe to drive a nail only if one knows where they are.",
    remedy="Record its place, and under `protects` the pipe that it covers.",
    stages=("rough-in", "top-out"),
    source="IRC P2603.2.1 (2015 and later) asks for the plates; recording them is common practice",
)
def shield_without_target(house: House) -> Iterator[Outcome]:
    """Each shield plate says where it is and what it protects."""
    yield from told(walls(house).shields, facts.SHIELDS)
    for number, shield in enumerate(each(walls(house).shields), start=1):
        if shield.place and shield.protects:
            yield Clear()
        else:
            what = "what it protects" if shield.place else "where it is"
            yield Gap(None, f"Shield plate {number} does not say {what}", shield.mark)


RULES = (hidden_pipe_never_photographed, photo_file_missing, shield_without_target)
