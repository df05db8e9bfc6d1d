"""Typed content becomes HTML, for paper and for phones alike.

Lines are made here, blocks by the macros of `templates/blocks.html`. Every text is escaped, and
numbers are glued to their units on the way out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Literal, Protocol

from markupsafe import Markup, escape

from handbook import assets
from handbook.output import guides
from handbook.output.drawing.draw import draw
from handbook.output.drawing.profile import drawn
from handbook.output.drawing.risers import sheets
from handbook.output.drawing.sheet import SHEETS
from handbook.output.photos import Photos, Small
from handbook.output.templating import environment, filled
from handbook.output.typography import glue
from handbook.pages.content import (
    Block,
    Call,
    Drawing,
    Go,
    Guide,
    HouseNote,
    Line,
    Map,
    Photo,
    Profile,
    Span,
    Strong,
    Table,
    Tag,
)
from handbook.pages.riser.content import Riser

if TYPE_CHECKING:
    from jinja2 import Environment
    from jinja2.environment import TemplateModule

TAG_COLUMN, NARROW, MANY = 15.2, 9.0, 5
"""Share of a tagged table's width, in percent, that stands out in the margin (1.05 in of 6.9); and
its share in a table of so many columns that they need the room."""


class Links(Protocol):
    """Where things are in one output, as seen from the page being rendered."""

    def page(self, page: str, spot: str = "") -> str:
        """The address of a page, or of a marked block on it; OutputError if there is none."""

    def tag(self, tag: str) -> str | None:
        """The address of a tagged thing's page, or None where the output has none."""

    def photo(self, photo: Small) -> str:
        """The address of a photo made small."""


@dataclass(frozen=True)
class Renderer:
    """Renders for one medium and one place. `level` is the heading level of a SubHead."""

    medium: Literal["print", "web"]
    links: Links
    photos: Photos
    level: int
    guides: Path

    def template(self, name: str, **values: object) -> str:
        """A whole file of `templates/`, rendered with these values."""
        return filled(self._environment, name, values)

    def blocks(self, blocks: tuple[Block, ...]) -> Markup:
        """The HTML of a page's blocks."""
        return Markup("\n").join(self.block(block) for block in blocks)

    def block(self, block: Block) -> Markup:
        """The HTML of one block."""
        match block:
            case Guide(name, values):
                return guides.fill(self.guides, name, values, self)
            case HouseNote(markdown):
                return Markup('<div class="house-note">{}</div>').format(guides.note(markdown))
            case Drawing(svg, title):
                return Markup("<figure>{}</figure>").format(_titled(svg, title))
            case Profile(title):
                return Markup("<figure>{}</figure>").format(_titled(drawn(block), glue(title)))
        macro: Callable[..., Markup] = getattr(self._macros, type(block).__name__.lower())
        return macro(block)

    def inline(self, spans: Line) -> Markup:
        """The HTML of a line."""
        return Markup("").join(self._span(span) for span in spans)

    def _span(self, span: Span) -> Markup:
        match span:
            case str():
                return escape(glue(span))
            case Strong(text):
                return Markup("<strong>{}</strong>").format(glue(text))
            case Call(number, uri):
                return Markup('<a class="call" href="{}">{}</a>').format(uri, number)
            case Go(page, text, spot):
                return Markup('<a class="go" href="{}">{}</a>').format(
                    self.links.page(page, spot), glue(text)
                )
            case Tag(id, name):
                return self._tag(id) + (f" ({glue(name)})" if name else "")

    def _tag(self, tag: str) -> Markup:
        address = self.links.tag(tag)
        if address is None:
            return Markup('<span class="tag">{}</span>').format(tag)
        return Markup('<a class="tag" href="{}">{}</a>').format(address, tag)

    def _picture(self, photo: Photo) -> Mapping[str, object]:
        small = self.photos.get(photo.file)
        return {"src": self.links.photo(small), "width": small.width, "height": small.height}

    def _mapped(self, plan: Map) -> Markup:
        svg = draw(plan.plan, SHEETS[self.medium, plan.size])
        return _titled(svg, f"Map. {glue(plan.title)}")

    @cached_property
    def _environment(self) -> Environment:
        templates = environment(assets.templates(), _glued)
        templates.globals |= {
            "text": self.inline,
            "blocks": self.blocks,
            "picture": self._picture,
            "mapped": self._mapped,
            "risen": _risen,
            "page_address": self.links.page,
            "widths": _widths,
            "level": self.level,
            "paper": self.medium == "print",
        }
        return templates

    @cached_property
    def _macros(self) -> TemplateModule:
        return self._environment.get_template("blocks.html").module


def _risen(riser: Riser) -> list[Markup]:
    """Return each sheet of a riser diagram."""
    return [_titled(svg, glue(riser.title)) for svg in sheets(riser)]


def _glued(value: object) -> object:
    return glue(value) if type(value) is str else value


def _widths(table: Table) -> list[str]:
    """The columns' widths in percent; a tagged first column has the margin's own share."""
    if not table.widths:
        return []
    if not table.tagged:
        return [f"{100 * share / sum(table.widths):.2f}" for share in table.widths]
    rest = table.widths[1:]
    tag = NARROW if len(table.widths) >= MANY else TAG_COLUMN
    return [f"{tag}"] + [f"{(100 - tag) * w / sum(rest):.2f}" for w in rest]


def _titled(svg: str, title: str) -> Markup:
    """The drawing with its title as first child, where PDF readers and screen readers look."""
    start = svg.index("<svg")
    head = svg.index(">", start) + 1
    opening = svg[start:head].replace("<svg", '<svg role="img"', 1)
    return Markup("{}<title>{}</title>{}").format(Markup(opening), title, Markup(svg[head:]))
