"""The gas line: from the meter or the tank to every appliance and stub."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from handbook.record.bounds import Within
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

    written: ClassVar[str] = (
        "id: GM, name: Gas meter, place: {level: outside, where: left of the garage}, "
        "shutoff: {id: G0, kind: gas cock}"
    )

    kind: Known[Literal["meter", "tank"]] = None
    capacity: Known[Text] = Field(None, description="the class on its badge")
    delivers: Known[Text] = Field(None, description="pressure behind its regulator, as on the tag")
    shutoff: Maybe[Stop] = None


class Regulator(GasFed):
    """A second regulator inside the line."""

    written: ClassVar[str] = "id: GR, name: Gas regulator, from: GM, inlet: 2 psi, outlet: 7 in wc"

    inlet: Known[Annotated[Pressure, Within("gas_inlet")]] = None
    outlet: Known[Text] = None
    vent: Maybe[Text] = None


class GasTee(GasFed):
    """Where the gas line divides."""

    written: ClassVar[str] = "id: GT1, from: GM, by: 20 ft of 3/4 in black steel"


class GasValve(GasFed, Handle):
    """A shutoff in the gas line."""

    written: ClassVar[str] = "id: G1, name: Gas shutoff, kind: gas cock, from: GM"

    main: YesNo = False


class GasOutlet(GasFed):
    """An outlet stubbed and capped for later."""

    written: ClassVar[str] = "id: G9, meant_for: a grill, capped: yes, from: GM"

    shutoff: Maybe[Stop] = None
    capped: Maybe[YesNo] = None
    meant_for: Known[Text] = None
    input: Known[Annotated[HeatRate, Within("gas_input")]] = Field(
        None, description="the input that it was sized for"
    )


class Appliance(Thing):
    """An appliance that burns gas and is not a fixture or a water heater."""

    written: ClassVar[str] = (
        "id: FUR, kind: furnace, name: Furnace, gas: {from: GM, shutoff: {id: G2, kind: gas "
        "cock}, input: 80000 Btu/h}"
    )

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
    drop: Known[Annotated[Pressure, Within("gas_drop")]] = Field(
        None, description="pressure drop that the pipe was sized for: `0.5 in wc`, `3 in wc`"
    )
    longest: Known[Annotated[Distance, Within("run_length")]] = Field(
        None, description="meter to the farthest outlet, if measured"
    )
    connected: Maybe[Annotated[HeatRate, Within("gas_load")]] = Field(
        None, description="connected load by the permit; `none` if it states none"
    )
