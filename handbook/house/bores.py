"""The true bore of a water pipe from its material and nominal size, and the next size up.

A bore is a pair, narrow and wide: they differ only where one name covers two pipes. PE is sold in
copper-tube sizes and in iron pipe sizes, and the record seldom says which; then both are reckoned
with. Brass is taken as pipe of Schedule 40, which its makers follow.
"""

from functools import cache

from handbook.house.sizes import inches_of, trade_name
from handbook.record.grammar.common import WaterRun
from handbook.tables import table

Bores = tuple[float, float]

_SCHEDULE_40 = ("galvanized steel", "PVC", "brass")


def bores(run: WaterRun) -> Bores | None:
    """Return (narrow, wide) in inches; None where size or material say too little."""
    if run.bore is not None:
        return run.bore.inches, run.bore.inches
    if run.size is None or run.material is None:
        return None
    return _bores(run.material, trade_name(run.size))


def _bores(material: str, size: str) -> Bores | None:
    columns = _columns(material)
    if any(size not in column for column in columns):
        return None
    found = [column[size] for column in columns]
    return min(found), max(found)


@cache
def _columns(material: str) -> tuple[dict[str, float], ...]:
    schedule_40 = table("iron_pipe_bores").values["inches"]
    if material in _SCHEDULE_40:
        return (schedule_40,)
    if material == "PE":
        return (table("pipe_bores_from_memory").values["PE"], schedule_40)
    if material == "CPVC":
        return (table("pipe_bores_from_memory").values["CPVC"],)
    return (table("pipe_bores").values[material],)


def next_size(run: WaterRun) -> tuple[str, Bores] | None:
    """Return the next nominal size up that the tables have of this material, and its bores.

    One for which no fitting is printed, such as 5/8 in, is passed over: its cost is not known.
    """
    if run.size is None or run.material is None:
        return None
    now = inches_of(trade_name(run.size)) if trade_name(run.size).endswith(" in") else None
    fitted = set(table("fitting_lengths").values["sizes"])
    sizes = sorted(fitted.intersection(_columns(run.material)[0]), key=inches_of)
    for size in sizes:
        found = _bores(run.material, size)
        if now is not None and found and inches_of(size) > now:
            return size, found
    return None


def roughness(run: WaterRun) -> float | None:
    """Return Hazen-Williams C of a run's material."""
    found: dict[str, float] = table("roughness").values
    return found[run.material] if run.material else None
