"""The figures of a record that have bounds, and those that no house can have: slips of the pen.

Which field has which bounds stands in the grammar (`Within`), the bounds in `bounds`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from handbook.record import shapes
from handbook.record.bounds import Bounds, Parse, Within, bounds, meant, size
from handbook.record.entry import Entry, key_of
from handbook.record.knowing import ABSENT
from handbook.record.problems import Mark, Problem
from handbook.record.reads import Reads


@dataclass(frozen=True)
class Figure:
    """One figure: whose it is (`owner`, an id), the keys that lead to it, and its bounds."""

    owner: str | None
    keys: tuple[str, ...]
    value: Any
    parse: Parse
    bounds: Bounds
    mark: Mark
    is_anothers: bool = False
    """Whether houses commonly have it at a thing of another kind: then no slip of the pen is
    guessed at, for it was read off something."""

    @property
    def named(self) -> str:
        """The keys as `check` writes them, and whose they are: "the `cold: by: size` of `S1`"."""
        return f"the `{': '.join(self.keys)}`" + (f" of `{self.owner}`" if self.owner else "")

    @property
    def text(self) -> str:
        """The figure as it was written."""
        return getattr(self.value, "text", "") or f"{size(self.value):g}"

    @property
    def meant(self) -> str:
        """What may have been meant, as a question; empty where no slip explains it."""
        if self.is_anothers:
            return ""
        like = meant(self.text, self.parse, self.bounds)
        return f"did you mean {' or '.join(f'`{each}`' for each in like)}?" if like else ""

    @property
    def limit(self) -> str:
        """The bound that it is beyond, in words."""
        low, high = self.bounds.least, self.bounds.most
        is_low = size(self.value) < size(low)
        bound = low if is_low else high
        return f"at {'least' if is_low else 'most'} {getattr(bound, 'text', '') or bound}"


def check_figures(record: Entry) -> Iterator[Problem]:
    """Yield a problem for each figure that cannot be."""
    for figure in figures(record):
        if not figure.bounds.hold(figure.value):
            message = f"{figure.named} cannot be {figure.text}: {figure.bounds.why}"
            usual = "write what was measured or what its badge says, with the unit"
            if figure.is_anothers:
                usual = f"it is {figure.limit} here: measure again, and look that `kind` is right"
            yield Problem(figure.mark, message, figure.meant or usual)


def figures(entry: Entry, owner: str | None = None, keys: tuple[str, ...] = ()) -> Iterator[Figure]:
    """Yield every figure with bounds of an entry and of those inside it."""
    own = getattr(entry, "id", None)
    owner, keys = (own, ()) if isinstance(own, str) else (owner, keys)
    bounded, kind = _bounded(type(entry)), getattr(entry, "kind", None) or ""
    for name in type(entry).model_fields:
        value, here = getattr(entry, name), (*keys, key_of(name))
        if name in bounded and value is not None and value is not ABSENT:
            parse, within = bounded[name]
            limits = bounds(within, parse, kind)
            every = bounds(within, parse)
            other = limits != every and every.are_usual(value) and not limits.are_usual(value)
            yield Figure(owner, here, value, parse, limits, entry.mark_of(name), other)
        for part in value if isinstance(value, tuple) else (value,):
            if isinstance(part, Entry):
                yield from figures(part, owner, here)


@cache
def _bounded(model: type[Entry]) -> dict[str, tuple[Parse, str]]:
    """Return the fields that have bounds: how each reads its text, and the bounds' name."""
    found = {}
    for name, field in model.model_fields.items():
        parts = tuple(shapes.parts_of(field))
        within = next((p.name for p in parts if isinstance(p, Within)), None)
        reads = next((p for p in parts if isinstance(p, Reads)), None)
        if within and reads:
            found[name] = reads.parse, within
    return found
