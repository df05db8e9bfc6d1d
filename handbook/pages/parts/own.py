"""What belongs to a thing beside its facts: the photos that show it, and the record's own note."""

from collections.abc import Iterable

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Go, HouseNote, Para, Photo
from handbook.pages.words import sentences
from handbook.record.grammar.common import each
from handbook.record.grammar.walls import Photo as WallPhoto


def own_blocks(house: House, item: Item, *, brief: bool = False) -> tuple[Block, ...]:
    """Return the photos that show a thing, and the record's own note on it.

    `brief`: the book has each photo once, in its part on the walls, and points there.
    """
    if brief:
        return (*photo_pointer(house, (item,)), *note_of(item))
    return (*photos_of(house, item.id), *note_of(item))


def photos_of(house: House, thing: str) -> tuple[Photo, ...]:
    """Return the photos that show a thing."""
    shown = (photo for photo in _photos(house) if thing in (photo.shows or ()))
    return tuple(Photo(p.file, p.caption, (sentences(p.caption),)) for p in shown)


def photo_pointer(house: House, items: Iterable[Item]) -> tuple[Block, ...]:
    """Return where the book shows photos of any of these, if it does."""
    if not has_photos(house, items):
        return ()
    return (Para((Go("open_walls", "Photos taken while the wall was open"),)),)


def has_photos(house: House, items: Iterable[Item]) -> bool:
    """Whether a photo of the walls shows any of these."""
    ids = {item.id for item in items}
    return any(ids & set(photo.shows or ()) for photo in _photos(house))


def note_of(item: Item) -> tuple[Block, ...]:
    """Return the record's own note on a thing."""
    note = getattr(item.entry, "note", None)
    return (HouseNote(note),) if note else ()


def _photos(house: House) -> tuple[WallPhoto, ...]:
    walls = house.record.walls
    return each(walls.photos) if walls else ()
