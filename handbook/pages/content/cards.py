"""What hangs in the house: the emergency sheet and the tags."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from handbook.pages.content.blocks import SignalWord, Step
from handbook.pages.content.spans import Line

Kind = Literal["water", "drain", "gas", "sensor", "equipment"]
"""What a tag hangs on; each kind has its own small shape, so that nothing rests on colour."""


@dataclass(frozen=True)
class Band:
    """One situation on the emergency sheet: its signal word, what to do, whom to call.

    A `spare` one is left to the book where the sheet would not fit on one side.
    """

    title: str
    word: SignalWord
    steps: tuple[Step, ...]
    calls: tuple[tuple[str, Line], ...] = ()
    spare: bool = False


@dataclass(frozen=True)
class Sheet:
    """The emergency sheet: one side of letter paper. More than fits is an error, never cut off.

    `payload` is what its QR code says, if it has one (the address of the phone pages), and
    `code_says` what that is in words.
    """

    title: str
    house: str
    address: tuple[str, ...]
    bands: tuple[Band, ...]
    others: Line = ()
    payload: str = ""
    code_says: str = ""
    date: date | None = None
    language: str = "en-US"


@dataclass(frozen=True)
class TagCard:
    """A tag to hang: what the thing stops (or reaches, or watches), how to turn it, where it is.

    `payload` is the QR code's text: an address, or a short instruction where there is none.
    """

    id: str
    name: str
    stops: Line
    turn: str
    place: str
    payload: str
    kind: Kind
    besides: tuple[str, ...] = ()
    """At an alarm what comes right after `turn`, the most needed first: both stand before the rest,
    as whoever hears it has to act."""
    spare: tuple[str, ...] = ()
    """What follows that where there is room for it."""


@dataclass(frozen=True)
class TagSheet:
    """All tags of a house, ten to a sheet."""

    title: str
    house: str
    cards: tuple[TagCard, ...]
    date: date | None = None
    language: str = "en-US"
