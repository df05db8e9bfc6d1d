"""The drains: recorded from each fixture outward, each stretch pointing downstream."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from handbook.record.bounds import Within
from handbook.record.entry import Entry
from handbook.record.fields import Distance, Known, Length, Maybe, PipeSize, Ref, Slope, Text
from handbook.record.grammar.common import DrainRun, Thing


class Discharge(Thing):
    """Where the building sewer ends."""

    written: ClassVar[str] = "id: SEWER, kind: public sewer"

    kind: Known[Literal["public sewer", "septic tank", "private sewer"]] = None


class Stretch(Thing):
    """A stretch of drain from this point down to the next; fixtures and stretches point at it."""

    written: ClassVar[str] = (
        "id: D1, kind: building drain, to: SEWER, by: 24 ft of 4 in PVC, slope: 1/4 in per ft"
    )

    kind: Known[Literal["branch", "stack", "building drain", "building sewer"]] = None
    to: Known[Ref] = Field(None, description="id of the stretch or discharge it runs into")
    by: Known[DrainRun] = None
    slope: Known[Annotated[Slope, Within("slope")]] = None
    invert: Known[Annotated[Length, Within("invert")]] = Field(
        None, description="inside bottom at its upper end, main floor = 0"
    )


class Cleanout(Thing):
    """An opening to clean a drain through."""

    written: ClassVar[str] = (
        "id: C1, name: Front cleanout, kind: two-way, on: D1, facing: both ways, size: 4 "
        "in, clear: 2 ft, access: nothing"
    )

    kind: Known[Literal["wall", "floor", "two-way", "end of line", "stack base", "roof"]] = None
    on: Known[Ref] = Field(None, description="id of the stretch it opens into")
    along: Known[Annotated[Distance, Within("along")]] = Field(
        None, description="how far down that stretch it stands"
    )
    facing: Known[Literal["downstream", "upstream", "both ways"]] = None
    size: Known[Annotated[PipeSize, Within("drain_size")]] = None
    cover: Known[Text] = None
    access: Known[Text] = Field(None, description="what has to be moved or opened to get at it")
    clear: Known[Annotated[Distance, Within("clear")]] = Field(
        None, description="free space in front of it"
    )


class DrainEquipment(Thing):
    """A backwater valve or an ejector in the line."""

    written: ClassVar[str] = "id: BW, kind: backwater valve, on: D1, access: lift the lid"

    kind: Literal["backwater valve", "sewage ejector"]
    on: Known[Ref] = None
    access: Known[Text] = None


class Vent(Thing):
    """A vent, the stretches it serves, and where it leaves the house or which vent it joins."""

    written: ClassVar[str] = "id: V1, serves: [D1], size: 2 in, ends: through the roof"

    serves: Known[tuple[Ref, ...]] = None
    size: Known[Annotated[PipeSize, Within("vent_size")]] = None
    length: Known[Annotated[Distance, Within("vent_length")]] = Field(
        None, description="along the pipe, to the open air; past the vent that it joins, too"
    )
    to: Known[Ref] = Field(None, description="the vent that it joins, instead of `ends`")
    ends: Known[Literal["through the roof", "air admittance valve"]] = None
    through: Known[tuple[Ref, ...]] = Field(
        None, description="the rooms that hide it on its way, in walls, floors and ceilings"
    )


class Drains(Entry):
    """The drains, waste and vents."""

    discharge: Known[Discharge] = None
    stretches: Known[tuple[Stretch, ...]] = None
    cleanouts: Maybe[tuple[Cleanout, ...]] = None
    equipment: Maybe[tuple[DrainEquipment, ...]] = None
    vents: Known[tuple[Vent, ...]] = None
