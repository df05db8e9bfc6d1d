"""Guides in Markdown are filled with a record's words, which are never read as Markdown or HTML;
a house's own notes are Markdown made harmless. What HTML means is told by the standard library's
parser, CommonMark by no one here: the words must simply come out as they went in.
"""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path

import pytest
import sample_book
from hypothesis import given
from hypothesis import strategies as st

from handbook.output import guides
from handbook.output.errors import OutputError
from handbook.output.paper import BookLinks
from handbook.output.photos import Photos
from handbook.output.render import Renderer
from handbook.pages.content import Call, Step, Steps, Strong, Tag, line


class Seen(HTMLParser):
    """The words of some HTML, and its elements with their attributes."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.words, self.elements, self.nesting, self.inside = "", [], set(), []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list) -> None:
        self.elements.append((tag, dict(attrs)))
        self.nesting |= {(outer, tag) for outer in self.inside[-1:]}
        if tag != "br":
            self.inside.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.inside.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words += data


@pytest.fixture
def fill(tmp_path: Path):
    links = BookLinks(frozenset({"gas"}), {"W1": "W1"})

    def fill(text: str, **values: object) -> str:
        (tmp_path / "g.md").write_text(text, encoding="utf-8")
        # pages known to the links are asked for by id
        known = BookLinks(links.pages | {"W1"}, links.tags)
        renderer = Renderer("print", known, Photos(tmp_path), 3, tmp_path)
        return str(guides.fill(tmp_path, "g", values, renderer))

    return fill


def test_a_name_full_of_markup_comes_out_as_those_characters(fill) -> None:
    seen = Seen(fill("The valve {{ name }} is stuck.", name=sample_book.NASTY))
    assert seen.words == f"The valve {sample_book.NASTY} is stuck."
    assert [tag for tag, _ in seen.elements] == ["p"]


@given(name=st.text(min_size=1))
def test_any_name_at_all_comes_out_as_those_characters(
    name: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("g")
    (folder / "g.md").write_text("- a {{ name }} **b {{ name }} c**")
    renderer = Renderer("print", BookLinks(frozenset(), {}), Photos(folder), 3, folder)
    seen = Seen(str(guides.fill(folder, "g", {"name": name}, renderer)))
    # every kind of space counts as a space, as it does in HTML
    assert seen.words.split() == f"a {name} b {name} c".split()
    assert [tag for tag, _ in seen.elements] == ["ul", "li", "strong"]


@pytest.mark.parametrize(
    "place",
    [
        "## {{ name }}",
        "- {{ name }}",
        "1. {{ name }}",
        "**{{ name }}**",
        "!!! danger\n    {{ name }}",
        "[{{ name }}](https://a.example)",
    ],
)
def test_a_name_stays_itself_wherever_a_guide_puts_it(fill, place: str) -> None:
    assert sample_book.NASTY in Seen(fill(place, name=sample_book.NASTY)).words


def test_a_filter_does_not_let_a_name_out(fill) -> None:
    seen = Seen(fill("{{ name|upper }} {{ '**' ~ name }}", name="*a* <b>"))
    assert seen.words == "*A* <B> ***a* <b>"
    assert [tag for tag, _ in seen.elements] == ["p"]


def test_a_guide_sets_tags_calls_and_lines(fill) -> None:
    html = fill(
        'Close {{ tag("W1") }}, call {{ call("555-0142", "tel:+15550142") }} or {{ who }}, '
        'read {{ go("gas", "gas") }}, do {{ strong("not") }} wait.',
        who=line("the ", Strong("plumber")),
    )
    assert '<a class="tag" href="#W1">W1</a>' in html
    assert '<a class="call" href="tel:+15550142">555-0142</a>' in html
    assert "the <strong>plumber</strong>" in html
    assert '<a class="go" href="#gas">gas</a>' in html
    assert "<strong>not</strong> wait" in html


def test_single_spans_and_numbers_can_be_printed(fill) -> None:
    seen = Seen(
        fill(
            "{{ tag_of }} {{ phone }} {{ n }}",
            tag_of=Tag("W1", "Main"),
            phone=Call("555-0142", "tel:+15550142"),
            n=3,
        )
    )
    assert seen.words == "W1 (Main) 555-0142 3"


def test_a_block_on_a_line_of_its_own_is_set_as_a_block(fill) -> None:
    html = fill("First.\n\n{{ steps }}\n\nLast.", steps=Steps((Step(line("Do it.")),)))
    assert "<p><ol" not in html
    assert '<ol class="steps">' in html


def test_a_block_inside_a_sentence_is_an_error(fill) -> None:
    with pytest.raises(OutputError, match="Steps inside a sentence"):
        fill("First {{ steps }}.", steps=Steps((Step(line("Do it.")),)))


def test_a_value_that_is_not_given_is_an_error(fill) -> None:
    with pytest.raises(OutputError, match="'plumber' is undefined"):
        fill("{{ plumber }}")


@pytest.mark.parametrize("value", [None, True, {"a": 1}, (1, 2)])
def test_what_is_not_a_text_is_never_printed(fill, value: object) -> None:
    with pytest.raises(OutputError, match="not a text"):
        fill("{{ value }}", value=value)


def test_html_in_a_guide_is_text(fill) -> None:
    seen = Seen(fill("a <b>c</b> < d & e\n\n<script>x</script>"))
    assert seen.words.replace("\n", "") == "a <b>c</b> < d & e<script>x</script>"
    assert [tag for tag, _ in seen.elements] == ["p", "p"]


def test_paragraphs_in_list_items_become_lines(fill) -> None:
    """PDF/UA: the only children of a list item are its label and its body (ISO 14289-1, 7.6)."""
    seen = Seen(fill("1. One.\n\n    More.\n\n2. Two.\n    - under\n\n    - under\n"))
    assert ("li", "p") not in seen.nesting
    assert ("li", "ul") in seen.nesting
    assert [tag for tag, _ in seen.elements] == [
        "ol", "li", "span", "br", "span", "li", "span", "ul", "li", "span", "li", "span"
    ]  # fmt: skip


def test_the_lines_under_an_items_first_are_quieter(fill) -> None:
    html = fill("1. *If so,* close it.\n\n    Where: there.\n\n    How: so.\n")
    assert "<li><span><em>If so,</em> close it.</span> <br>" in html
    assert html.count('<br><span class="aside">') == 2


def test_a_link_holds_text_alone(fill) -> None:
    seen = Seen(fill("[see **this** `one`](https://a.example)"))
    assert [tag for tag, _ in seen.elements] == ["p", "a"]
    assert seen.words == "see this one"


def test_headings_go_under_the_pages_own(fill) -> None:
    assert Seen(fill("## A\n\n### B")).elements == [("h3", {}), ("h4", {})]
    with pytest.raises(OutputError, match="begin with '##'"):
        fill("# A")


def test_a_panel_opens_with_its_signal_word(fill) -> None:
    html = fill("!!! danger\n    It explodes.")
    assert '<div class="admonition danger">' in html
    assert '<p class="admonition-title">Danger</p>' in html


def test_a_guide_outside_its_folder_is_refused(tmp_path: Path) -> None:
    renderer = Renderer("print", BookLinks(frozenset(), {}), Photos(tmp_path), 3, tmp_path)
    with pytest.raises(OutputError):
        guides.fill(tmp_path, "../secret", {}, renderer)


# --- notes of the house's own people ---


def test_a_note_keeps_paragraphs_lists_emphasis_and_safe_links() -> None:
    html = str(guides.note("A *b* **c**\n\n- d\n- [e](https://a.example) [f](tel:+15550100)"))
    assert [tag for tag, _ in Seen(html).elements] == [
        "p", "em", "strong", "ul", "li", "li", "a", "a"
    ]  # fmt: skip
    assert 'href="https://a.example"' in html
    assert 'href="tel:+15550100"' in html


def test_a_notes_headings_do_not_mix_with_the_pages() -> None:
    assert str(guides.note("# Big")) == "<p><strong>Big</strong></p>"
