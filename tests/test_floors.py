"""Floors import downward only, and each library stays on the floor that it is for."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import handbook

ROOT = Path(handbook.__file__).parent

FLOORS = (
    {"measures", "assets"},
    {"tables"},
    {"record"},
    {"house"},
    {"answers"},
    {"rules"},
    {"pages"},
    {"output"},
    {"loading"},
    {"__init__"},
    {"cli"},
    {"__main__"},
)

LIBRARIES = {
    "weasyprint": {"output/pdf.py"},
    "jinja2": {"output"},
    "markdown": {"output"},
    "nh3": {"output"},
    "qrcode": {"output"},
    "PIL": {"output"},
    "fontTools": {"output"},
    "pydantic": {"record"},
    "pydantic_core": {"record"},
    "yaml": {"record", "tables"},
    "networkx": {"house", "answers"},
    "numpy": {"answers"},
    "shapely": {"house", "answers"},
    "click": {"cli"},
    "rich": {"cli/building.py"},
}


def modules() -> list[Path]:
    return sorted(path for path in ROOT.rglob("*.py") if not path.parts[-2].startswith("_"))


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def floor_of(name: str) -> int:
    return next(number for number, names in enumerate(FLOORS) if name in names)


def floor_of_file(path: Path) -> int:
    return floor_of(path.relative_to(ROOT).parts[0].removesuffix(".py"))


def floor_imported(name: str) -> int | None:
    parts = name.split(".")
    if parts[0] != "handbook":
        return None
    known = {n for names in FLOORS for n in names}
    return floor_of(parts[1]) if len(parts) > 1 and parts[1] in known else None


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(ROOT)))
def test_a_module_imports_from_its_own_floor_and_those_below(path: Path) -> None:
    own = floor_of_file(path)
    above = [n for n in imported(path) if (f := floor_imported(n)) is not None and f > own]
    assert not above


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(ROOT)))
def test_a_library_is_imported_only_on_the_floor_it_is_for(path: Path) -> None:
    here = path.relative_to(ROOT)
    for name in imported(path):
        allowed = LIBRARIES.get(name.split(".")[0])
        assert allowed is None or {str(here), here.parts[0]} & allowed, f"{here} imports {name}"


def test_every_module_opens_with_a_docstring() -> None:
    bare = [p for p in modules() if not ast.get_docstring(ast.parse(p.read_text("utf-8")))]
    assert not bare


def test_the_top_level_holds_what_was_agreed_and_nothing_else() -> None:
    agreed = {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "LICENSE",
        "handbook",
        "templates",
        "tests",
        "example_house",
    }
    made = {"out", "build", "dist", "node_modules"}  # by the two commands; ignored by git
    found = {p.name for p in ROOT.parent.iterdir() if not p.name.startswith(".")}
    assert {name for name in found if not name.endswith(".egg-info")} - made == agreed
