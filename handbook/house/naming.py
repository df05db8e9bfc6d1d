"""How a sentence about the pipes names what it speaks of: a tag as it hangs, a fixture by its name.

`W5`, `T9 from T4`, `WH1 (cold)`, `Shower, primary bath (hot)`.
"""

from collections.abc import Iterable, Mapping

from handbook.house.items import Item


def end_name(items: Mapping[str, Item], end: str) -> str:
    """Name a thing, or one of its connections, by its id: `hall-lav`, `hall-lav.cold`."""
    thing, _, side = end.partition(".")
    item = items.get(thing)
    name = item.name if item and item.system == "fixture" else thing
    return f"{name} ({side})" if side else name


def in_a_row(names: Iterable[str]) -> str:
    """Return names in a row, with semicolons where one of them has a comma in it."""
    row = list(names)
    return ("; " if any("," in name for name in row) else ", ").join(row)
