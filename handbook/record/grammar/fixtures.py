"""Fixtures, the way a person stands in front of them: cold, hot, drain and gas in one entry."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from handbook.record.bounds import Within
from handbook.record.entry import Entry
from handbook.record.fields import (
    Distance,
    HeatRate,
    Known,
    Maybe,
    PipeSize,
    Ref,
    Slope,
    Text,
    YesNo,
)
from handbook.record.grammar.common import (
    Delivery,
    DrainRun,
    GasRun,
    Stop,
    Thing,
    WaterRun,
)


class WaterConnection(Entry):
    """A cold or a hot supply and the stop at its end."""

    written: ClassVar[str] = "from: W1, by: 12 ft of 1/2 in PEX, stop: {id: S1, kind: angle stop}"

    from_: Known[Ref] = None
    by: Known[WaterRun] = None
    stop: Maybe[Stop] = None


class DrainConnection(Entry):
    """A fixture's drain, pointing downstream: to a stretch, or, of a dishwasher whose hose ends at
    the sink, to that sink."""

    written: ClassVar[str] = "to: D1, by: 4 ft of 2 in PVC, slope: 1/4 in per ft, trap: 1-1/2 in"

    to: Known[Ref] = Field(None, description="the stretch, or the fixture whose trap takes it")
    by: Known[DrainRun] = None
    slope: Known[Annotated[Slope, Within("slope")]] = None
    trap: Known[Annotated[PipeSize, Within("trap_size")]] = None


class GasConnection(Entry):
    """An appliance's gas supply and its shutoff."""

    written: ClassVar[str] = (
        "from: GM, by: 20 ft of 3/4 in black steel, shutoff: {id: G1, kind: gas cock}, "
        "input: 65000 Btu/h"
    )

    from_: Known[Ref] = None
    by: Known[GasRun] = None
    shutoff: Maybe[Stop] = None
    sediment_trap: Maybe[YesNo] = None
    input: Known[Annotated[HeatRate, Within("gas_input")]] = None


FixtureKind = Literal[
    "water closet",
    "lavatory",
    "kitchen sink",
    "bar sink",
    "bathtub",
    "tub and shower",
    "shower",
    "bidet",
    "laundry box",
    "laundry tub",
    "dishwasher",
    "ice maker",
    "hose bibb",
    "floor drain",
    "range",
    "other",
]


class Fixture(Thing):
    """A fixture with its connections."""

    written: ClassVar[str] = (
        "id: hall-wc, kind: water closet, name: Hall toilet, place: {room: hall-bath}, "
        "cold: {from: W1, stop: {id: S1, kind: angle stop}}, drain: {to: D1}"
    )

    kind: FixtureKind
    cold: Maybe[WaterConnection] = None
    hot: Maybe[WaterConnection] = None
    drain: Maybe[DrainConnection] = None
    gas: Maybe[GasConnection] = None
    rim: Known[Annotated[Distance, Within("rim")]] = Field(
        None, description="flood rim above its floor"
    )
    delivers: Known[Delivery] = Field(None, description="by its maker: `1.8 gpm at 80 psi`")
    freeze_proof: Maybe[YesNo] = None
    vacuum_breaker: Maybe[YesNo] = Field(None, description="built into a hose outlet")
    model: Known[Text] = None
