"""The form "which of these back up?" in a real browser: it gives the answers that Python gives,
works from a file and by the keyboard, and a page without script still has its table.
"""

from __future__ import annotations

import base64
import hashlib
import itertools
import re
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from test_phone_pages import AXE, LIGHTS, open_page

ROOT = Path(__file__).parents[2]
sys.path.append(str(ROOT / "tests" / "answers"))  # for the made-up houses

from drain_houses import RANCH, SPLIT, house  # noqa: E402

from handbook.answers.stoppage import stoppage  # noqa: E402
from handbook.house.house import House  # noqa: E402
from handbook.output.photos import Photos  # noqa: E402
from handbook.output.site import write_site  # noqa: E402
from handbook.pages.content import Book, Part, Site, Table  # noqa: E402
from handbook.pages.content import Page as HandbookPage  # noqa: E402
from handbook.pages.drain_groups import blocked_by_name  # noqa: E402
from handbook.pages.which_drains import PAGE, which_drains  # noqa: E402
from handbook.pages.words import situation  # noqa: E402

NASTY = '"><script>document.title = 1</script>'


def written(home: House, out: Path) -> Path:
    """Write a site of this page alone; the page that it leads to stands empty."""
    pages = (*which_drains(home), HandbookPage(situation("backup"), "A drain backs up", ()))
    book = Book("Handbook", "Made-up house", (), (Part("now", "Now", pages),))
    write_site(Site(book, ()), Photos(out), out / "pages")
    return out / "pages" / PAGE / "index.html"


@pytest.fixture(scope="module")
def ranch(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(house(RANCH), tmp_path_factory.mktemp("ranch"))


def tick(page: Page, home: House, backs_up: set[str], clear: set[str]) -> None:
    names = {fixture: home.items[fixture].name for fixture in home.drains.rims}
    for fixture, name in names.items():
        for words, wanted in (("backs up or is slow", backs_up), ("runs well", clear)):
            page.get_by_label(f"{name}: {words}").set_checked(fixture in wanted)


def shown(page: Page) -> list[str]:
    return [text for text in page.locator("[data-answer]:visible").all_inner_texts() if text]


def plain(line: tuple) -> str:
    from handbook.pages.content import plain as words

    return " ".join(words(line).split())


@pytest.mark.parametrize("text", [RANCH, SPLIT], ids=["ranch", "split"])
def test_every_set_of_signs_gets_the_answer_that_python_gives(
    text: str, tmp_path: Path, chromium: Browser
) -> None:
    """All 3^4 sets of signs: each of four drains backs up, runs well, or is not known."""
    home = house(text)
    page = open_page(chromium)
    page.goto(written(home, tmp_path).as_uri())
    fixtures = list(home.drains.rims)
    for signs in itertools.product(("up", "clear", ""), repeat=len(fixtures)):
        backs_up = {f for f, sign in zip(fixtures, signs, strict=True) if sign == "up"}
        clear = {f for f, sign in zip(fixtures, signs, strict=True) if sign == "clear"}
        tick(page, home, backs_up, clear)
        told = shown(page)
        if not backs_up:
            assert told == []
            continue
        (said,) = told
        answer = stoppage(home, sorted(backs_up), sorted(clear))
        if answer.stretches:
            expected = plain(blocked_by_name(home, answer))
            assert expected in " ".join(said.split()), (signs, said)
        else:
            assert said.startswith("No one blocked drain explains this.")
    page.close()


def in_sight(page: Page) -> list[str]:
    """The brief lines of answers that lie on the screen as it is scrolled now."""
    high = page.evaluate("innerHeight")
    lines = [line for line in page.get_by_role("status").locator("a").all() if line.is_visible()]
    boxes = [(line.inner_text(), line.bounding_box()) for line in lines]
    return [text for text, box in boxes if box and 0 <= box["y"] <= high - box["height"]]


def test_what_a_tick_changes_is_seen_without_scrolling(tmp_path: Path, chromium: Browser) -> None:
    page = open_page(chromium, width=390)
    page.set_viewport_size({"width": 390, "height": 640})
    page.goto(written(house(long_list()), tmp_path).as_uri())
    page.evaluate("document.querySelector('.signs').scrollIntoView()")
    assert in_sight(page) == []
    page.get_by_label("Toilet: backs up or is slow").check()
    answer = page.locator("[data-answer]:visible").bounding_box()
    assert answer is not None
    assert answer["y"] > 640  # the answer itself stands below the list
    (said,) = in_sight(page)
    assert said.startswith("Only this one, as far as you know: do the others run well?")
    page.get_by_label("Basin: backs up or is slow").check()
    (said,) = in_sight(page)
    assert said.startswith("Can be blocked: bath branch down to sewer.")
    page.get_by_label("Tub: runs well").check()
    (said,) = in_sight(page)
    assert said.startswith("Can be blocked: bath branch.")
    page.get_by_role("status").get_by_role("link").click()
    assert page.locator("[data-answer]:visible").get_by_text("Do now").is_visible()
    page.close()


def test_what_makes_another_rise_is_a_sign_too_and_neither_is_used(
    ranch: Path, chromium: Browser
) -> None:
    """Common practice, no source: one rises when another drains, as the pipe they share is
    blocked. In the ranch the toilet and the kitchen share M2 and S1."""
    page = open_page(chromium)
    page.goto(ranch.as_uri())
    page.get_by_label("One rises when another drains").check()
    page.get_by_label("Toilet: backs up or is slow").check()
    (said,) = shown(page)
    assert said.startswith("One rises when another drains: the pipe they share is blocked")
    page.get_by_label("Sink: backs up or is slow").check()
    (said,) = shown(page)
    assert "M2" in said
    assert "all of them" in said
    page.close()


def test_one_alone_asks_first_whether_the_others_run_well(ranch: Path, chromium: Browser) -> None:
    """Common practice, no source: one slow and the rest well is its own trap; a plunger first."""
    page = open_page(chromium)
    page.goto(ranch.as_uri())
    page.get_by_label("Sink: backs up or is slow").check()
    (said,) = shown(page)
    assert "Do the others run well? If they do: tick them and try a plunger." in said
    assert "use none of them until you do" in said
    assert "sewer" not in said.partition("Do not use")[0]
    page.close()


def long_list() -> str:
    """The ranch with so many sinks in its kitchen that the list is longer than a screen."""
    rows = RANCH.splitlines(keepends=True)
    sink = next(row for row in rows if "{id: sink," in row)
    more = [
        sink.replace("id: sink, name: Sink", f"id: sink-{n}, name: Sink {n}") for n in range(12)
    ]
    at = rows.index(sink)
    return "".join([*rows[:at], *more, *rows[at:]])


def test_a_box_that_gets_the_focus_is_not_under_the_line_in_sight(
    ranch: Path, chromium: Browser
) -> None:
    """WCAG 2.2, 2.4.11: a thing that has the focus is not entirely hidden."""
    page = open_page(chromium, width=390)
    page.set_viewport_size({"width": 390, "height": 400})
    page.goto(ranch.as_uri())
    page.get_by_label("Toilet: backs up or is slow").check()
    for _ in range(7):
        page.keyboard.press("Tab")
        line = page.get_by_role("status").bounding_box()
        box = page.locator(".signs input:focus").bounding_box()
        assert line is not None
        assert box is not None
        assert box["y"] + box["height"] <= line["y"] or line["y"] + line["height"] <= box["y"]
    page.close()


def test_the_form_is_worked_by_the_keyboard_alone(ranch: Path, chromium: Browser) -> None:
    page = open_page(chromium)
    page.goto(ranch.as_uri())
    page.get_by_label("Toilet: backs up or is slow").focus()
    page.keyboard.press("Space")
    assert "M1" in shown(page)[0]
    page.keyboard.press("Tab")  # to "runs well" of the same drain
    page.keyboard.press("Space")
    assert not page.get_by_label("Toilet: backs up or is slow").is_checked()
    assert shown(page) == []
    page.keyboard.press("Enter")  # nothing to submit, nothing to lose
    assert page.url == ranch.as_uri()
    page.close()


def test_without_script_the_table_stands_and_the_form_does_not_show(
    ranch: Path, chromium: Browser
) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(ranch.as_uri())
    assert not page.locator(".signs").is_visible()
    assert page.locator("caption", has_text="What to tell the plumber").is_visible()
    (made,) = which_drains(house(RANCH))
    (table,) = [block for block in made.blocks if isinstance(block, Table)]
    assert page.locator("table.data tbody tr").count() == len(table.rows)
    context.close()


def test_the_policy_allows_this_one_script_by_its_hash(ranch: Path) -> None:
    """W3C Content Security Policy Level 3, 2.3.1: a hash source is the base64 of the SHA-256 of
    the text between the tags."""
    html = ranch.read_text(encoding="utf-8")
    (script,) = re.findall(r"<script>(.*?)</script>", html, re.DOTALL)
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    (policy,) = re.findall(r'Content-Security-Policy" content="([^"]*)"', html)
    assert f"script-src 'sha256-{digest}';" in policy
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    assert html.count("<script") == 1


def test_pages_without_the_form_have_no_script(ranch: Path) -> None:
    for other in (ranch.parents[1] / "index.html", ranch.parents[1] / "if_backup" / "index.html"):
        html = other.read_text(encoding="utf-8")
        assert "<script" not in html
        assert "script-src" not in html


def test_any_other_script_does_not_run(ranch: Path, tmp_path: Path, chromium: Browser) -> None:
    html = ranch.read_text(encoding="utf-8")
    poisoned = tmp_path / "poisoned.html"
    poisoned.write_text(html.replace("<main>", "<main><script>document.title='run'</script>"))
    page = open_page(chromium)
    page.goto(poisoned.as_uri())
    assert page.title() != "run"
    page.close()


def test_a_name_full_of_markup_stays_a_name(tmp_path: Path, chromium: Browser) -> None:
    home = house(RANCH.replace("name: Toilet", f"name: '{NASTY}'"))
    page = open_page(chromium)
    page.goto(written(home, tmp_path).as_uri())
    page.get_by_label(f"{NASTY}: backs up or is slow").check()
    assert page.title() != "1"
    assert shown(page)
    page.close()


def test_nothing_is_asked_of_the_network_and_nothing_is_complained_of(
    ranch: Path, chromium: Browser
) -> None:
    page = open_page(chromium)
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(ranch.as_uri(), wait_until="load")
    page.get_by_label("Tub: backs up or is slow").check()
    page.close()
    assert said == []
    assert [url for url in asked if not url.startswith(ranch.parents[1].as_uri())] == []


@pytest.mark.parametrize("light", LIGHTS)
def test_axe_finds_nothing_before_and_after_an_answer(
    ranch: Path, chromium: Browser, axe: str, light: str
) -> None:
    page = open_page(chromium, light=light)
    page.goto(ranch.as_uri())
    page.evaluate(axe)
    found = [violation["id"] for violation in page.evaluate(AXE)["violations"]]
    page.get_by_label("Tub: backs up or is slow").check()
    found += [violation["id"] for violation in page.evaluate(AXE)["violations"]]
    page.close()
    assert found == []


def test_the_page_with_the_form_is_valid_html(ranch: Path, vnu: list[str]) -> None:
    done = subprocess.run(
        [*vnu, "--errors-only", str(ranch)],
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.stderr == ""


def test_boxes_are_large_enough_for_a_thumb_and_nothing_scrolls_sideways(
    ranch: Path, chromium: Browser
) -> None:
    """WCAG 2.2, 2.5.8: targets of 24 px or more."""
    page = open_page(chromium, width=320)
    page.goto(ranch.as_uri())
    boxes = [box.bounding_box() for box in page.locator(".signs input").all()]
    assert all(box and min(box["width"], box["height"]) >= 24 for box in boxes)
    page.get_by_label("Tub: backs up or is slow").check()
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.close()
