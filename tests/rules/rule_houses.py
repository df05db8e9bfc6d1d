"""The base house, and how a rule's example is laid over it.

An example is a piece of a record. Its sections are merged into the base's; in a list, an entry
with the id (or the role) of one in the base takes its place, and any other is added.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from handbook.house.house import House, build
from handbook.record.grammar.record import Record
from handbook.record.reading import read_text
from handbook.record.sense import check_ids, check_sense
from handbook.rules.documentation import examples

HERE = Path(__file__).parent
FILE = "house.yaml"

Tree = dict[str, Any]


def tree_of(text: str) -> Tree:
    """Read YAML with every scalar as text, as the reader does."""
    tree: Tree = yaml.load(text, Loader=yaml.BaseLoader)
    return tree


def base() -> Tree:
    return tree_of((HERE / "base.yaml").read_text(encoding="utf-8"))


def example(rule: str) -> Tree:
    return tree_of(examples()[rule])


def broken(rule: str) -> Tree:
    return laid_over(base(), tree_of(examples()[rule]))


def laid_over(under: Tree, over: Tree) -> Tree:
    merged = dict(under)
    for key, value in over.items():
        below = merged.get(key)
        if isinstance(value, dict) and isinstance(below, dict) and "id" not in value:
            merged[key] = laid_over(below, value)
        elif isinstance(value, list) and isinstance(below, list):
            merged[key] = _replaced(below, value)
        else:
            merged[key] = value
    return merged


def _replaced(below: list[Any], above: list[Any]) -> list[Any]:
    by_name = {_name(entry): entry for entry in above}
    kept = [by_name.pop(_name(entry), entry) for entry in below]
    return [*kept, *by_name.values()]


def _name(entry: Any) -> object:
    return entry.get("id") or entry.get("role") or id(entry)


def house_of(tree: Tree, folder: Path) -> House:
    """Write the tree as YAML and read it as a record is read, so that its things have places."""
    text = yaml.safe_dump(tree, sort_keys=False, width=1000, allow_unicode=True)
    return build(read_text(text, FILE, Record, (check_ids, check_sense)), folder)


Way = tuple[str | int, ...]


def paths(tree: Any, at: Way = ()) -> Iterator[Way]:
    """Yield the way to each key, through the lists that hold it; never to an `id` or a `file`."""
    if isinstance(tree, dict):
        for key, value in tree.items():
            if key in ("id", "file"):
                continue  # without it there is no thing, or no photo
            yield (*at, key)
            yield from paths(value, (*at, key))
    elif isinstance(tree, list):
        for index, value in enumerate(tree):
            yield from paths(value, (*at, index))


def with_unknown(tree: Any, path: Way) -> Any:
    """Return the tree with `unknown` in place of what stands at `path`: not recorded."""
    first, *rest = path
    copy: Any = dict(tree) if isinstance(tree, dict) else list(tree)
    copy[first] = with_unknown(copy[first], tuple(rest)) if rest else "unknown"
    return copy
