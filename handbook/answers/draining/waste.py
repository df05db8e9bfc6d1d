"""Which fixtures surely, and which possibly, drain through each stretch, and by which code.

Loads, trap arms and vents all ask it. A fixture whose way down is not recorded may pass any
stretch that its recorded way does not rule out; it is never left out silently.
"""

from dataclasses import dataclass
from functools import cached_property

from handbook.answers.draining.drain_capacity import Column
from handbook.answers.draining.drain_units import Code
from handbook.house.house import House
from handbook.record.grammar.common import each, given
from handbook.record.grammar.drains import Drains, Stretch
from handbook.record.grammar.fixtures import DrainConnection, Fixture


@dataclass(frozen=True)
class Waste:
    """A house's drains, read by a code."""

    house: House
    code: Code

    @cached_property
    def stretches(self) -> dict[str, Stretch]:
        """The stretches by id, in the order of the record."""
        drains = self.house.record.drains or Drains()
        return {stretch.id: stretch for stretch in each(drains.stretches)}

    @cached_property
    def fixtures(self) -> dict[str, Fixture]:
        """The fixtures that have a drain, or ought to have one that nobody recorded."""
        drained = self.house.drains.rims
        return {f.id: f for f in each(self.house.record.fixtures) if f.id in drained}

    def drain(self, fixture: Fixture) -> DrainConnection:
        """Return a fixture's own drain, with nothing known of it where it is not recorded."""
        return given(fixture.drain) or DrainConnection()

    def has_own_trap(self, fixture: Fixture) -> bool:
        """Whether its waste does not run through the trap of another fixture."""
        return self.drain(fixture).to not in self.fixtures

    def way(self, fixture: Fixture) -> tuple[str, ...]:
        """Return the stretches that a fixture's waste passes, as far as that is recorded."""
        way = self.house.drains.downhill(fixture.id)
        return tuple(name for name in way if name in self.stretches)

    def through(self, stretch: str) -> tuple[Fixture, ...]:
        """Return the fixtures whose waste passes a stretch, in walking order."""
        return tuple(self.fixtures[name] for name in self.house.drains.through(stretch))

    def astray(self, stretch: str) -> tuple[Fixture, ...]:
        """Return the fixtures of which the record does not rule out that they pass it."""
        tree, below = self.house.drains, self.house.drains.downhill(stretch)
        return tuple(
            fixture
            for fixture in self.fixtures.values()
            if stretch not in tree.downhill(fixture.id)
            and not tree.ends_known(fixture.id)
            and tree.downhill(fixture.id)[-1] not in below
        )

    def column(self, stretch: Stretch) -> Column | None:
        """Return the column of the capacity tables for a stretch; None where it is not recorded."""
        way = self.house.drains.downhill(stretch.id)
        for name in way:
            match self.stretches[name].kind:
                case "stack":
                    return "stack" if name == stretch.id else "branch"
                case "building drain" | "building sewer":
                    return "building drain"
                case None:
                    return None
        return "building drain" if self.stretches[way[-1]].to else None
