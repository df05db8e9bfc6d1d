"""A note may hold anything; only harmless elements come out. The attacks are kinds listed in the
OWASP cross-site scripting filter evasion sheet (kinds only, from memory).
"""

from __future__ import annotations

from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.output import guides

ALLOWED = {"p", "em", "strong", "ul", "ol", "li", "br", "a", "span"}
ATTACKS = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "![x](https://a.example/x.png)",
    "[a](javascript:alert(1))",
    "[a](JaVaScRiPt:alert(1))",
    "[a](data:text/html,x)",
    "[a](file:///etc/passwd)",
    "[a](http://a.example/)",
    "<a href='https://a.example' onclick='x'>a</a>",
    "<a href=' &#14; javascript:x'>a</a>",
    "<p style='background:url(https://a.example)'>a</p>",
    "<svg><script>alert(1)</script></svg>",
    "<math><mtext><table><mglyph><style><img src=x onerror=alert(1)>",
    "<style>p{background:url(https://a.example)}</style>",
    "<iframe src=https://a.example></iframe>",
    "<link rel=attachment href=file:///etc/passwd>",
    "<base href=https://a.example>",
    "<!-- <p> --><p>x",
    "</div></main><form action=https://a.example><input>",
    "<<script>script>alert(1)<</script>/script>",
    "\ue0000\ue001",
]


class Elements(HTMLParser):
    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.depth = 0
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))
        self.depth += tag != "br"

    def handle_endtag(self, tag: str) -> None:
        self.depth -= 1
        assert self.depth >= 0  # a note cannot close what is around it


def harmless(html: str) -> None:
    elements = Elements(html)
    assert elements.depth == 0
    for tag, attributes in elements.found:
        assert tag in ALLOWED
        assert set(attributes) <= ({"href"} if tag == "a" else set()) | (
            {"class"} if tag == "span" else set()
        )
        assert attributes.get("class", "aside") == "aside"
        assert (attributes.get("href") or "https:").startswith(("https:", "tel:"))


@pytest.mark.parametrize("attack", ATTACKS)
def test_an_attack_in_a_note_comes_out_harmless(attack: str) -> None:
    harmless(str(guides.note(attack)))
    harmless(str(guides.note(f"before **{attack}** after\n\n- {attack}\n\n> {attack}")))


@given(st.text(alphabet="<>/\"'=ab *_[](){}&#;:!`-\n1.psvgimlcrt", max_size=60))
def test_any_note_comes_out_harmless_and_closed(note: str) -> None:
    harmless(str(guides.note(note)))
