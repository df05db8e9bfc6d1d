"""What catches or reports a leak: pans, sensors, condensate drains."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from handbook.record.bounds import Within
from handbook.record.entry import Entry
from handbook.record.fields import Day, Distance, Known, Maybe, Ref, Text, YesNo
from handbook.record.grammar.common import Ending, Thing


class Pan(Thing):
    """A drain pan and where it drains to."""

    written: ClassVar[str] = (
        "id: P1, name: Pan under the heater, under: WH, drain: {to: floor drain}, depth: 2 in"
    )

    under: Known[Ref] = None
    material: Known[Literal["steel", "aluminum", "plastic"]] = None
    depth: Known[Annotated[Distance, Within("pan_depth")]] = None
    drain: Maybe[Ending] = None


class Battery(Entry):
    """A sensor's battery."""

    written: ClassVar[str] = "kind: AA, changed: 2026-04-10"

    kind: Known[Text] = None
    changed: Known[Day] = None


class Sensor(Thing):
    """A leak sensor: what it watches and what it does."""

    written: ClassVar[str] = (
        "id: L1, name: Leak sensor, watches: [WH], does: [sounds], battery: {kind: AA, "
        "changed: 2026-04-10}"
    )

    watches: Known[tuple[Ref, ...]] = None
    battery: Maybe[Battery] = None
    does: Known[tuple[Literal["sounds", "sends a message", "closes a valve"], ...]] = None
    closes: Maybe[Ref] = Field(None, description="the automatic shutoff that it closes")


class Condensate(Thing):
    """A cooling coil's or condensing appliance's drain, and what catches it if that blocks."""

    written: ClassVar[str] = (
        "id: CD, name: Condensate drain, serves: the air conditioner upstairs, "
        "primary: {to: outdoors}"
    )

    serves: Known[Text] = None
    primary: Maybe[Ending] = None
    secondary: Maybe[Ending] = None
    pan: Maybe[Ref] = None
    float_switch: Maybe[YesNo] = None


class Safeguards(Entry):
    """Everything that catches or reports a leak."""

    pans: Maybe[tuple[Pan, ...]] = None
    sensors: Maybe[tuple[Sensor, ...]] = None
    condensate: Maybe[tuple[Condensate, ...]] = None
