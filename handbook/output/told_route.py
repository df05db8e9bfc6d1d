"""A way on foot as text for a terminal and as JSON for machines."""

import json

from handbook.answers.route import Route, pace, said_walk
from handbook.measures import Units


def route_json(answer: Route, units: Units) -> str:
    """Return `from`, `to`, `distance_ft`, `seconds`, `words`, `rooms`, `assumed`, `missing`, ..."""
    said = {
        "from": answer.start,
        "to": answer.goal,
        "distance_ft": _rounded(answer.distance_ft),
        "seconds": _rounded(answer.seconds),
        "flights_up": answer.up,
        "flights_down": answer.down,
        "words": answer.words,
        "rooms": list(answer.rooms),
        "path": [
            {"level": level, "points_in": [[_rounded(x), _rounded(y)] for x, y in points]}
            for level, points in answer.path
        ],
        "pace": pace(units),
        "assumed": list(answer.assumed),
        "missing": list(answer.missing),
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def route_text(answer: Route, units: Units) -> str:
    """Return the way in plain words, and what it leans on."""
    lines = [f"{answer.start_name} to {answer.goal_name}"]
    if measured := said_walk(answer, units):
        lines.append(f"{measured} ({pace(units)}; looking and fetching a tool not counted)")
    lines += ["", _words(answer), ""]
    lines += [f"Assumed: {each}" for each in answer.assumed]
    lines += [f"Not known: {each}" for each in answer.missing]
    return "\n".join(lines).rstrip()


def _words(answer: Route) -> str:
    if answer.start == answer.goal:
        return "You are there."
    return answer.words or ("No way is known." if answer.missing else "It is in the same room.")


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
