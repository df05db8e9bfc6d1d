"""The gas line: from the meter or the tank to every appliance and stub."""

from typing import Literal

from pydantic import Field

from handbook.record.entry import Entry
from handbook.record.fields import Distance, HeatRate, Known, Maybe, Pressure, Ref, Text, YesNo
from handbook.record.grammar.common import GasRun, Handle, Stop, Thing
from handbook.record.grammar.fixtures import GasConnection


class GasFed(Thing):
    """A thing on the gas line, pointing at what feeds it."""

    from_: Known[Ref] = None
    by: Known[GasRun] = None


class GasMeter(Thing):
    """The utility's meter (or the propane tank) and its own shutoff."""

    kind: Known[Literal["meter", "tank"]] = None
    capacity: Known[Text] = Field(None, description="the class on its badge")
    delivers: Known[Text] = Field(None, description="pressure behind its regulator, as on the tag")
    shutoff: Maybe[Stop] = None


class Regulator(GasFed):
    """A second regulator inside the line."""

    inlet: Known[Pressure] = None
    outlet: Known[Text] = None
    vent: Maybe[Text] = None


class GasTee(GasFed):
    """Where the gas line divides."""


class GasValve(GasFed, Handle):
    """A shutoff in the gas line."""

    main: YesNo = False


class GasOutlet(GasFed):
    """An outlet stubbed and capped for later."""

    shutoff: Maybe[Stop] = None
    capped: Maybe[YesNo] = None
    meant_for: Known[Text] = None
    input: Known[HeatRate] = Field(None, description="the input that it was sized for")


class Appliance(Thing):
    """An appliance that burns gas and is not a fixture or a water heater."""

    kind: Literal["furnace", "boiler", "range", "dryer", "fireplace", "grill", "other"]
    gas: Maybe[GasConnection] = None
    breaker: Maybe[Text] = None
    vent: Maybe[Text] = Field(None, description="where its flue ends")
    model: Known[Text] = None


class Gas(Entry):
    """The fuel gas system."""

    fuel: Known[Literal["natural gas", "propane"]] = None
    meter: Known[GasMeter] = None
    regulators: Maybe[tuple[Regulator, ...]] = None
    tees: Known[tuple[GasTee, ...]] = None
    valves: Maybe[tuple[GasValve, ...]] = None
    outlets: Maybe[tuple[GasOutlet, ...]] = None
    appliances: Known[tuple[Appliance, ...]] = None
    bonding: Maybe[Text] = None
    drop: Known[Pressure] = Field(
        None, description="pressure drop that the pipe was sized for: `0.5 in wc`, `3 in wc`"
    )
    longest: Known[Distance] = Field(None, description="meter to the farthest outlet, if measured")
    connected: Known[HeatRate] = Field(None, description="connected load, if the permit states one")
