"""What stops a fixture's water sooner than its valve: the flap of a toilet."""

from collections.abc import Iterable

from handbook.pages.content import Line
from handbook.pages.words import plainly, sentences
from handbook.tables import table


def first_aid(kinds: Iterable[str]) -> tuple[Line, ...]:
    """Return a line for each of these kinds of fixture that has something to do first."""
    acts = table("before_the_valve").values
    known = dict.fromkeys(kind for kind in kinds if kind in acts)
    return tuple(_line(kind, acts[kind]) for kind in known)


def _line(kind: str, act: str) -> Line:
    name = plainly(kind).partition(" (")[0]
    return (f"If a {name} runs over: {sentences(act)}",)
