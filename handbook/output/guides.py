"""Markdown guides of ours, filled with a house's values, and notes that the house's people wrote.

A value never passes through Markdown: where a guide prints one, a mark of two private-use
characters and a number is put, the Markdown is turned into HTML, and only then does the escaped
value take the place of its mark. So a thing named `*x* <script>` is printed as that.

Guides are Markdown without HTML: paragraphs, `##` headings, numbered and bulleted lists, strong
and emphasis, and panels (`!!! warning` with indented paragraphs). They may use `tag(id, name)`,
`call(number, uri)`, `go(page, text)` and `strong(text)`; a block is printed on a line of its own.
Sources stand in Jinja comments, `{# ... #}`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from html import escape as escape_html
from html.parser import HTMLParser
from pathlib import Path
from typing import TYPE_CHECKING, get_args

from markupsafe import Markup

from handbook.output.errors import OutputError
from handbook.output.templating import environment, filled
from handbook.pages.content import Block, Call, Go, Span, Strong, Tag

if TYPE_CHECKING:
    from markdown import Markdown

    from handbook.output.render import Renderer

_MARK = re.compile("\ue000([0-9]+)\ue001")
_ALONE = re.compile("<p>\ue000([0-9]+)\ue001</p>")
_SPANS = get_args(Span)
_BLOCKS = get_args(Block)

_NOTE_TAGS = {"p", "em", "strong", "ul", "ol", "li", "br", "a", "h1", "h2", "h3", "h4", "h5", "h6"}


def fill(folder: Path, name: str, values: Mapping[str, object], renderer: Renderer) -> Markup:
    """The HTML of the guide `name` of `folder`, filled with `values`.

    Raises OutputError if the guide is not there, uses a value that it is not given or that is
    not known (None), or prints a block inside a sentence.
    """
    values_printed = _Values(renderer, name)
    functions = {
        "tag": lambda tag, name="": (Tag(tag, name),),
        "call": lambda number, uri: (Call(number, uri),),
        "go": lambda page, text: (Go(page, text),),
        "strong": lambda text: (Strong(text),),
    }
    templates = environment(folder, values_printed.mark)
    templates.globals |= functions
    text = filled(templates, f"{name}.md", values)
    html = _safe(_markdown(html=False).convert(text))
    if "<h1>" in html:
        raise OutputError(f"guide {name!r}: the page has its title already; begin with '##'")
    html = _headings(html, renderer.level)
    html = _ALONE.sub(values_printed.block_or_paragraph, html)
    return Markup(_MARK.sub(values_printed.inline, html))


def note(markdown: str) -> Markup:
    """The HTML of a house's own note: paragraphs, lists, emphasis and https or tel links; no
    pictures, no other markup, and headings set as strong paragraphs."""
    import nh3

    clean = nh3.clean(
        _markdown(html=True).convert(markdown),
        tags=_NOTE_TAGS,
        attributes={"a": {"href"}},
        url_schemes={"https", "tel"},
        link_rel=None,
    )
    return Markup(_safe(clean, headings=False))


@dataclass
class _Values:
    """The values that a guide prints, in the order of their marks."""

    renderer: Renderer
    guide: str
    printed: list[object] = field(default_factory=list)

    def mark(self, value: object) -> object:
        """What stands in the Markdown for a printed value."""
        if isinstance(value, Markup):  # what a macro of the guide has already filled
            return value
        if not _printable(value):
            raise OutputError(f"guide {self.guide!r} prints {value!r}, which is not a text")
        self.printed.append(value)
        return Markup(f"\ue000{len(self.printed) - 1}\ue001")

    def inline(self, match: re.Match[str]) -> str:
        value = self.printed[int(match[1])]
        if isinstance(value, _BLOCKS):
            raise OutputError(
                f"guide {self.guide!r} prints a {type(value).__name__} inside a sentence; "
                "give it a line of its own"
            )
        if isinstance(value, tuple):
            return self.renderer.inline(value)
        return self.renderer.inline((value if isinstance(value, _SPANS) else str(value),))

    def block_or_paragraph(self, match: re.Match[str]) -> str:
        value = self.printed[int(match[1])]
        return self.renderer.block(value) if isinstance(value, _BLOCKS) else match[0]


def _printable(value: object) -> bool:
    if isinstance(value, tuple):
        return all(isinstance(span, _SPANS) for span in value)
    return isinstance(value, (*_SPANS, *_BLOCKS, int)) and not isinstance(value, bool)


def _markdown(*, html: bool) -> Markdown:
    from markdown import Markdown

    converter = Markdown(extensions=["admonition", "sane_lists"], output_format="html")
    if not html:
        converter.preprocessors.deregister("html_block")
        converter.inlinePatterns.deregister("html")
    return converter


def _headings(html: str, level: int) -> str:
    """The guide's `##` as headings of `level`, and what is under them one lower each."""
    return re.sub(
        r"<(/?)h([2-6])>", lambda match: f"<{match[1]}h{level + int(match[2]) - 2}>", html
    )


def _safe(html: str, *, headings: bool = True) -> str:
    """HTML without the two nestings that break PDF/UA: a paragraph inside `li` (the first becomes
    its line, the others quieter lines under it) and anything but text inside `a`."""
    parser = _SafeNesting(headings=headings)
    parser.feed(html)
    parser.close()
    return "".join(parser.out)


class _SafeNesting(HTMLParser):
    def __init__(self, *, headings: bool) -> None:
        super().__init__(convert_charrefs=True)
        self.out: list[str] = []
        self._open: list[str] = []
        self._headings = headings
        self._line_done = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "br":
            self.out.append("<br>")
            return
        self._open.append(tag)
        if "a" in self._open[:-1]:
            return
        if tag == "p" and self._in_item():
            self.out.append('<br><span class="aside">' if self._line_done else "<span>")
            return
        self._line_done = self._line_done and tag != "li"
        written = "".join(f' {name}="{escape_html(value or "")}"' for name, value in attrs)
        self.out.append("<p><strong>" if self._is_heading(tag) else f"<{tag}{written}>")

    def handle_endtag(self, tag: str) -> None:
        if tag not in self._open:
            return
        while self._open.pop() != tag:
            pass
        if "a" in self._open:
            return
        if tag == "p" and self._in_item():
            self.out.append("</span>")
            return
        self.out.append("</strong></p>" if self._is_heading(tag) else f"</{tag}>")

    def handle_data(self, data: str) -> None:
        if self._in_item():
            self._line_done = self._line_done or bool(data.strip())
            data = data if data.strip() else "" if self.out[-1] == "<li>" else " "
        self.out.append(escape_html(data, quote=False))

    def _in_item(self) -> bool:
        lists = [tag for tag in self._open if tag in ("li", "ul", "ol", "div")]
        return bool(lists) and lists[-1] == "li"

    def _is_heading(self, tag: str) -> bool:
        return not self._headings and bool(re.fullmatch("h[1-6]", tag))
