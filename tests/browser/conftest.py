"""The sample's phone pages, a browser and the checkers; a tool that is missing fails the tests."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

ROOT = Path(__file__).parents[2]
sys.path.append(str(ROOT / "tests" / "print"))  # for the sample

import sample_book  # noqa: E402

from handbook.output.photos import Photos  # noqa: E402
from handbook.output.site import write_site  # noqa: E402

QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def tool(path: str | None, name: str) -> str:
    """The path of a tool, or a failure that says how to get it."""
    if path is None or not Path(path).exists():
        pytest.fail(f"{name} is missing: sh .dev/test installs what the tests need")
    return path


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    record = tmp_path_factory.mktemp("record")
    sample_book.write_photo(record)
    out = tmp_path_factory.mktemp("site") / "pages"
    write_site(sample_book.site(), Photos(record), out, sample_book.GUIDES)
    return out


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    path = tool(shutil.which("chromium"), "chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=QUIET)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def axe() -> str:
    """The text of axe-core, an accessibility checker."""
    path = tool(str(ROOT / "node_modules/axe-core/axe.min.js"), "axe-core")
    return Path(path).read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def vnu() -> list[str]:
    """The command of the Nu Html Checker."""
    jar = tool(str(ROOT / "node_modules/vnu-jar/build/dist/vnu.jar"), "vnu-jar")
    return [tool(shutil.which("java"), "java"), "-jar", jar]
