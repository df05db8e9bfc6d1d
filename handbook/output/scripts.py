"""The one script of the phone pages, set into the pages that need it and no others.

It stands in the page itself, so that it runs from a file too, and the page's Content Security
Policy allows nothing else: it names the script by its hash (W3C Content Security Policy 3).
"""

from __future__ import annotations

from base64 import b64encode
from dataclasses import dataclass
from hashlib import sha256

from markupsafe import Markup

from handbook import assets
from handbook.pages.content import Page, Signs


@dataclass(frozen=True)
class Script:
    """A script's text as it stands between its tags, and the source that the policy names."""

    text: Markup
    source: Markup


def script_of(page: Page) -> Script | None:
    """Return the script that a page needs; None for almost all pages."""
    if not any(isinstance(block, Signs) for block in page.blocks):
        return None
    text = (assets.templates() / "signs.js").read_text(encoding="utf-8")
    digest = b64encode(sha256(text.encode()).digest()).decode()
    return Script(Markup(text), Markup(f"'sha256-{digest}'"))
