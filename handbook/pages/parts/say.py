"""Says measures in the house's own units, and which kind of hole stands where one is missing."""

from dataclasses import dataclass

from handbook import measures
from handbook.house.house import House
from handbook.measures import Units
from handbook.pages.parts.phrases import NOT_RECORDED, said
from handbook.record.grammar.common import Run
from handbook.record.knowing import Absent


@dataclass(frozen=True)
class Say:
    """Says measures in the house's units; each takes a fact of any kind of knowing.

    `hole` is what stands for a fact that is not recorded.
    """

    units: Units
    hole: str = NOT_RECORDED

    @classmethod
    def of(cls, house: House, hole: str = NOT_RECORDED) -> "Say":
        """Return the sayer of a house."""
        return cls(house.record.house.units, hole)

    def length(self, fact: measures.Length | Absent | None) -> str:
        """Return a length as taped."""
        return said(fact, lambda it: measures.say_length(it, self.units), self.hole)

    def pressure(self, fact: measures.Pressure | Absent | None) -> str:
        """Return a water pressure."""
        return said(fact, lambda it: measures.say_pressure(it, self.units), self.hole)

    def gas_pressure(self, fact: measures.Pressure | Absent | None) -> str:
        """Return a gas pressure."""
        return said(fact, lambda it: measures.say_gas_pressure(it, self.units), self.hole)

    def flow(self, fact: measures.Flow | Absent | None) -> str:
        """Return a flow of water."""
        return said(fact, lambda it: measures.say_flow(it, self.units), self.hole)

    def temperature(self, fact: measures.Temperature | Absent | None) -> str:
        """Return a temperature."""
        return said(fact, lambda it: measures.say_temperature(it, self.units), self.hole)

    def heat(self, fact: measures.HeatRate | Absent | None) -> str:
        """Return a rate of heat."""
        return said(fact, lambda it: measures.say_heat_rate(it, self.units), self.hole)

    def volume(self, fact: measures.Volume | Absent | None) -> str:
        """Return a volume."""
        return said(fact, lambda it: measures.say_volume(it, self.units), self.hole)

    def slope(self, fact: measures.Slope | Absent | None) -> str:
        """Return a drain's fall."""
        return said(fact, lambda it: measures.say_slope(it, self.units), self.hole)

    def text(self, fact: object) -> str:
        """Return any other fact as it is written."""
        return said(fact, str, self.hole)

    def run(self, run: Run | None) -> str:
        """Return `22 ft of 3/4 in PEX`, with the holes in it said."""
        if run is None:
            return self.hole
        material = getattr(run, "material", None)
        parts = (self.length(run.length), self.text(run.size), self.text(material))
        if all(part == self.hole for part in parts):
            return self.hole
        length, size, made_of = (
            part if part != self.hole else f"({what} {self.hole})"
            for part, what in zip(parts, ("length", "size", "material"), strict=True)
        )
        return f"{length} of {size} {made_of}"
