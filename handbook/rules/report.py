"""The outcomes of all rules for one house, joined to their rules, sorted and counted."""

from collections.abc import Iterable
from dataclasses import dataclass

from handbook.house.house import House
from handbook.record.problems import Mark
from handbook.rules.rule import (
    SEVERITIES,
    Broken,
    CannotTell,
    Clear,
    Fact,
    Gap,
    Rule,
    Severity,
)
from handbook.rules.unlock import Unlock, unlocks


@dataclass(frozen=True)
class Finding:
    """One thing to put right or to record. `thing` is its id; None for the house as a whole."""

    rule: Rule
    severity: Severity
    thing: str | None
    message: str
    remedy: str
    mark: Mark


@dataclass(frozen=True)
class Unknown:
    """A fact that is not recorded, the things it is missing for, and the rules that wait."""

    fact: Fact
    things: tuple[str, ...]
    rules: tuple[Rule, ...]


@dataclass(frozen=True)
class Report:
    """What a check found: findings, gravest first and then in walking order.

    `clear` counts the things that keep each rule, by its code.
    """

    findings: tuple[Finding, ...]
    cannot_tell: tuple[Unknown, ...]
    unlocks: tuple[Unlock, ...]
    clear: tuple[tuple[str, int], ...]

    def count(self, severity: Severity) -> int:
        """How many findings are of that severity."""
        return sum(finding.severity == severity for finding in self.findings)

    @property
    def counts(self) -> dict[str, int]:
        """Findings by severity, outcomes that are clear, and facts that rules wait for."""
        return {
            **{severity: self.count(severity) for severity in SEVERITIES},
            "clear": sum(count for _, count in self.clear),
            "cannot_tell": len(self.cannot_tell),
            "rules": len(self.clear),
        }


def report(house: House, rules: Iterable[Rule]) -> Report:
    """Run the rules on the house."""
    findings: list[Finding] = []
    waiting: dict[Fact, list[tuple[Rule, str | None]]] = {}
    clear: dict[str, int] = {}
    for rule in rules:
        clear[rule.code] = 0
        for outcome in rule.look(house):
            match outcome:
                case Clear():
                    clear[rule.code] += 1
                case CannotTell(fact, thing):
                    waiting.setdefault(fact, []).append((rule, thing))
                case Broken() | Gap():
                    findings.append(_finding(rule, outcome))
    walk = _walk(house)
    return Report(
        tuple(sorted(findings, key=lambda finding: _rank(finding, walk))),
        tuple(_unknown(fact, waits, walk) for fact, waits in waiting.items()),
        unlocks(house, waiting),
        tuple(clear.items()),
    )


def _finding(rule: Rule, found: Broken | Gap) -> Finding:
    message = " ".join(found.message.split())
    severity = rule.severity_of(found)
    return Finding(rule, severity, found.thing, message, rule.remedy_of(found), found.mark)


def _walk(house: House) -> dict[str, int]:
    """When each thing is met on the walk."""
    return {thing: number for number, thing in enumerate(house.items)}


def _rank(finding: Finding, walk: dict[str, int]) -> tuple[int, int, str, Mark]:
    """Gravest first, then the house as a whole, then as met on the walk, then what has no tag."""
    met = -1 if finding.thing is None else walk.get(finding.thing, len(walk))
    return SEVERITIES.index(finding.severity), met, finding.rule.code, finding.mark


def _unknown(fact: Fact, waits: list[tuple[Rule, str | None]], walk: dict[str, int]) -> Unknown:
    things = {thing for _, thing in waits if thing is not None}
    ordered = sorted(things, key=lambda thing: (walk.get(thing, len(walk)), thing))
    return Unknown(fact, tuple(ordered), tuple(dict.fromkeys(rule for rule, _ in waits)))
