"""The handbook as a folder of static pages for a phone: nothing fetched from elsewhere, readable
from a memory stick as well as from a server, and whole without script.

The first page gives the emergencies, then whom to call, then everything else. Each page and each
tagged thing has a folder of its own, so that its address is short enough for a QR code.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from handbook import assets
from handbook.output import fonts
from handbook.output.errors import OutputError
from handbook.output.links import broken
from handbook.output.photos import Photos, Small
from handbook.output.render import Renderer
from handbook.output.scripts import script_of
from handbook.pages.content import Page, Site

_RESERVED = frozenset({"fonts", "photos", "symbols"})


@dataclass(frozen=True)
class SiteLinks:
    """Addresses as seen from a page that is `up` from the root: `""` or `"../"`."""

    folders: dict[str, str]
    tags: dict[str, str]
    up: str

    def page(self, page: str, spot: str = "") -> str:
        """The address of a page, or of a marked block on it."""
        if page not in self.folders:
            raise OutputError(f"a page leads to {page!r}, which the pages do not have")
        return f"{self.up}{self.folders[page]}/index.html{f'#{spot}' if spot else ''}"

    def tag(self, tag: str) -> str | None:
        """The address of a tagged thing's page, if it has one."""
        return self.page(self.tags[tag]) if tag in self.tags else None

    def photo(self, photo: Small) -> str:
        """Where a photo lies."""
        return f"{self.up}photos/{photo.name}"


def write_site(site: Site, photos: Photos, out: Path, guides: Path | None = None) -> None:
    """Write the pages into the folder `out`, which must be empty or not yet there.

    Raises OutputError if a link on them would lead nowhere. Guides come from `templates/guides`
    unless another folder is given.
    """
    pages = _pages(site)
    folders = {page.id: page.folder for page in pages}
    tags = {page.tag: page.id for page in pages if page.tag}
    used = _Used(photos)

    def renderer(up: str) -> Renderer:
        links = SiteLinks(folders, tags, up)
        return Renderer("web", links, used, 2, guides or assets.templates() / "guides")

    first, inner = renderer(""), renderer("../")
    shared = {
        "book": site.book,
        "things": sorted((page for page in pages if page.tag), key=_by_number),
    }
    index = first.template("site_index.html", up="", page=None, script=None, **shared)
    _write(out / "index.html", index)
    for page in pages:
        script = script_of(page)
        html = inner.template("site_page.html", up="../", page=page, script=script, **shared)
        _write(out / page.folder / "index.html", html)
    _write(out / "style.css", _style())
    _copy_assets(out)
    for small in used.shown.values():
        _file(out / "photos" / small.name).write_bytes(small.data)
    if problems := broken(out):
        raise OutputError("the pages do not hold together:\n" + "\n".join(problems))


class _Used(Photos):
    """Photos that remember which of them the pages show."""

    def __init__(self, photos: Photos) -> None:
        super().__init__(photos.root)
        self._photos = photos
        self.shown: dict[str, Small] = {}

    def get(self, file: str) -> Small:
        self.shown[file] = self._photos.get(file)
        return self.shown[file]


def _pages(site: Site) -> tuple[Page, ...]:
    """Book pages in order, then things; a thing's page replaces the book's page of its id."""
    things = {page.id: page for page in site.things}
    pages = [things.pop(page.id, page) for page in site.book.pages]
    pages.extend(things.values())
    _distinct(page.folder for page in pages)
    return tuple(pages)


def _distinct(folders: Iterable[str]) -> None:
    """Two folders that differ in capitals alone are one folder on many disks."""
    seen: set[str] = set(_RESERVED)
    for folder in folders:
        if folder.lower() in seen:
            raise OutputError(f"two pages would lie in the folder {folder!r}: rename one of them")
        seen.add(folder.lower())


def _style() -> str:
    css = (assets.templates() / "site.css").read_text(encoding="utf-8")
    return fonts.font_faces("fonts/") + "\n" + css


def _copy_assets(out: Path) -> None:
    for face in fonts.FACES:
        shutil.copyfile(fonts.folder() / face.file, _file(out / "fonts" / face.file))
    shutil.copyfile(fonts.licence(), out / "fonts" / "LICENSE.txt")
    for symbol in sorted((assets.templates() / "symbols").glob("*.svg")):
        shutil.copyfile(symbol, _file(out / "symbols" / symbol.name))


def _write(path: Path, text: str) -> None:
    _file(path).write_text(text, encoding="utf-8", newline="\n")


def _file(path: Path) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    return path


def _by_number(page: Page) -> tuple[str, int, str]:
    """W2 before W10: letters first, then the number."""
    letters = page.folder.rstrip("0123456789")
    digits = page.folder[len(letters) :]
    return letters, int(digits or 0), page.folder
