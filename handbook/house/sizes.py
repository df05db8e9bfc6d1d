"""Which row of a published table a recorded pipe size belongs to.

Tables are printed in inch names; a metric record writes `20 mm` for the pipe that they call
`3/4 in`. A nominal size is a name, so it is looked up and never converted.
"""

from functools import cache

from handbook.measures import MM_PER_INCH, Length, PipeSize, Units, say_length
from handbook.tables import table

SAME = 0.01
"""Inches: two nominal sizes closer than this are one."""


def trade_name(size: PipeSize) -> str:
    """Return the inch name of a size, such as `3/4 in`; its own text where it has no other."""
    if not size.text.endswith("mm"):
        return size.text
    for millimetres, name in _metric_names().items():
        if abs(size.inches * MM_PER_INCH - millimetres) < SAME * MM_PER_INCH:
            return name
    return size.text


@cache
def _metric_names() -> dict[int, str]:
    rows = table("nominal_sizes").values
    return {millimetres: name for name, metric in rows.items() for millimetres in metric}


def trade_inches(size: PipeSize) -> float:
    """Return the inches that the size's trade name says: 0.75 for `3/4 in` and for `20 mm`."""
    named = trade_name(size)
    if not named.endswith(" in"):
        return size.inches
    return inches_of(named)


def inches_of(name: str) -> float:
    """Return the inches of a name as tables print it: `1-1/4 in` is 1.25."""
    whole, _, part = name.removesuffix(" in").rpartition("-")
    top, _, bottom = part.partition("/")
    return float(whole or 0) + float(top) / float(bottom or 1)


def size_said(inches: float, units: Units) -> str:
    """Return a nominal size from a table as the house's people write it: `1-1/2 in`, `40 mm`.

    A size that has no metric name, or no trade name, is said as a length.
    """
    for name, metric in table("nominal_sizes").values.items():
        if abs(inches_of(name) - inches) < SAME:
            return name if units == "US" else f"{metric[0]} mm"
    return say_length(Length(inches), units)
