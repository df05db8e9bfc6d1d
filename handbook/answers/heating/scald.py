"""How soon water of a temperature burns: read from the published table, never more kindly."""

from dataclasses import dataclass

from handbook.measures import Temperature
from handbook.tables import table


@dataclass(frozen=True)
class Scald:
    """After how many seconds an adult's skin blisters. `sooner`: the table ends below the water's
    temperature, and it takes less than this."""

    seconds: int
    sooner: bool


def scald(water: Temperature) -> Scald:
    """Return the time of the table's next row up, so that it is never too long."""
    rows = table("scald").values
    hotter = [seconds for fahrenheit, seconds in rows if fahrenheit >= water.fahrenheit]
    return Scald(hotter[0], sooner=False) if hotter else Scald(rows[-1][1], sooner=True)
