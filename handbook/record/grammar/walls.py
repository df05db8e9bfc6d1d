"""What is in the walls: plates, insulation, photos taken while they were open."""

from typing import ClassVar, Literal

from pydantic import Field

from handbook.record.entry import Entry
from handbook.record.fields import Day, FileName, Id, Known, Maybe, Ref, Text
from handbook.record.grammar.common import Place, Seen


class Shield(Entry):
    """Shield plates over pipe that a nail could reach."""

    written: ClassVar[str] = (
        "plate: plates on the studs behind the sink, place: {room: kitchen}, protects: [W1]"
    )

    place: Known[Place] = None
    protects: Known[tuple[Ref, ...]] = None
    plate: Known[Text] = Field(None, description="gauge or thickness")
    seen: Known[Seen] = None


class Insulation(Entry):
    """Insulation on pipe, or between pipe and the cold."""

    what: Text
    place: Known[Place] = None
    kind: Known[Text] = None
    protects: Known[tuple[Ref, ...]] = None
    seen: Known[Seen] = None


class Photo(Entry):
    """A photo taken while the wall was open."""

    written: ClassVar[str] = (
        "id: PH1, file: photos/kitchen.jpg, caption: Kitchen wall, shows: [W1], on: 2026-04-10"
    )

    id: Id
    file: FileName
    caption: Text
    place: Known[Place] = None
    looks: Known[Literal["north", "south", "east", "west", "up", "down"]] = Field(
        None, description="which way the camera looks"
    )
    on: Known[Day] = None
    shows: Known[tuple[Ref, ...]] = None


class Walls(Entry):
    """Everything recorded before the wallboard went up."""

    shields: Maybe[tuple[Shield, ...]] = None
    insulation: Maybe[tuple[Insulation, ...]] = None
    photos: Maybe[tuple[Photo, ...]] = None
    notes: Known[tuple[Text, ...]] = None
