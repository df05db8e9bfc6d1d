"""What a run of water pipe holds, from the published volume of a foot of it.

The record's own bore goes first; then the plumbing code's table of volumes; then the bore that a
standard gives. A size or a material that is in none of them has no volume here.
"""

from math import pi

from handbook.house.sizes import trade_name
from handbook.measures import PipeSize, Volume
from handbook.record.grammar.common import WaterRun
from handbook.tables import table

IRON_SIZED = ("galvanized steel", "brass")
"""Made to iron pipe sizes; a brass nipple's bore is taken to be that of steel pipe."""


def volume(run: WaterRun) -> Volume | None:
    """Return what a run holds; None where its length is not recorded or no table has its pipe."""
    foot = gallons_per_foot(run)
    return None if foot is None or run.length is None else Volume(run.length.feet * foot)


def gallons_per_foot(run: WaterRun) -> float | None:
    """Return the gallons in a foot of a run's pipe; None where no table has it."""
    if run.bore is not None:
        return _by_bore(run.bore.inches)
    if run.size is None or run.material is None:
        return None
    printed, size = table("pipe_volumes").values, trade_name(run.size)
    ounces = printed["ounces_per_ft"].get(run.material, {}).get(size)
    if ounces is not None:
        return float(ounces / printed["ounces_per_gallon"])
    bore = bore_of(run.material, run.size)
    return None if bore is None else _by_bore(bore)


def bore_of(material: str, size: PipeSize) -> float | None:
    """Return the bore in inches that a standard gives for a material and a size."""
    name = "iron_pipe_bores" if material in IRON_SIZED else "pipe_bores"
    rows = table(name).values
    rows = rows["inches"] if material in IRON_SIZED else rows.get(material, {})
    bore: float | None = rows.get(trade_name(size))
    return bore


def _by_bore(inches: float) -> float:
    """Return gallons per foot: a cylinder 12 in long, 231 cubic inches to the gallon."""
    per_gallon = table("iron_pipe_bores").values["cubic_inches_per_gallon"]
    return float(pi / 4 * inches**2 * 12 / per_gallon)
