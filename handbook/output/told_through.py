"""What may be leaking into a room, and what to close, as text and as JSON."""

import json
from collections.abc import Sequence

from handbook.answers.route import Route, said_walk
from handbook.answers.through import Suspect, Through
from handbook.measures import Units
from handbook.output.told import NEVERTHELESS, kept_off_text, rung_json, rung_text


def through_json(answer: Through, walks: Sequence[Route]) -> str:
    """Return `room`, `signs`, `suspects`, `kept_off_by`, `ladder`, `walks`, `stop_using`,
    `assumed`, `missing`."""
    said = {
        "room": answer.room,
        "signs": list(answer.signs),
        "unsure": answer.unsure,
        "suspects": [
            {"id": s.id, "name": s.name, "kind": s.kind, "room": s.room, "way": s.way}
            for s in answer.suspects
        ],
        "kept_off_by": [turn.id for turn in answer.kept_off],
        "ladder": [rung_json(rung) for rung in answer.ladder],
        "walks": [
            {"to": w.goal, "distance_ft": w.distance_ft, "seconds": w.seconds, "words": w.words}
            for w in walks
        ],
        "stop_using": list(answer.stop_using),
        "turn_off": list(answer.turn_off),
        "assumed": list(answer.assumed),
        "missing": list(answer.missing),
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def through_text(
    answer: Through, walks: Sequence[Route], units: Units, running: Sequence[Suspect] = ()
) -> str:
    """Return what to close first, the way there, and then where to look.

    `running` are the suspects that the first step leaves running.
    """
    by = " or ".join(answer.signs)
    lines = [f"Water is coming through the {by}: {answer.name.lower()}", ""]
    if answer.unsure:
        lines += ["Nothing is recorded that would explain it: the whole house is stopped.", ""]
    lines += kept_off_text(answer.kept_off)
    lines += [""] if answer.kept_off else []
    if answer.ladder:
        lines += rung_text(1, answer.ladder[0], NEVERTHELESS if answer.kept_off else "")
        lines += [line for walk in walks for line in _walked(walk, units)]
        if running:
            names = ", ".join(suspect.name for suspect in running)
            lines += [f"If it still runs: it is the {names}. {NOT_YOURS}", ""]
    elif any(suspect.kind not in ("drain", "pan") for suspect in answer.suspects):
        more = "other shutoff" if answer.kept_off else "shutoff"
        lines += [f"No {more} that stops all of it is recorded.", ""]
    else:
        lines += ["No supply pipe is recorded there: nothing to close.", ""]
    if answer.turn_off:
        lines += ["Turn off: " + "; ".join(answer.turn_off), ""]
    if answer.stop_using:
        lines += ["Do not use meanwhile: " + ", ".join(answer.stop_using), ""]
    if answer.suspects:
        lines += ["Then look at:", *(f"  {_suspected(s)}" for s in answer.suspects), ""]
    lines += [f"Assumed: {each}" for each in answer.assumed]
    lines += [f"Not known: {each}" for each in answer.missing]
    return "\n".join(lines).rstrip()


NOT_YOURS = "No valve recorded here stops that: call the water company."


def _walked(walk: Route, units: Units) -> list[str]:
    measured = said_walk(walk, units)
    return [f"   to {walk.goal}: {measured}".rstrip(": "), f"      {walk.words}", ""]


def _suspected(suspect: Suspect) -> str:
    said = f"{suspect.name} ({suspect.id})" if suspect.kind != "pipe" else suspect.name
    said += f": {suspect.way}" if suspect.way else ""
    return said
