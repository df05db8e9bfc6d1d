"""Says the plain numbers of an answer about flow in the units of the house."""

from fractions import Fraction

from handbook import measures
from handbook.answers.flowing.readings import Reading
from handbook.answers.flowing.speed_limits import SpeedLimit
from handbook.measures import Units


class FlowSay:
    """Says what is a plain number in an answer: psi, gpm, ft/s."""

    def __init__(self, units: Units) -> None:
        self.units = units

    def psi(self, value: float | None) -> str:
        """A pressure; below nothing it is nothing."""
        if value is None:
            return "-"
        return measures.say_pressure(measures.Pressure(max(0.0, value)), self.units)

    def gpm(self, value: float | None) -> str:
        """A flow."""
        return "-" if value is None else measures.say_flow(measures.Flow(value), self.units)

    def speed(self, value: float | None) -> str:
        """A speed."""
        if value is None:
            return "-"
        return measures.say_velocity(measures.Velocity(value), self.units)

    def marked(self, value: float | None, limit: SpeedLimit | None) -> str:
        """A speed with a mark: ! over its limit, ? where that hangs on what is not recorded."""
        over = limit.exceeded(value) if limit and value is not None else False
        return self.speed(value) + {True: " !", False: "", None: " ?"}[over]

    def height(self, feet: float | None) -> str:
        """A height, to the inch."""
        if feet is None:
            return "-"
        return measures.say_length(measures.Length(feet * 12), self.units, Fraction(1))

    def reading(self, found: Reading) -> str:
        """A pressure and, where known, the flow at it."""
        pressure = between(self.psi(found.pressure_psi), self.psi(found.kind_pressure_psi))
        if found.flow_gpm is None:
            return pressure
        return f"{pressure}; {between(self.gpm(found.flow_gpm), self.gpm(found.kind_flow_gpm))}"


def between(low: str, high: str) -> str:
    """Say a figure, or the two that it lies between where they are said differently."""
    return low if low == high else f"{low} to {high}"
