"""What equipment takes off the pressure: the maker's figure, a printed table, or two assumptions.

Where neither is at hand the loss lies between nothing and what such equipment takes at the most;
both are used, and both are said.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from handbook.house.hydraulics import Laws
from handbook.house.items import Item
from handbook.house.losses import NO_LOSS, Printed, Square
from handbook.house.naming import end_name, in_a_row
from handbook.house.sizes import trade_name
from handbook.record.grammar.common import LossAtFlow
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.water import Equipment, Meter, Softener
from handbook.tables import table

FREE: Laws = (NO_LOSS, NO_LOSS)
"""What costs nothing to speak of."""

_NAMED = 6
"""Up to so many things an assumption names one by one."""


@dataclass
class Assumed:
    """What was assumed, by sentence and for which things; and what is missing."""

    items: Mapping[str, Item]
    notes: dict[str, list[str]] = field(default_factory=dict)
    missing: dict[str, None] = field(default_factory=dict)

    def note(self, what: str, thing: str) -> None:
        """Keep an assumption that may be made for several things: `T4, T5: fittings not ...`."""
        self.notes.setdefault(what, []).append(thing)

    def name(self, thing: str) -> str:
        """Name a thing, or the end of a run, as a sentence does."""
        return end_name(self.items, thing)

    def sentence(self, said: str) -> None:
        """Keep an assumption that is a whole sentence."""
        self.notes.setdefault(said, [])

    def said(self) -> tuple[str, ...]:
        """Return the assumptions, each with its things."""
        return tuple(self._said())

    def _said(self) -> Iterator[str]:
        for what, things in self.notes.items():
            yield f"{_listed(self.name(each) for each in things)}: {what}." if things else what


def _listed(things: Iterator[str]) -> str:
    """Return the things, the first few by name where they are many."""
    names = list(dict.fromkeys(things))
    if len(names) <= _NAMED:
        return in_a_row(names)
    return f"{in_a_row(names[:3])} and {len(names) - 3} more"


def equipment_laws(entry: Equipment | Softener, kind: str, assumed: Assumed) -> Laws:
    """Return what equipment costs; kinds that cost nothing to speak of cost nothing."""
    if entry.loss is None and kind not in table("equipment_losses").values:
        return FREE
    return _recorded(entry.loss) or _bounded(entry.id, kind, assumed)


def heater_laws(heater: Heater, assumed: Assumed) -> Laws | None:
    """Return what a heater costs; None for a tank, which costs nothing to speak of."""
    if heater.loss is None and heater.kind != "tankless":
        return None
    return _recorded(heater.loss) or _bounded(heater.id, "tankless", assumed)


def meter_laws(meter: Meter, assumed: Assumed) -> Laws:
    """Return what a meter costs by its size: the most that the standard lets it."""
    rows = table("meter_loss").values["gpm_psi"]
    size = trade_name(meter.size) if meter.size else None
    if size not in rows:
        assumed.missing[f"the size of {meter.id}"] = None
        return _bounded(meter.id, "water meter", assumed)
    law = Printed(tuple((float(gpm), float(psi)) for gpm, psi in rows[size]))
    return law, law


def _recorded(loss: LossAtFlow | None) -> Laws | None:
    if loss is None or not loss.flow.gpm:
        return None
    law = Square(loss.loss.psi, loss.flow.gpm)
    return law, law


def _bounded(thing: str, kind: str, assumed: Assumed) -> Laws:
    most = table("equipment_losses").values[kind]
    said = f"takes between nothing and {most['psi']} psi at {most['gpm']} gpm (from memory)"
    assumed.note(said, thing)
    assumed.missing[f"what {thing} takes off the pressure (`loss`)"] = None
    return Square(most["psi"], most["gpm"]), NO_LOSS
