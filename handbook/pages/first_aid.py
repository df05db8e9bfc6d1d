"""What stops a fixture's water sooner than its valve: the flap of a toilet."""

from collections.abc import Iterable

from handbook.pages.words import capital, plainly, sentences
from handbook.tables import table


def first_aid(kinds: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Return (kind in plain words, what to do) for each of these that has something to do."""
    acts = table("before_the_valve").values
    known = dict.fromkeys(kind for kind in kinds if kind in acts)
    return tuple((_name(kind), sentences(acts[kind])) for kind in known)


def _name(kind: str) -> str:
    return capital(plainly(kind).partition(" (")[0])
