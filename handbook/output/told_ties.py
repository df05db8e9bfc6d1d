"""Ties as text for a terminal and as JSON for machines."""

import json

from handbook.answers.finding.corners import Corner
from handbook.answers.ties import Tie, Ties
from handbook.house.places import BY_EYE
from handbook.measures import Length, Units, say_length

ONE_INCH = Length(1.0)


def ties_json(answer: Ties) -> str:
    """Return `ties: [{thing, a, b, distance_a_in, ...}]`, `corners`, `assumed`, `missing`.

    Lengths and coordinates are in inches, angles in degrees.
    """
    said = {
        "ties": [_tie(tie) for tie in answer.ties],
        "corners": list(answer.corners),
        "assumed": list(answer.assumed),
        "missing": list(answer.missing),
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def _tie(tie: Tie) -> dict[str, object]:
    return {
        "thing": tie.thing,
        "name": tie.name,
        "a": _corner(tie.a),
        "b": _corner(tie.b),
        "distance_a_in": round(tie.distance_a.inches, 2),
        "distance_b_in": round(tie.distance_b.inches, 2),
        "angle_deg": round(tie.angle_deg, 1),
        "slip_in": round(tie.slip_in, 2),
        "told": tie.told,
        "not_said_to_be_seen": tie.unsaid,
        "side": tie.side,
        "of": tie.of,
    }


def _corner(corner: Corner) -> dict[str, object]:
    return {"name": corner.name, "x_in": round(corner.x, 2), "y_in": round(corner.y, 2)}


def ties_text(answer: Ties, units: Units) -> str:
    """Return a paragraph a thing: both tapes, the side it lies on, and what a slip costs."""
    lines: list[str] = []
    if not answer.ties and not answer.missing:
        lines.append("Nothing is recorded that is buried or hidden: there is nothing to tape.")
    for tie in answer.ties:
        first, second = tie.tapes(units)
        slip = say_length(Length(tie.slip_in), units, BY_EYE / 2)
        lines += [
            f"{tie.thing} ({tie.name})",
            f"  {first} from {_the(tie.a)}",
            f"  {second} from {_the(tie.b)}",
            f"  it lies {tie.side}, seen from the line between them; the tapes cross at "
            f"{tie.angle_deg:.0f} degrees: {say_length(ONE_INCH, units)} of slip in one moves "
            f"the point {slip}",
            "",
        ]
    lines += [f"Corners: {each}." for each in answer.corners]
    lines += [f"Assumed: {each}." for each in answer.assumed]
    lines += [f"Not known: {each}." for each in answer.missing]
    return "\n".join(lines).rstrip()


def _the(corner: Corner) -> str:
    """Return `the front left corner of the house`, but `a mark on the wall`."""
    return f"{'a' if corner.name.startswith('mark') else 'the'} {corner.name}"
