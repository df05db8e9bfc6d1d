"""The water supply: recorded from the street inward, each thing pointing at what feeds it."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from handbook.record.bounds import Within
from handbook.record.entry import Entry
from handbook.record.fields import (
    Count,
    Day,
    Known,
    Maybe,
    PipeSize,
    Pressure,
    Ref,
    Text,
    YesNo,
)
from handbook.record.grammar.common import (
    Delivery,
    Fed,
    Handle,
    LossAtFlow,
    Place,
    Seen,
    Stop,
    Thing,
    WaterRun,
)


class Source(Thing):
    """Where water comes from: the utility's main, a well, a tank."""

    written: ClassVar[str] = "id: CITY, kind: public main, name: Street main"

    kind: Known[Literal["public main", "well", "tank"]] = None


class StaticPressure(Entry):
    """Pressure with no water running, as measured."""

    written: ClassVar[str] = "value: 68 psi, at: hose bibb at the front"

    value: Annotated[Pressure, Within("static_pressure")]
    at: Known[Text] = Field(None, description="where the gauge was, in words")
    near: Known[Ref] = Field(
        None, description="id of the thing that the gauge was at: it says how high, and which side"
    )
    seen: Known[Seen] = None


class Meter(Fed):
    """The water meter."""

    written: ClassVar[str] = (
        "id: WM, name: Water meter, place: {level: outside, where: in the box at the walk}"
    )

    size: Known[Annotated[PipeSize, Within("water_size")]] = None
    number: Known[Text] = None


class Valve(Fed, Handle):
    """A shutoff in the line."""

    written: ClassVar[str] = (
        "id: W2, name: Upstairs shutoff, kind: ball, from: W1, place: {room: hall}"
    )

    main: YesNo = Field(False, description="it stops the whole house")
    utility: YesNo = Field(False, description="it belongs to the utility")


class Feed(Entry):
    """One of several pipes that meet."""

    written: ClassVar[str] = "from: W1, by: 12 ft of 3/4 in PEX"

    from_: Ref
    by: Known[WaterRun] = None


class Tee(Fed):
    """Where a pipe divides, or where several meet (`feeds`)."""

    written: ClassVar[str] = "id: T1, from: W1, by: 12 ft of 3/4 in PEX"

    feeds: Known[tuple[Feed, ...]] = None


class Manifold(Fed):
    """A header with ports; each port's valve is a valve `from` it."""

    written: ClassVar[str] = "id: MC, name: Cold manifold, carries: cold, from: W1"

    carries: Known[Literal["cold", "hot"]] = None


class Equipment(Fed):
    """Equipment in the line that is not a shutoff."""

    written: ClassVar[str] = (
        "id: PRV, kind: pressure-reducing valve, name: Reducing valve, from: W1, set_to: 60 psi"
    )

    kind: Literal[
        "pressure-reducing valve",
        "backflow preventer",
        "check valve",
        "filter",
        "pump",
        "pressure tank",
        "mixing valve",
        "hammer arrester",
    ]
    set_to: Known[Annotated[Pressure, Within("set_to")]] = None
    adjusts_up_to: Known[Annotated[Pressure, Within("set_to")]] = Field(
        None, description="the highest that a reducing valve can be set to, by its plate"
    )
    loss: Known[LossAtFlow] = Field(
        None, description="by its maker; of a reducing valve, how far below its setting it falls"
    )
    size: Known[Annotated[PipeSize, Within("water_size")]] = None
    model: Known[Text] = None
    has_check: Maybe[YesNo] = Field(None, description="it lets water pass one way only")
    tested: Known[Day] = Field(None, description="last certified test, where one is asked for")


class Bypass(Entry):
    """How water goes round a softener: three valves, or one lever."""

    inlet: Known[Stop] = None
    outlet: Known[Stop] = None
    across: Known[Stop] = None
    lever: Known[Stop] = None


class Softener(Fed):
    """A softener and its bypass."""

    written: ClassVar[str] = "id: SOF, name: Softener, from: W1, place: {room: utility}"

    bypass: Maybe[Bypass] = None
    discharge: Known[Text] = Field(None, description="where its rinse water goes")
    drain: Maybe[Ref] = Field(None, description="id of the fixture or stretch that takes it")
    model: Known[Text] = None
    loss: Known[LossAtFlow] = None


class Recirculation(Fed):
    """The pump and the return line that bring hot water near the taps."""

    written: ClassVar[str] = "id: RP, name: Recirculation pump, from: T2, to: WH"

    to: Known[Ref] = Field(None, description="where the return joins: the heater or a tee")
    joins_by: Known[WaterRun] = Field(
        None, description="the last of the return: from the check valve, or the pump, to there"
    )
    check: Maybe[Fed] = Field(None, description="the check valve in the return")
    shutoff: Maybe[Stop] = None
    control: Known[Text] = Field(None, description="timer, thermostat or button, and its setting")


class Irrigation(Fed):
    """The lawn watering, from its own shutoff on."""

    written: ClassVar[str] = "id: LAWN, name: Lawn watering, from: W1, stop: {id: W9, kind: ball}"

    stop: Maybe[Stop] = None
    zones: Known[Annotated[Count, Within("zones")]] = None
    delivers: Known[Delivery] = Field(None, description="its largest zone: `9 gpm at 50 psi`")
    controller: Known[Place] = None
    winter: Known[Text] = Field(None, description="how it is made safe before a freeze")


class Water(Entry):
    """The supply from the street inward."""

    sources: Known[tuple[Source, ...]] = None
    static_pressure: Known[StaticPressure] = None
    meter: Maybe[Meter] = None
    valves: Maybe[tuple[Valve, ...]] = None
    inside_main: Maybe[Ref] = Field(None, description="`none`: looked, there is none indoors")
    outside_main: Maybe[Ref] = Field(None, description="`none`: looked, there is none outdoors")
    tees: Known[tuple[Tee, ...]] = None
    manifolds: Maybe[tuple[Manifold, ...]] = None
    equipment: Maybe[tuple[Equipment, ...]] = None
    softeners: Maybe[tuple[Softener, ...]] = None
    recirculation: Maybe[Recirculation] = None
    irrigation: Maybe[Irrigation] = None
    fire_sprinklers: Maybe[YesNo] = Field(
        None, description="heads in the ceilings that hang on this water; `none`: looked"
    )
