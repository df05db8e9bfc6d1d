"""How fast water should run in a pipe at its peak demand, and who says so."""

from typing import Literal

from handbook.record.grammar.common import WaterRun
from handbook.tables import table

PLASTIC = ("PEX", "CPVC", "PE", "PVC")
PipeKind = Literal["metal", "plastic"]
KINDS: tuple[PipeKind, ...] = ("metal", "plastic")


def velocity_limit(run: WaterRun | None) -> float | None:
    """Return the fastest that water should run in this pipe, in ft/s; None: material unknown."""
    if run is None or run.material is None:
        return None
    return velocity_limit_of("plastic" if run.material in PLASTIC else "metal")


def velocity_limit_of(kind: PipeKind) -> float:
    """Return the fastest that water should run in pipe of that kind, in ft/s."""
    fastest: float = table("velocity_limits").values[kind]
    return fastest


def whose_limit(kind: PipeKind) -> str:
    """Return who sets that limit."""
    whose: str = table("velocity_limits").values["whose"][kind]
    return whose
