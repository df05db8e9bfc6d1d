"""Published values as data files, each with its source, loaded here and nowhere else.

A table is a YAML file in this folder:

    title:  what it holds, for the page "where the numbers come from"
    source: document, edition, table or section; or "common practice, no source"
    seen:   true if the values were read in that source, false if they are stated from memory
    values: the values themselves; a unit stands in the key's name (`setting_max_f`)
"""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml


@dataclass(frozen=True)
class Table:
    """One published table. `values` is as in the file; treat it as read-only."""

    name: str
    title: str
    source: str
    seen: bool
    values: Any

    @property
    def cited(self) -> str:
        """The source as it is printed: with a word where it was not seen."""
        return self.source if self.seen else f"{self.source} (stated from memory)"


@cache
def table(name: str) -> Table:
    """Load the table of that name. Raises FileNotFoundError for a name that is not there."""
    text = files(__name__).joinpath(f"{name}.yaml").read_text(encoding="utf-8")
    said = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    return Table(name, said["title"], said["source"], said["seen"], said["values"])


def names() -> tuple[str, ...]:
    """Return the names of all tables, in alphabetical order."""
    found = (entry.name for entry in files(__name__).iterdir())
    return tuple(sorted(name.removesuffix(".yaml") for name in found if name.endswith(".yaml")))
