"""Checks a folder of pages before anyone trusts it: every link leads somewhere, nothing is
fetched from elsewhere. A broken `#anchor` is an error like any other.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

_LOADS = {("img", "src"), ("link", "href"), ("script", "src"), ("source", "src")}


def broken(folder: Path) -> tuple[str, ...]:
    """What is wrong with the links of the pages in `folder`; nothing if all is well."""
    pages = {path.resolve(): _read(path) for path in sorted(folder.rglob("*.html"))}
    root = folder.resolve()
    return tuple(
        f"{path.relative_to(root).as_posix()}: {problem}"
        for path, page in pages.items()
        for problem in _problems(path, page, pages, root)
    )


@dataclass
class _Page(HTMLParser):
    ids: list[str] = field(default_factory=list)
    links: list[tuple[str, str, str]] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name == "id":
                self.ids.append(value or "")
            elif name in ("href", "src"):
                self.links.append((tag, name, value or ""))


def _read(path: Path) -> _Page:
    page = _Page()
    page.feed(path.read_text(encoding="utf-8"))
    page.close()
    return page


def _problems(path: Path, page: _Page, pages: dict[Path, _Page], root: Path) -> list[str]:
    found = [f"two things have the id {id_!r}" for id_ in set(page.ids) if page.ids.count(id_) > 1]
    for tag, name, link in page.links:
        if problem := _problem(path, (tag, name), link, pages, root):
            found.append(f"{link!r} {problem}")
    return found


def _problem(
    path: Path, where: tuple[str, str], link: str, pages: dict[Path, _Page], root: Path
) -> str:
    parts = urlsplit(link)
    if parts.scheme or parts.netloc:
        if where in _LOADS:
            return "would be fetched from elsewhere"
        return "" if parts.scheme in ("https", "tel") else "is not an address for a page"
    target = (path.parent / unquote(parts.path)).resolve() if parts.path else path
    if not target.is_relative_to(root):
        return "leads out of the pages"
    if not target.is_file():
        return "leads to no file"
    if parts.fragment and parts.fragment not in pages[target].ids:
        return "leads to no such place on its page"
    return ""
