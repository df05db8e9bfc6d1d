"""Where a thing's supply may fail, and how wide: its ends of pipe, each with the bore of the hole.

A fixture's supply parts at its end, a washer's hose splits off; anything else bursts with the bore
of the pipe that ends at it.
"""

from collections.abc import Iterator

from handbook.answers.flowing.pipe_volume import bore_of
from handbook.answers.isolating.targets import PIPE_TO
from handbook.house.house import House
from handbook.record.grammar.common import WaterRun, given
from handbook.record.grammar.fixtures import WaterConnection
from handbook.tables import table

SIDES = ("cold", "hot")


def failed_ends(house: House, thing: str) -> Iterator[tuple[str, float]]:
    """Yield each end of pipe and its bore in inches; one with no known bore is left out."""
    item = house.items.get(thing)
    ways = table("spill_ways").values
    hose = item is not None and getattr(item.entry, "kind", None) in ways["hose_kinds"]
    for at, run in _ends(house, thing):
        bore = ways["hose_bore_in"] if hose else _bore(run)
        if bore is not None:
            yield at, bore


def _ends(house: House, thing: str) -> Iterator[tuple[str, WaterRun | None]]:
    item = house.items.get(thing)
    sides = [(s, getattr(item.entry, s, None)) for s in SIDES] if item else []
    connections = [(s, found) for s, c in sides if isinstance(found := given(c), WaterConnection)]
    for side, connection in connections:
        yield f"{thing}.{side}", connection.by
    if not connections:
        for stretch in house.hydraulics.stretches.values():
            if thing in (stretch.thing, PIPE_TO + stretch.thing):
                yield stretch.id, stretch.run


def _bore(run: WaterRun | None) -> float | None:
    if run is None:
        return None
    if run.bore is not None:
        return run.bore.inches
    return bore_of(run.material, run.size) if run.material and run.size else None
