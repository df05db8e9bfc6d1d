"""Water heaters and what belongs to them."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from handbook.record.bounds import Within
from handbook.record.entry import Entry
from handbook.record.fields import (
    Day,
    HeatRate,
    Known,
    Maybe,
    PipeSize,
    Pressure,
    Ref,
    Temperature,
    Text,
    Volume,
)
from handbook.record.grammar.common import Ending, LossAtFlow, Thing
from handbook.record.grammar.fixtures import GasConnection, WaterConnection


class Relief(Entry):
    """The temperature and pressure (T&P) relief valve and where its pipe ends."""

    written: ClassVar[str] = "pressure: 150 psi, size: 3/4 in, discharge: {to: floor drain}"

    temperature: Known[Annotated[Temperature, Within("relief_temperature")]] = None
    pressure: Known[Annotated[Pressure, Within("relief_pressure")]] = None
    size: Known[Annotated[PipeSize, Within("relief_size")]] = None
    discharge: Maybe[Ending] = None


class ExpansionTank(Thing):
    """The tank that takes up water's swelling as it is heated."""

    written: ClassVar[str] = "id: ET, size: 2 gal, precharge: 60 psi"

    size: Known[Annotated[Volume, Within("tank_size")]] = None
    precharge: Known[Annotated[Pressure, Within("precharge")]] = None


class Heater(Thing):
    """A water heater; what it feeds points at it as at any other thing."""

    written: ClassVar[str] = (
        "id: WH, kind: storage, fuel: natural gas, name: Water heater, capacity: 50 gal, "
        "place: {room: utility}, cold: {from: W1}"
    )

    kind: Known[Literal["storage", "tankless", "heat pump"]] = None
    fuel: Known[Literal["natural gas", "propane", "electric"]] = None
    model: Known[Text] = None
    serial: Known[Text] = None
    installed: Known[Day] = None
    capacity: Known[Annotated[Volume, Within("capacity")]] = None
    input: Known[Annotated[HeatRate, Within("heater_input")]] = Field(
        None, description="of an electric heater; gas says it itself"
    )
    setting: Known[Annotated[Temperature, Within("setting")]] = None
    loss: Known[LossAtFlow] = Field(None, description="pressure lost in a tankless heater")
    cold: Known[WaterConnection] = None
    gas: Maybe[GasConnection] = None
    relief: Maybe[Relief] = None
    expansion_tank: Maybe[ExpansionTank] = None
    pan: Maybe[Ref] = Field(None, description="id of the pan under it")
    breaker: Maybe[Text] = Field(None, description="number and label on the panel")
    vent: Maybe[Text] = Field(None, description="where its flue ends")
    ignition: Known[Literal["pilot", "electronic"]] = Field(
        None, description="of a gas heater: a pilot that burns all day, or lit by electricity"
    )
    controls: Known[Text] = Field(None, description="where the dial is and what its marks mean")
