"""A check's report as text for a terminal and as JSON for programs.

Each finding stands on a line that begins `file:line:column:`, so that editors and terminals open
its place; colour only repeats what the words say.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import groupby
from typing import Any

from handbook.record.problems import NOWHERE
from handbook.rules import Finding, Report, Unknown
from handbook.rules.rule import SEVERITIES, Severity
from handbook.rules.samples import Added

HEADINGS: dict[Severity, str] = {
    "unsafe": "Unsafe: can hurt somebody",
    "fault": "Faults: to be put right",
    "gap": "Gaps: to be looked at and recorded",
    "advice": "Advice: good practice",
}
PLURALS = {"fault": "faults", "gap": "gaps"}
SHOWN_NEXT = 8
SHOWN_WRITTEN = 3
SHOWN_THINGS = 12

_PAINT = {"unsafe": "1;31", "fault": "1;33", "gap": "1;36", "advice": "1;32", "plain": "1"}


def as_text(report: Report, colour: bool) -> str:
    """Return the report for people: findings by severity and system, then what to record next."""
    paragraphs = [
        *(_findings(report, severity, colour) for severity in SEVERITIES),
        _next(report, colour),
        _waiting(report, colour),
        summary(report),
    ]
    return "\n\n".join(paragraph for paragraph in paragraphs if paragraph)


def summary(report: Report) -> str:
    """Return the last line: how many findings of each severity, and what is clear."""
    counts = report.counts
    found = ", ".join(_count(counts[severity], severity) for severity in SEVERITIES)
    waiting = counts["cannot_tell"]
    return (
        f"{found}. {counts['clear']} looked at and clear; {waiting} "
        f"{'fact' if waiting == 1 else 'facts'} not recorded that rules wait for."
    )


def _count(count: int, severity: Severity) -> str:
    return f"{count} {severity if count == 1 else PLURALS.get(severity, severity)}"


def _findings(report: Report, severity: Severity, colour: bool) -> str:
    own = [finding for finding in report.findings if finding.severity == severity]
    if not own:
        return ""
    lines = [_paint(HEADINGS[severity], severity, colour)]
    systems = dict.fromkeys(finding.rule.system for finding in own)
    for system in systems:
        lines.append(f"\n  {_paint(system, 'plain', colour)}")
        here = [finding for finding in own if finding.rule.system == system]
        for _, alike in groupby(here, key=lambda finding: (finding.rule.code, finding.remedy)):
            lines += _alike(list(alike))
    return "\n".join(lines)


def _alike(findings: list[Finding]) -> Iterator[str]:
    """Say findings of one rule one below the other, and once what to do about them."""
    for finding in findings:
        place = "" if finding.mark == NOWHERE else f"{finding.mark}: "
        yield f"    {place}{finding.message}."
    last = findings[-1]
    yield f"      {last.remedy} ({last.rule.code} {last.rule.name})"


def _waiting(report: Report, colour: bool) -> str:
    """Say the facts about single things that rules wait for; whole sections come under `next`."""
    own = [unknown for unknown in report.cannot_tell if not unknown.fact.gives]
    if not own:
        return ""
    lines = [_paint("Cannot tell yet: not recorded", "plain", colour)]
    lines += [f"  {_unknown(unknown)}" for unknown in own]
    return "\n".join(lines)


def _unknown(unknown: Unknown) -> str:
    shown = ", ".join(unknown.things[:SHOWN_THINGS])
    more = len(unknown.things) - SHOWN_THINGS
    things = f": {shown}" + (f" and {more} more" if more > 0 else "") if shown else ""
    return f"{unknown.fact.says}{things} ({_codes(unknown)})"


def _codes(unknown: Unknown) -> str:
    return ", ".join(rule.code for rule in unknown.rules)


def _next(report: Report, colour: bool) -> str:
    if not report.unlocks:
        return ""
    lines = [_paint("What to record next, most valuable first", "plain", colour)]
    shown, more = report.unlocks[:SHOWN_NEXT], report.unlocks[SHOWN_NEXT:]
    samples = [unlock for unlock in shown if unlock.written][:SHOWN_WRITTEN]
    begun: set[str] = set()
    for number, unlock in enumerate(shown, start=1):
        lines.append(f"  {number}. {unlock}")
        for added in unlock.written if unlock in samples else ():
            lines += _sample(added, begun)
    if more:
        lines.append(f"  then: {', '.join(unlock.record.split(' (')[0] for unlock in more)}")
    return "\n".join(lines)


def _sample(added: Added, begun: set[str]) -> Iterator[str]:
    """Say the lines to add; those under a key that a sample above has begun go under that one,
    since a key that stands twice cannot be read."""
    under, lines = added.under, added.lines
    if not under and lines[0] in begun:
        under, lines = f"under the `{lines[0]}` shown above", lines[1:]
    elif not under:
        begun.add(lines[0])
    yield from [f"     {under}:"] if under else []
    yield from (f"       {line}" for line in lines)


def _paint(words: str, style: str, colour: bool) -> str:
    return f"\x1b[{_PAINT[style]}m{words}\x1b[0m" if colour else words


def as_json(report: Report) -> str:
    """Return the report as JSON: `findings`, `cannot_tell`, `unlocks`, `counts`.

    A finding's `thing` is null for the house as a whole; `file` is empty and `line` and `column`
    are 1 where the record was not read from a file.
    """
    return json.dumps(
        {
            "findings": [_finding_json(finding) for finding in report.findings],
            "cannot_tell": [
                {
                    "fact": unknown.fact.says,
                    "things": list(unknown.things),
                    "rules": [rule.code for rule in unknown.rules],
                }
                for unknown in report.cannot_tell
            ],
            "unlocks": [
                {
                    "record": u.record,
                    "gives": u.gives,
                    "written": [
                        {"under": added.under, "lines": list(added.lines)} for added in u.written
                    ],
                }
                for u in report.unlocks
            ],
            "counts": report.counts,
        },
        indent=2,
        ensure_ascii=False,
    )


def _finding_json(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule.code,
        "name": finding.rule.name,
        "severity": finding.severity,
        "thing": finding.thing,
        "message": finding.message,
        "remedy": finding.remedy,
        "file": finding.mark.file,
        "line": finding.mark.line,
        "column": finding.mark.column,
        "source": finding.rule.cited,
    }
