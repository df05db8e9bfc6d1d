"""What each fixture gives at which flowing pressure, and what it needs.

A fixture is an opening whose flow grows with the square root of the pressure; its size comes from
the maker's own figure where the record has it, else from the flow and pressure that the codes
print for its kind.
"""

from dataclasses import dataclass

from handbook.house.house import House
from handbook.house.losses import outlet_k
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.water import Irrigation
from handbook.tables import table


@dataclass(frozen=True)
class Giving:
    """`gpm` at `psi`, wide open; `need_psi` is the least flowing pressure that the codes ask for.

    `constant` is a draw that goes on for long, such as a lawn's: it is no part of the demand by
    fixture units, but comes on top. `rated`: by its maker, as recorded; else by the code.
    """

    gpm: float
    psi: float
    need_psi: float | None
    constant: bool = False
    rated: bool = False

    @property
    def k(self) -> float:
        """The outlet's size: gpm = k sqrt(psi)."""
        return outlet_k(self.gpm, self.psi)


OPENED = frozenset(
    (
        "lavatory",
        "kitchen sink",
        "bar sink",
        "bathtub",
        "tub and shower",
        "shower",
        "bidet",
        "laundry tub",
        "hose bibb",
    )
)
"""What has a tap that a person opens and leaves open; a toilet or a machine has none."""


def opened_by_hand(house: House, owner: str) -> bool:
    """Whether a fixture has a tap that stays open by itself."""
    return house.items[owner].kind in OPENED


def giving(house: House, owner: str) -> Giving | None:
    """Return what a fixture gives; None where neither the record nor a table says it."""
    entry = house.items[owner].entry
    if not isinstance(entry, Fixture | Irrigation):
        return None
    kind = entry.kind if isinstance(entry, Fixture) else "irrigation"
    row = table("outlet_flows").values.get(kind)
    need = row["psi"] if row else None
    own = entry.delivers
    if own and own.flow.gpm and own.pressure.psi:
        counted = kind in table("fixture_units").values["fixtures"]
        return Giving(own.flow.gpm, own.pressure.psi, need, not counted, rated=True)
    return Giving(row["gpm"], row["psi"], need) if row else None
