"""What must not run while water comes through: what drains, or drips, into what may leak."""

from collections.abc import Iterable

from handbook.answers.finding.hidden_pipes import Piped
from handbook.answers.serves import drained_through
from handbook.house.house import House
from handbook.house.items import Item
from handbook.record.grammar.safeguards import Condensate


def not_to_use(house: House, drains: Iterable[Piped]) -> tuple[str, ...]:
    """The fixtures whose waste passes one of these drains, in walking order."""
    used: set[str] = set()
    for drain in drains:
        used |= {item.id for item in drained_through(house, drain.thing)}
        if house.items[drain.thing].system == "fixture":
            used.add(drain.thing)
    return tuple(name for name in house.items if name in used)


def cooling(things: Iterable[Item]) -> tuple[str, ...]:
    """What drips into the condensate drains among these, as recorded, else the drain's name."""
    drains = [item for item in things if isinstance(item.entry, Condensate)]
    return tuple(getattr(item.entry, "serves", None) or item.name for item in drains)
