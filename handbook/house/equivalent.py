"""What fittings and valves cost, as feet of the pipe that they are in.

Counted fittings take their printed lengths. Where nobody counted them, a share of the run's
length is added, and the answer says so. An insert fitting narrows the way; where its bore is
recorded, its length counts as pipe of that bore, turned into pipe of the run's own.
"""

from dataclasses import dataclass

from handbook.house.sizes import trade_name
from handbook.record.grammar.common import Fittings, Handle, WaterRun
from handbook.tables import table

_COUNTED = ("ell_90", "ell_45", "tee_run", "tee_branch", "coupling")


@dataclass(frozen=True)
class Extra:
    """Feet to add to a run; `unprinted` names what the tables have no figure for."""

    feet: float
    unprinted: tuple[str, ...] = ()


def counted(run: WaterRun) -> bool:
    """Whether the fittings of a run were counted."""
    return run.fittings is not None and any(
        getattr(run.fittings, kind) is not None for kind in _COUNTED
    )


def fittings(run: WaterRun, bore: float) -> Extra:
    """Return what a run's fittings cost; `bore` is the pipe's own, in inches."""
    narrowing = _narrowing(run.fittings, bore)
    if not counted(run):
        share: float = table("fitting_allowance").values["share_of_length"]
        return Extra(share * (run.length.feet if run.length else 0.0) * narrowing)
    feet, unprinted = 0.0, []
    for kind in _COUNTED:
        count = getattr(run.fittings, kind) or 0
        each = _printed(run, kind)
        if count and each is None:
            unprinted.append(kind.replace("_", " "))
        feet += count * (each or 0.0)
    return Extra(feet * narrowing, tuple(unprinted))


def _narrowing(found: Fittings | None, bore: float) -> float:
    if found is None or found.bore is None or not 0 < found.bore.inches < bore:
        return 1.0
    power: float = table("friction").values["bore_power"]
    narrowing: float = (bore / found.bore.inches) ** power
    return narrowing


def _printed(run: WaterRun, kind: str) -> float | None:
    """Return the feet of one fitting of this run's size and make; None where not printed."""
    if run.material is None or run.size is None:
        return None
    values = table("fitting_lengths").values
    return _in_row(values, values[values["style"][run.material]].get(kind), trade_name(run.size))


def valve(handle: Handle | None, run: WaterRun, bore: float) -> Extra:
    """Return what the valve at the end of a run costs while it is open."""
    if handle is None or run.size is None:
        return Extra(0.0)
    values = table("valve_lengths").values
    kind = values["kinds"].get(handle.kind)
    if kind == "full open":
        return Extra(0.0)
    if kind == "globe":
        return Extra(values["globe_bores"] * bore / 12)
    feet = _in_row(values, values.get(kind), trade_name(run.size)) if kind else None
    if feet is not None:
        return Extra(feet)
    return Extra(0.0, (handle.kind or "valve of a kind not recorded",))


def _in_row(values: dict[str, list[str]], row: list[float] | None, size: str) -> float | None:
    if row is None or size not in values["sizes"]:
        return None
    return row[values["sizes"].index(size)]
