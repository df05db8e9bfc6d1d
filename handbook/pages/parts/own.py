"""What belongs to a thing beside its facts: the photos that show it, and the record's own note.

The book has each photo once, in its part on the walls; other pages lead to the photo itself.
"""

from collections.abc import Iterable

from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.content import Block, Go, HouseNote, Line, Para, Photo
from handbook.pages.parts.phrases import joined
from handbook.pages.words import sentences
from handbook.record.grammar.common import each
from handbook.record.grammar.walls import Photo as WallPhoto


def own_blocks(house: House, item: Item, *, brief: bool = False) -> tuple[Block, ...]:
    """Return the photos that show a thing, and the record's own note on it; `brief`: where they
    are in the book, instead of the photos."""
    if brief:
        return (*photo_pointer(house, (item,)), *note_of(item))
    return (*photos_of(house, item.id), *note_of(item))


def photos_of(house: House, thing: str) -> tuple[Photo, ...]:
    """Return the photos that show a thing."""
    shown = (photo for photo in _photos(house) if thing in (photo.shows or ()))
    return tuple(Photo(p.file, p.caption, (sentences(p.caption),)) for p in shown)


def photo_pointer(house: House, items: Iterable[Item]) -> tuple[Block, ...]:
    """Return where the book shows photos of any of these, if it does."""
    ids = {item.id for item in items}
    found = [photo for photo in _photos(house) if ids & set(photo.shows or ())]
    return (Para(to_photos(found, "Photo taken while the wall was open")),) if found else ()


def photo_links(house: House, thing: str) -> Line:
    """Return where the book shows photos of a thing, in few words; empty where it has none."""
    return to_photos([photo for photo in _photos(house) if thing in (photo.shows or ())], "Photo")


def to_photos(photos: Iterable[WallPhoto], words: str) -> Line:
    """Return a link to each photo of the part on the walls: `Photo, another`."""
    return joined(
        (Go("open_walls", "another" if number else words, mark(photo)),)
        for number, photo in enumerate(photos)
    )


def mark(photo: WallPhoto) -> str:
    """Return what links to a photo lead to."""
    return f"photo-{photo.id}"


def note_of(item: Item) -> tuple[Block, ...]:
    """Return the record's own note on a thing."""
    note = getattr(item.entry, "note", None)
    return (HouseNote(note),) if note else ()


def _photos(house: House) -> tuple[WallPhoto, ...]:
    walls = house.record.walls
    return each(walls.photos) if walls else ()
