"""Answers as text for a terminal and as JSON for machines."""

import dataclasses
import json
from collections.abc import Sequence
from datetime import date

from handbook.answers.care import Chore
from handbook.answers.isolate import Isolation
from handbook.answers.isolating.rungs import Rung, Turn
from handbook.answers.whom import Contact, Situation
from handbook.record.fields import Absent


def isolation_json(answer: Isolation) -> str:
    """Return `thing`, all steps as `ladder: [{close, open, ...}]`, `assumed`, `missing`."""
    said = {
        "thing": answer.thing,
        "name": answer.name,
        "already_off": answer.already_off,
        "kept_off_by": [turn.id for turn in answer.kept_off],
        "is_drain": answer.is_drain,
        "ladder": [rung_json(rung) for rung in answer.ladder],
        "shown": list(answer.short),
        "nevertheless": [rung_json(rung) for rung in answer.nevertheless],
        "counts_on": list(answer.counts_on),
        "assumed": list(answer.assumed),
        "missing": list(answer.missing),
    }
    return _json(said)


def rung_json(rung: Rung) -> dict[str, object]:
    """Return one step for machines."""
    return {
        "close": list(rung.close),
        "open": list(rung.open),
        "also_off": list(rung.also_off),
        "also_off_said": list(rung.also_off_said),
        "heater": list(rung.heater),
        "utility": rung.utility,
        "turns": [
            {
                "id": turn.id,
                "name": turn.name,
                "do": turn.do,
                "limit": turn.limit,
                "tool": turn.tool,
                "where": turn.where,
            }
            for turn in rung.turns
        ],
    }


def isolation_text(answer: Isolation) -> str:
    """Return the short ladder in plain words, a step a paragraph."""
    lines = [f"{answer.name}: what to close", ""]
    if answer.is_drain:
        lines.append("No valve stops it: it is a drain, and no water is led to it.")
        lines.append("What comes up in it: `handbook stoppage`, with what backs up.")
    lines += _kept_off(answer)
    for number, rung in enumerate(answer.shown, 1):
        lines += rung_text(number, rung)
        if number == 1 and (near := answer.with_tool):
            lines += [f"   Or, with a {' and '.join(near.tools)}: {_valves(near)} instead.", ""]
    if answer.between:
        unseen = ", ".join(map(_valves, answer.between))
        lines.append(f"For the plumber, steps in between: {unseen} (more: --json)")
    if answer.counts_on:
        names = ", ".join(answer.counts_on)
        lines.append(f"This counts on {names}: no water may come back through it.")
    lines += [f"Assumed: {each}" for each in answer.assumed]
    lines += [f"Not known: {each}" for each in answer.missing]
    return "\n".join(lines)


def _kept_off(answer: Isolation) -> list[str]:
    """Say why no water reaches a thing, and what to close if it comes all the same."""
    if not answer.kept_off:
        return ["No water reaches it as the valves stand now."] if answer.already_off else []
    lines = kept_off_text(answer.kept_off)
    for number, rung in enumerate(answer.nevertheless, 1):
        head = NEVERTHELESS if number == 1 else "If that does not hold"
        lines += ["", *rung_text(number, rung, head)]
    return lines


NEVERTHELESS = "If water comes all the same"


def kept_off_text(valves: Sequence[Turn]) -> list[str]:
    """Say which valves keep the water away by the record, and how to see that they do."""
    lines = []
    for turn in valves:
        lines += [
            f"{turn.id} ({turn.name}) is recorded as closed: then no water reaches it.",
            f"   where: {turn.where or 'not recorded'}",
            f"   see that it is: {turn.do}",
        ]
    return lines


def _valves(rung: Rung) -> str:
    """The valves of a step, `W16 with W17`."""
    return " with ".join((*rung.close, *(f"open {valve}" for valve in rung.open)))


def rung_text(number: int, rung: Rung, head: str = "") -> list[str]:
    """Return the lines of one step: what to close, where, how, and what else is off."""
    head = head or ("First" if number == 1 else "If that does not hold")
    lines = [f"{number}. {head}:"]
    for turn in rung.turns:
        verb = "open" if turn.id in rung.open else "close"
        lines.append(f"   {verb} {turn.id} ({turn.name})")
        lines.append(f"      where: {turn.where or 'not recorded'}")
        lines.append(f"      how: {turn.do}" + (f"; needs {turn.tool}" if turn.tool else ""))
        lines += [f"      but {turn.limit}"] if turn.limit else []
    lines.append("   also off: " + ("; ".join(rung.also_off_said) or "nothing else"))
    lines += [f"   heater: {each}" for each in rung.heater]
    if rung.utility:
        lines.append("   This valve is the utility's: call them unless they allow you to turn it.")
    return [*lines, ""]


def whom_json(situations: Sequence[Situation]) -> str:
    """Return `[{id, name, you, never, duties: [{contact: {role, phone, ...}, does, why}]}]`."""
    return _json([dataclasses.asdict(situation) for situation in situations])


def whom_text(situations: Sequence[Situation]) -> str:
    """Return a paragraph a situation: what you may do, what you never do, whom to call."""
    lines: list[str] = []
    for situation in situations:
        lines += [situation.name, f"  you:   {situation.you}", f"  never: {situation.never}"]
        for duty in situation.duties:
            lines.append(f"  call:  {_called(duty.contact)} {duty.does} ({duty.why})")
        lines.append("")
    return "\n".join(lines).rstrip()


def _called(contact: Contact) -> str:
    """Say whom to call with the number, or why there is none, in whole sentences."""
    numbers = [contact.phone.text] if contact.phone else []
    if contact.after_hours and contact.after_hours != contact.phone:
        numbers.append(f"after hours {contact.after_hours.text}")
    if numbers:
        return f"{contact.called}, {'; '.join(numbers)}."
    return f"{contact.called}. {contact.missing}"


def care_json(chores: Sequence[Chore]) -> str:
    """Return `[{key, title, things, every_months, season, who, do, why, source, last, due}]`."""
    return _json([{**dataclasses.asdict(chore), "due": chore.due} for chore in chores])


def care_text(chores: Sequence[Chore]) -> str:
    """Return a paragraph a chore, the most frequent first."""
    lines: list[str] = []
    for chore in chores:
        months = chore.every_months
        often = "every month" if months == 1 else f"every {months} months"
        if months % 12 == 0:
            often = "every year" if months == 12 else f"every {months // 12} years"
        lines.append(f"{chore.title}: {often}{f', {chore.season}' if chore.season else ''}")
        lines.append(f"  who: {chore.who}" + (f"   due: {chore.due}" if chore.due else ""))
        lines += [f"  on:  {', '.join(chore.things)}"] if chore.things else []
        lines += [f"  do:  {chore.do}", ""]
    return "\n".join(lines).rstrip()


def _json(said: object) -> str:
    return json.dumps(said, indent=2, ensure_ascii=False, default=_plain)


def _plain(value: object) -> object:
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Absent):
        return value.value
    raise TypeError(f"{type(value).__name__} has no JSON form")
