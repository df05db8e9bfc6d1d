"""What a cable reaches from a cleanout, as text for a terminal and as JSON for machines."""

import json
from collections.abc import Collection

from handbook.answers.draining.at_flaps import at_flap, met_aside
from handbook.answers.draining.cable_fit import advice, jetting
from handbook.answers.draining.cable_walk import Doubtful
from handbook.answers.draining.cable_words import cable_words, stray_words
from handbook.answers.draining.standing_waste import standing_waste, standing_words
from handbook.answers.reach import Reach, line_holes, part_words, reaches, unreached
from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.tables import table


def reach_json(house: House, answer: Reach) -> str:
    """Return `reached`, `doubtful` and the holes; `cable_ft` is `[near, far]` in feet."""
    return json.dumps(_reach(house, answer), indent=2, ensure_ascii=False)


def all_reach_json(house: House) -> str:
    """Return `cleanouts`, each as `reach_json` has it, and what none of them reaches."""
    said = {
        "cleanouts": [_reach(house, answer) for answer in reaches(house)],
        "unreached": [
            {
                "stretch": gap.stretch,
                "whole": gap.whole,
                "part_ft": [feet(inches) for inches in gap.part] if gap.part else None,
            }
            for gap in unreached(house)
        ],
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def all_reach_text(house: House) -> str:
    """Return what each cleanout reaches, and then what none of them reaches."""
    units = house.record.house.units
    lines = [f"{reach_text(house, answer)}\n" for answer in reaches(house)]
    for gap in unreached(house):
        part = part_words(gap, units)
        lines.append(f"Reached by none: {house.called(gap.stretch)}{f', {part}' if part else ''}")
    return "\n".join(lines) or "No cleanout and no stretch of drain is recorded."


def _reach(house: House, answer: Reach) -> dict[str, object]:
    stretches = [step.stretch for step in answer.reached]
    return {
        "cleanout": answer.cleanout,
        "riser_ft": feet(answer.riser.exact),
        "can_stand_above": can_stand(house, answer.cleanout),
        "reached": [
            {
                "stretch": step.stretch,
                "direction": step.direction,
                "cable_ft": [feet(step.near.low), feet(step.far.high)],
                "through": step.through,
                "whole": step.whole,
                "quarter_bends": step.quarter_bends,
                "valves": step.valves,
                "cable": advice([step], house.record.house.units),
            }
            for step in answer.reached
        ],
        "doubtful": [
            aside(each) | {"direction": each.direction, "why": each.why} for each in answer.doubtful
        ],
        "instead_of_a_cable": jetting(house.record.house.units),
        "assumed": answer.assumed,
        "missing": (*answer.missing, *line_holes(house.drains, stretches)),
    }


def aside(each: Doubtful) -> dict[str, object]:
    """Return where a cable may stray, for machines."""
    return {
        "stretch": each.stretch,
        "valves": each.valves,
        "pumps": each.pumps,
        "at_ft": feet(each.at.low) if each.at else None,
    }


def reach_text(house: House, answer: Reach) -> str:
    """Return a line a stretch: the way, the cable, the sizes, the cable that fits."""
    units = house.record.house.units
    lines = [f"{house.called(answer.cleanout)}: what a cable reaches", ""]
    for step in answer.reached:
        part = "" if step.whole else " (in part)"
        lines.append(
            f"{step.direction}: {house.called(step.stretch)}{part}, "
            f"{cable_words(step.near, step.far, units)} through {', '.join(step.through)}; "
            f"{advice([step], units)}"
        )
        lines += [f"   past {' and '.join(step.valves)}"] if step.valves else []
    for d in answer.doubtful:
        lines.append(f"{d.direction}: perhaps {house.called(d.stretch)}; {d.why}")
        lines += stray_lines(house, d)
    for valve in dict.fromkeys(valve for step in answer.reached for valve in step.valves):
        lines.append(f"First at {valve}: {at_flap(house, valve)}.")
    if stands := standing_words(house, answer.cleanout):
        lines.append(f"Before it is opened: {opened_below(stands)}")
    lines.append(f"Instead of a cable: {jetting(units)}.")
    if answer.riser.exact:
        riser = say_length(Length(answer.riser.exact), units)
        lines.append(f"Counted from the opening, {riser} above the pipe.")
    lines += [f"Assumed: {each}" for each in answer.assumed]
    holes = (*answer.missing, *line_holes(house.drains, [s.stretch for s in answer.reached]))
    return "\n".join([*lines, *(f"Not known: {each}" for each in holes)])


def stray_lines(house: House, met: Doubtful, stretches: Collection[str] = ()) -> list[str]:
    """Return to whose flap a cable may stray there, and what then; nothing where to none."""
    flaps = met_aside(house, met, stretches)
    said = "; ".join(f"at {valve}: {words}" for valve, words in flaps.items())
    return [f"   {stray_words(met, house.record.house.units)}; {said}"] if flaps else []


def can_stand(
    house: House, opening: str, stretches: Collection[str] = ()
) -> dict[str, object] | None:
    """Return what may stand above an opening, for machines; None where nothing can."""
    found = standing_waste(house.drains, opening, stretches)
    if found is None:
        return None
    gallons = None if found.gallons is None else round(found.gallons, 1)
    return {"head_ft": feet(found.head_in), "up_to": found.up_to, "gallons": gallons}


def feet(inches: float | None) -> float | None:
    """Return inches in feet, to the hundredth."""
    return None if inches is None else round(inches / 12, 2)


def opened_below(stands: str) -> str:
    """Return what may stand above a plug, and how it is opened then."""
    return f"{stands}. {sentence_of(table('drain_diagnosis').values['opening']['below'])}"


def sentence_of(words: str) -> str:
    """Return words as a sentence."""
    return f"{words[:1].upper()}{words[1:]}."
