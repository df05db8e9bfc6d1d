"""A record become a house: its things, its places and its networks, ready to be asked."""

from collections.abc import Hashable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from handbook.house.drains import DrainTree, drain_tree
from handbook.house.floor_plan import FloorPlan
from handbook.house.gas import GasTree, gas_tree
from handbook.house.hydraulic_draft import hydraulics
from handbook.house.hydraulics import Hydraulics
from handbook.house.items import Item, items
from handbook.house.places import Places, places
from handbook.house.surveying import draw
from handbook.house.water import WaterSystem, water_system
from handbook.record.grammar.people import Person, Role
from handbook.record.grammar.record import Record


@dataclass(frozen=True)
class House:
    """An immutable house. `folder` is where the record's photos are looked for."""

    record: Record
    folder: Path
    kept: dict[Hashable, Any] = field(default_factory=dict, compare=False, repr=False)
    """Answers that have been worked out, by question (see `once`)."""

    @cached_property
    def items(self) -> dict[str, Item]:
        """Everything with an id, in walking order."""
        return items(self.record)

    @cached_property
    def places(self) -> Places:
        """Levels and rooms."""
        return places(self.record)

    @cached_property
    def plan(self) -> FloorPlan:
        """The rooms, doors and stairs as somebody walks them."""
        return draw(self.record, self.places)

    @cached_property
    def water(self) -> WaterSystem:
        """The water network."""
        return water_system(self.record)

    @cached_property
    def hydraulics(self) -> Hydraulics:
        """The water network with its lengths, bores, heights and losses."""
        return hydraulics(self.record, self.places, self.items, self.water)

    @cached_property
    def drains(self) -> DrainTree:
        """The drain tree."""
        return drain_tree(self.record, self.places)

    @cached_property
    def gas(self) -> GasTree:
        """The gas line."""
        return gas_tree(self.record)

    def person(self, role: Role) -> Person | None:
        """Return the first person recorded for a role, or None."""
        return next((p for p in self.record.people or () if p.role == role), None)

    def where(self, thing: str) -> str | None:
        """Return the place of a thing in words, or None where it is not recorded."""
        item = self.items.get(thing)
        return self.places.say(item.place) if item else None

    def called(self, thing: str) -> str:
        """Return `W4 (Hall bath shutoff)`, or the id alone for a thing without a name."""
        item = self.items.get(thing)
        return f"{thing} ({item.name})" if item else thing


def build(record: Record, folder: Path) -> House:
    """Build the house of a record that has been read and checked."""
    return House(record, folder)
