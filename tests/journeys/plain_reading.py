"""Pages as a reader gets them: rendered by the real output, then read back as plain lines.

A line is a paragraph, a list item's sentence or a table's cell; tags and numbers are also given
as such. `grade` is the reading grade of Kincaid and others (1975).
"""

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path

from handbook import assets
from handbook.output.photos import Photos, Small
from handbook.output.render import Renderer
from handbook.pages.content import Page


class Anywhere:
    """Links that lead nowhere, for reading alone."""

    def page(self, page: str, spot: str = "") -> str:
        return f"page:{page}"

    def tag(self, tag: str) -> str | None:
        return None

    def photo(self, photo: Small) -> str:
        return "#"


@dataclass
class Read(HTMLParser):
    """What stands on a page. `actions` are the numbered items, `caution` its signal word."""

    html: str
    lines: list[str] = field(default_factory=list)
    actions: list[str] = field(default_factory=list)
    tags: set[str] = field(default_factory=set)
    calls: set[str] = field(default_factory=set)
    go: set[str] = field(default_factory=set)
    caution: str = ""

    def __post_init__(self) -> None:
        super().__init__()
        self._open: list[str] = []
        self._line = ""
        self._class = ""
        self.feed(self.html)
        self._end()

    @property
    def text(self) -> str:
        return "\n".join(self.lines)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("p", "li", "td", "th", "caption", "h2", "h3", "h4", "br"):
            self._end()
        if tag == "br":
            return
        self._class = dict(attrs).get("class") or ""
        self._open.append(tag)
        if tag == "li" and "ol" in self._open:
            self.actions.append("")
        if tag == "div" and "admonition" in self._class and not self.caution:
            self.caution = self._class.split()[-1]
        href = dict(attrs).get("href") or ""
        if href.startswith("tel:"):
            self.calls.add(href)
        elif href.startswith("page:"):
            self.go.add(href.removeprefix("page:"))

    def handle_endtag(self, tag: str) -> None:
        if tag in ("p", "li", "td", "th", "caption", "h2", "h3", "h4"):
            self._end()
        while self._open and self._open.pop() != tag:
            pass
        self._class = ""

    def handle_data(self, data: str) -> None:
        if self._class == "tag":
            self.tags.add(data)
        self._line += data
        if "ol" in self._open and "li" in self._open:
            self.actions[-1] += data

    def _end(self) -> None:
        line = " ".join(self._line.split())
        if line:
            self.lines.append(line)
        self._line = ""


def read(page: Page, photos: Path = Path()) -> Read:
    renderer = Renderer("web", Anywhere(), Photos(photos), 2, assets.templates() / "guides")
    return Read(str(renderer.blocks(page.blocks)))


def sentences(text: str) -> list[str]:
    """The sentences of running text; labels such as "Where:" begin a sentence of their own."""
    parts = re.split(r"(?<=[.!?:])\s+|\n|;", text)
    return [part for part in parts if re.search(r"[A-Za-z]", part)]


def words(text: str) -> list[str]:
    return re.findall(r"[A-Za-z]+(?:'[a-z]+)?", text)


def syllables(word: str) -> int:
    """Count vowel groups, less a silent ending; at least one. Right for most plain words."""
    word = word.lower().removesuffix("'s")
    count = len(re.findall(r"[aeiouy]+", word))
    if re.search(r"[^aeiouyl]e$", word) or re.search(r"[^aeiouytd]ed$", word):
        count -= 1
    if re.search(r"[^aeiouysxz]es$", word) and not re.search(r"(?:ch|sh|g|c)es$", word):
        count -= 1
    return max(count, 1)


def grade(text: str) -> float:
    """Flesch-Kincaid grade: 0.39 words a sentence + 11.8 syllables a word - 15.59.

    Kincaid, Fishburne, Rogers and Chissom, Research Branch Report 8-75, 1975.
    """
    told, spoken = sentences(text), words(text)
    long = sum(syllables(word) for word in spoken)
    return 0.39 * len(spoken) / len(told) + 11.8 * long / len(spoken) - 15.59
