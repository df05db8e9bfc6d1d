"""Pieces that every system's entries share: places, runs of pipe, stops, how a fact is known."""

from typing import Annotated, Any, ClassVar, Literal, TypeVar

from pydantic import Field

from handbook.measures import NotationError, parse_flow, parse_pressure, parse_run
from handbook.record.bounds import Within
from handbook.record.entry import Entry
from handbook.record.fields import (
    Absent,
    Count,
    Day,
    Distance,
    Flow,
    Id,
    Known,
    Maybe,
    PipeSize,
    Point,
    Pressure,
    Ref,
    Text,
    YesNo,
)

T = TypeVar("T")


def each(listed: tuple[T, ...] | Absent | None) -> tuple[T, ...]:
    """Return the entries of a section; none when it is left out or confirmed absent."""
    return listed if isinstance(listed, tuple) else ()


def given(fact: T | Absent | None) -> T | None:
    """Return the fact when there is one; None when it is confirmed absent or not recorded."""
    return None if isinstance(fact, Absent) else fact


class Seen(Entry):
    """How and when a fact was established, and by whom."""

    written: ClassVar[str] = "on: 2026-04-10, by: superintendent, how: tested"

    on: Known[Day] = Field(None, description="the day it was looked at")
    by: Known[Text] = Field(None, description="who looked, by role rather than by name")
    how: Known[Literal["walked", "tested", "drawing", "told", "photo"]] = Field(
        None,
        description="seen on the walk, turned or tried, read off a drawing, told, or from a photo",
    )


class Place(Entry):
    """Where a thing is: level, room, a point on the plan, a height, and words for a stranger."""

    written: ClassVar[str] = (
        "room: kitchen, at: [12 ft 6 in, 3 ft], height: 2 ft, where: under the sink"
    )

    level: Known[Ref] = Field(None, description="id of a level, or `outside`")
    room: Known[Ref] = Field(None, description="id of a room on that level")
    at: Known[Point] = Field(None, description="[across, up] on the plan, from its origin")
    height: Known[Annotated[Distance, Within("height")]] = Field(
        None, description="above the finished floor"
    )
    depth: Known[Annotated[Distance, Within("depth")]] = Field(
        None, description="below the finished grade, for buried things"
    )
    behind: Maybe[Text] = Field(None, description="what covers it: a panel, a plate, a box lid")
    where: Known[Text] = Field(None, description="in words that a stranger can follow")


WaterMaterial = Literal[
    "PEX", "copper L", "copper K", "copper M", "CPVC", "PE", "PVC", "galvanized steel", "brass"
]
DrainMaterial = Literal["PVC", "ABS", "cast iron", "copper DWV", "SDR 35", "corrugated", "brass"]
GasMaterial = Literal["black steel", "galvanized steel", "CSST", "copper", "PE"]


class Fittings(Entry):
    """Fittings counted along a run, as far as they were seen before the wall was closed."""

    ell_90: Known[Annotated[Count, Within("fittings")]] = None
    ell_45: Known[Annotated[Count, Within("fittings")]] = None
    tee_run: Known[Annotated[Count, Within("fittings")]] = None
    tee_branch: Known[Annotated[Count, Within("fittings")]] = None
    coupling: Known[Annotated[Count, Within("fittings")]] = None
    bore: Known[Annotated[Distance, Within("bore")]] = Field(
        None, description="inside diameter of insert fittings"
    )


class Run(Entry):
    """A run of pipe, said aloud as `22 ft of 3/4 in PEX`."""

    text_examples: ClassVar[tuple[str, ...]] = ("22 ft of 3/4 in PEX", "8 ft of 2 in PVC")

    length: Known[Annotated[Distance, Within("run_length")]] = None
    size: Known[PipeSize] = None
    fittings: Known[Fittings] = None
    way: Known[Text] = Field(None, description="how it goes: `in the ceiling of the dining room`")
    through: Known[tuple[Ref, ...]] = Field(None, description="rooms whose walls or floors hide it")

    @classmethod
    def from_text(cls, text: str) -> dict[str, Any]:
        """Read the short form; the material must be one that this kind of pipe is made of."""
        run = parse_run(text)
        return {"length": run.length, "size": run.size, "material": run.material}


class WaterRun(Run):
    """A run of water pipe."""

    size: Known[Annotated[PipeSize, Within("water_size")]] = None
    material: Known[WaterMaterial] = None
    insulated: Maybe[YesNo] = None
    bore: Known[Annotated[Distance, Within("bore")]] = Field(
        None, description="its true inside diameter, as printed on it"
    )


class LossAtFlow(Entry):
    """What a piece of equipment takes off the pressure, by its maker: `8 psi at 10 gpm`."""

    text_examples: ClassVar[tuple[str, ...]] = ("8 psi at 10 gpm", "55 kPa at 38 L/min")

    loss: Annotated[Pressure, Within("pressure_loss")]
    flow: Annotated[Flow, Within("flow")]

    @classmethod
    def from_text(cls, text: str) -> dict[str, Any]:
        """Read the short form."""
        loss, flow = _at(text, cls.text_examples[0])
        return {"loss": parse_pressure(loss), "flow": parse_flow(flow)}


class Delivery(Entry):
    """What an outlet gives at a flowing pressure, by its maker: `1.8 gpm at 80 psi`."""

    text_examples: ClassVar[tuple[str, ...]] = ("1.8 gpm at 80 psi", "7 L/min at 550 kPa")

    flow: Annotated[Flow, Within("flow")]
    pressure: Annotated[Pressure, Within("flowing_pressure")]

    @classmethod
    def from_text(cls, text: str) -> dict[str, Any]:
        """Read the short form."""
        flow, pressure = _at(text, cls.text_examples[0])
        return {"flow": parse_flow(flow), "pressure": parse_pressure(pressure)}


def _at(text: str, like: str) -> tuple[str, str]:
    """Part `8 psi at 10 gpm` at its word."""
    first, word, second = text.partition(" at ")
    if not word:
        raise NotationError(f"{text!r} does not say `at`", f"write it like `{like}`")
    return first, second


class DrainRun(Run):
    """A run of drain pipe."""

    size: Known[Annotated[PipeSize, Within("drain_size")]] = None
    material: Known[DrainMaterial] = None


class GasRun(Run):
    """A run of gas pipe; CSST also by its equivalent hydraulic diameter (EHD)."""

    size: Known[Annotated[PipeSize, Within("gas_size")]] = None
    material: Known[GasMaterial] = None
    ehd: Known[Annotated[Count, Within("ehd")]] = Field(
        None, description="equivalent hydraulic diameter stamped on CSST"
    )


class EndingRun(Run):
    """The pipe of a pan, a relief valve or a coil, in any material that drains such things."""

    size: Known[Annotated[PipeSize, Within("drain_size")]] = None
    material: Known[Literal[WaterMaterial, DrainMaterial]] = None


class Thing(Entry):
    """Anything that can be pointed at: it has an id, mostly a name, and a place."""

    id: Id = Field(description="the tag that is printed and hung on it")
    name: Known[Text] = Field(None, description="in plain words")
    place: Known[Place] = None
    seen: Known[Seen] = None
    note: Known[Text] = Field(None, description="a remark in Markdown, printed with the thing")


class Fed(Thing):
    """A thing on a pressure line, recorded by pointing upstream."""

    from_: Known[Ref] = Field(None, description="id of what feeds it")
    by: Known[WaterRun] = Field(None, description="the pipe that ends here")


ValveKind = Literal[
    "ball",
    "gate",
    "globe",
    "butterfly",
    "curb stop",
    "angle stop",
    "straight stop",
    "push-pull stop",
    "integral stop",
    "stop and waste",
    "automatic shutoff",
    "single-lever bypass",
    "gas cock",
]
Stands = Literal["open", "closed"]
Condition = Literal["works", "stuck", "does not hold", "leaks"]


class Handle(Entry):
    """What makes a thing a valve: how it is turned, how it stands, whether it works."""

    kind: Known[ValveKind] = None
    turn: Known[Text] = Field(None, description="how to close it, if its kind does not say it")
    back: Known[Text] = Field(None, description="how to open it again, if not by turning it back")
    tool: Maybe[Text] = Field(None, description="what is needed to turn it, such as a meter key")
    stands: Stands = Field("open", description="how it stands in ordinary use")
    condition: Known[Condition] = None


class Stop(Handle):
    """A valve recorded inside the thing that it serves: a fixture stop, a heater's shutoff."""

    written: ClassVar[str] = "id: S1, kind: angle stop, where: under the sink"

    id: Id = Field(description="the tag that is printed and hung on it")
    name: Known[Text] = None
    place: Known[Place] = None
    where: Known[Text] = Field(None, description="short for a place beside the thing it serves")
    seen: Known[Seen] = None
    note: Known[Text] = None


class Ending(Entry):
    """Where a drain of a pan, a relief valve or a coil ends, and how it gets there."""

    written: ClassVar[str] = "to: floor drain, by: 6 ft of 3/4 in CPVC"

    to: Known[Literal["floor drain", "outdoors", "pan", "laundry tub", "standpipe", "floor"]] = None
    drain: Known[Ref] = Field(None, description="id of the fixture or pan it ends over")
    by: Known[EndingRun] = None
    above: Known[Annotated[Distance, Within("end_above")]] = Field(
        None, description="height of its end above floor, rim or grade"
    )
    where: Known[Text] = Field(None, description="in words that a stranger can follow")
    place: Known[Place] = None
    seen: Known[Seen] = None
