"""The riser diagrams: water and drains, each a page with what the record leaves open."""

from collections.abc import Iterator
from dataclasses import replace

from handbook.house.house import House
from handbook.pages.content import Block
from handbook.pages.riser.content import Charted, Riser
from handbook.pages.riser.drains import drain_riser, unlevelled_main_line
from handbook.pages.riser.water import water_riser
from handbook.pages.words import listed
from handbook.record.grammar.common import each

NOT_TO_SCALE = "Not to scale: lengths are drawn as they have room."
SPREAD = "Positions that are not recorded are spread evenly"
MOST_NAMED = 12
"""How many things a note lists by their tags before it counts them."""


def water_diagram(house: House) -> tuple[Block, ...]:
    """Return the riser diagram of the water; nothing where no pipe of it is recorded."""
    charted = water_riser(house) if each(house.record.fixtures) else None
    if charted is None or not charted.riser.pipes:
        return ()
    said = [*house.water.assumed.values(), *house.water.placed.values()]
    return (_noted(house, charted, "supply", said),)


def drain_diagram(house: House) -> tuple[Block, ...]:
    """Return the riser diagram of the drains; nothing where no pipe of them is recorded."""
    charted = drain_riser(house)
    if charted is None or not charted.riser.pipes:
        return ()
    said = []
    if deep := unlevelled_main_line(house):
        said.append(
            f"How deep {listed(deep)} {'lies' if len(deep) == 1 else 'lie'} is not recorded, "
            "drawn under the lowest floor."
        )
    if any(pipe.line == "vent" for pipe in charted.riser.pipes):
        said.append(
            "A vent is drawn to the lowest drains that it serves; the table lists them all."
        )
    return (_noted(house, charted, "drain", said),)


def _noted(house: House, charted: Charted, what: str, said: list[str]) -> Riser:
    """Return the diagram with its notes under it."""
    return replace(charted.riser, notes=(*_notes(house, charted, what), *said))


def _notes(house: House, charted: Charted, what: str) -> Iterator[str]:
    spread = _tags(charted.no_place)
    yield f"{NOT_TO_SCALE} {SPREAD}{': ' + spread if spread else ''}."
    if charted.no_level:
        yield (
            "Level not recorded, drawn on that of what they are joined to: "
            f"{_tags(charted.no_level)}."
        )
    if charted.unjoined:
        names = listed(house.items[thing].name for thing in charted.unjoined)
        yield f"Not in the diagram, because no {what} is recorded for it: {names}."


def _tags(things: tuple[str, ...]) -> str:
    """Return things by their ids, or how many there are."""
    return listed(things) if len(things) <= MOST_NAMED else f"{len(things)} of them"
