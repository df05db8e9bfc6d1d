"""An isolation as text for a terminal and as JSON for machines."""

import json

from handbook.answers.isolate import Isolation, Rung


def as_json(answer: Isolation) -> str:
    """Return every step: `thing`, `ladder: [{close, open, also_off, ...}]`, `assumed`, `missing`."""
    said = {
        "thing": answer.thing,
        "name": answer.name,
        "already_off": answer.already_off,
        "ladder": [_rung(rung) for rung in answer.ladder],
        "shown": list(answer.short),
        "assumed": list(answer.assumed),
        "missing": list(answer.missing),
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def _rung(rung: Rung) -> dict[str, object]:
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


def as_text(answer: Isolation) -> str:
    """Return the short ladder in plain words, a step a paragraph."""
    lines = [f"{answer.name}: what to close", ""]
    if answer.already_off:
        lines.append("No water reaches it as the valves stand now.")
    for number, rung in enumerate(answer.shown, 1):
        lines += _said(number, rung)
    unseen = len(answer.ladder) - len(answer.short)
    if unseen:
        lines.append(f"({unseen} further step{'s' if unseen > 1 else ''} for the plumber: --json)")
    lines += [f"Assumed: {each}" for each in answer.assumed]
    lines += [f"Not known: {each}" for each in answer.missing]
    return "\n".join(lines)


def _said(number: int, rung: Rung) -> list[str]:
    head = "First" if number == 1 else "If that does not hold"
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
