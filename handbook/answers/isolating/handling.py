"""How a valve is turned: in the record's own words, else as its kind is turned."""

from typing import Literal

from handbook.record.grammar.common import Handle
from handbook.tables import table

TURNED_BACK = "turn it back the other way"
"""What opens a valve of which the record says in its own words only how it is closed."""


def handling(handle: Handle, way: Literal["close", "open"]) -> str | None:
    """Return how it is turned, without a full stop; None where nothing says it."""
    if way == "close" and handle.turn:
        return handle.turn
    if way == "open" and (handle.back or handle.turn):
        return handle.back or TURNED_BACK
    known: str | None = table("valves").values.get(handle.kind or "", {}).get(way)
    return known
