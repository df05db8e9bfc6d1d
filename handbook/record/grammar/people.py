"""The house itself on paper, and the people to call about it."""

from typing import ClassVar, Literal

from pydantic import Field

from handbook.record.entry import Entry
from handbook.record.fields import Day, Email, FileName, Known, Maybe, Phone, Text, Url
from handbook.record.grammar.common import Seen, Thing

Role = Literal[
    "emergency",
    "licensed plumber",
    "water utility",
    "gas utility",
    "sewer utility",
    "electric utility",
    "electrician",
    "heating contractor",
    "irrigation contractor",
    "builder",
    "water damage cleanup",
    "insurer",
    "neighbor",
    "owner",
]


class Person(Entry):
    """Somebody to call, by role."""

    written: ClassVar[str] = "role: licensed plumber, phone: 555-0142"

    role: Role
    name: Known[Text] = None
    phone: Maybe[Phone] = None
    after_hours: Maybe[Phone] = None
    hours: Known[Text] = None
    email: Known[Email] = None
    license: Known[Text] = None
    note: Known[Text] = None


class CodeBook(Entry):
    """A code that the house was built under."""

    name: Text
    edition: Text
    note: Known[Text] = None


class Inspection(Entry):
    """An inspection that the plumbing passed, with its number."""

    what: Text
    number: Known[Text] = None
    on: Known[Day] = None
    result: Known[Literal["passed", "passed with notes", "failed"]] = None


class Permit(Entry):
    """The permit that the work was done under."""

    number: Text
    office: Known[Text] = None


class HouseFacts(Entry):
    """The house on paper."""

    name: Text = Field(description="as on the cover: `12 Orchard Lane`")
    address: Known[Text] = None
    lot: Known[Text] = None
    plan: Known[Text] = None
    builder: Known[Text] = None
    permit: Maybe[Permit] = None
    inspections: Maybe[tuple[Inspection, ...]] = None
    codes: Known[tuple[CodeBook, ...]] = None
    handover: Known[Day] = None
    recorded: Known[Seen] = Field(None, description="who walked the house for this record, when")
    units: Literal["US", "metric"] = "US"
    pages_at: Maybe[Url] = Field(None, description="where the phone pages will be hosted")
    cover_photo: Maybe[FileName] = None


class Panel(Thing):
    """The breaker panel."""

    written: ClassVar[str] = "id: EP, name: Breaker panel, place: {room: garage}"


class Electrical(Entry):
    """What somebody standing in water must know about the electricity."""

    panel: Known[Panel] = None


class HouseNote(Entry):
    """A note of the house's own, in Markdown, printed in the part of the book it names."""

    title: Text
    text: Text
    part: Literal["house", "care", "plumber"] = "house"
