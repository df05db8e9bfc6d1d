"""What a rule is, and what it may say about a thing.

A rule is one pure function over a house, declared once: its code, its name (which states the
fault), its statement (the function's docstring), why it matters, how to put it right, the stages
at which it can be looked at, how grave it is, and where it comes from. To write one:

    @rule(
        "SG-01",
        "pan-without-drain",
        "fault",
        why="A pan that drains nowhere fills, and then spills on the floor it was to protect.",
        remedy="Run a drain from the pan to a floor drain or outdoors.",
        stages=("rough-in", "trim-out"),
        source="IRC P2801.6.1 (2015)",            # or table="heater_pans", where it has numbers
    )
    def pan_without_drain(house: House) -> Iterator[Outcome]:
        \"""Each drain pan drains somewhere.\"""

and add it to RULES at the end of its file. It yields one outcome for each thing that it looks at;
never prints, never raises. What is not recorded decides the outcome:

    a whole section left out            CannotTell(fact)
    a fact the rule cannot do without   Gap(thing, ...)           a finding: go and look
    a fact it can wait for              CannotTell(fact, thing)
    a confirmed `none`, a wrong figure  Broken(thing, ...)        a finding: put it right
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from handbook.house.house import House
from handbook.record.problems import Mark
from handbook.tables import table as published

Severity = Literal["unsafe", "fault", "gap", "advice"]
"""Can hurt somebody; is not as it must be; is not recorded; good practice that no code asks for."""

SEVERITIES: tuple[Severity, ...] = ("unsafe", "fault", "gap", "advice")
Stage = Literal["rough-in", "top-out", "trim-out", "handover", "lived-in"]

SYSTEMS = {
    "SH": "Shutoffs",
    "WA": "Water supply",
    "FX": "Fixtures",
    "HE": "Water heaters",
    "DR": "Drains",
    "CO": "Cleanouts",
    "GA": "Gas",
    "SG": "Pans and sensors",
    "WL": "In the walls",
    "PE": "Whom to call",
    "RC": "The record",
}
"""The systems by the two letters that their rules' codes begin with."""

LOOK = "Go and look, and record what is there."
PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Fact:
    """Something not recorded: `the depth of a drain pan`. `gives` is what recording it unlocks."""

    says: str
    gives: str = ""


@dataclass(frozen=True)
class Clear:
    """The thing keeps the rule."""

    thing: str | None = None


@dataclass(frozen=True)
class Broken:
    """The thing breaks the rule; `remedy` replaces the rule's own where it is given."""

    thing: str | None
    message: str
    mark: Mark
    remedy: str = ""


@dataclass(frozen=True)
class Gap:
    """The thing is recorded, but lacks a fact that the rule cannot do without."""

    thing: str | None
    message: str
    mark: Mark
    remedy: str = ""


@dataclass(frozen=True)
class CannotTell:
    """The rule waits for a fact."""

    fact: Fact
    thing: str | None = None


Outcome = Clear | Broken | Gap | CannotTell
Look = Callable[[House], Iterable[Outcome]]


@dataclass(frozen=True)
class Rule:
    """One rule and its declaration; `look` yields its outcomes for a house."""

    code: str
    name: str
    severity: Severity
    statement: str
    why: str
    remedy: str
    stages: tuple[Stage, ...]
    source: str
    table: str
    look: Look

    @property
    def system(self) -> str:
        """The system in words, from the code's letters."""
        return SYSTEMS[self.code[:2]]

    @property
    def cited(self) -> str:
        """Where the rule comes from, as it is printed."""
        return published(self.table).cited if self.table else self.source

    def remedy_of(self, found: Broken | Gap) -> str:
        """What to do about a finding: its own words, or the rule's, or to go and look."""
        if found.remedy:
            return found.remedy
        missing = isinstance(found, Gap) and self.severity != "gap"
        return LOOK if missing else self.remedy

    def severity_of(self, found: Broken | Gap) -> Severity:
        """How grave a finding is: a fact that is only missing is a gap, whatever it may hide."""
        return "gap" if isinstance(found, Gap) else self.severity


def rule(  # noqa: PLR0913  (a declaration: each part has its own name at the call)
    code: str,
    name: str,
    severity: Severity,
    *,
    why: str,
    remedy: str,
    stages: tuple[Stage, ...],
    source: str = "",
    table: str = "",
) -> Callable[[Look], Rule]:
    """Declare the decorated function as a rule; its docstring is the statement."""

    def declare(look: Look) -> Rule:
        statement = " ".join((look.__doc__ or "").split())
        return Rule(code, name, severity, statement, why, remedy, stages, source, table, look)

    return declare


def look(key: str) -> str:
    """What to do about a fact that may be confirmed absent: look, and write it under its key."""
    return f"Go and look, and record it under `{key}`, or `none` if there isn't one."


def look_at(key: str) -> str:
    """What to do about a fact that is always there: look, and write it under its key."""
    return f"Go and look, and record it under `{key}`."


def told(fact: object, wanted: Fact) -> Iterator[CannotTell]:
    """Yield that the rule waits for `wanted`, where that part of the record is left out."""
    if fact is None:
        yield CannotTell(wanted)
