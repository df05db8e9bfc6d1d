"""What a cable from one cleanout reaches: which way, how far, through what, and which fits."""

from collections.abc import Iterator

from handbook.answers.draining.at_flaps import at_flap, met_aside
from handbook.answers.draining.cable_fit import advice
from handbook.answers.draining.cable_words import cable_words, stray_words
from handbook.answers.draining.standing_waste import standing_words
from handbook.answers.reach import Reach, line_holes, reach
from handbook.house.house import House
from handbook.measures import Length, say_length
from handbook.pages.content import Block, Bullets, Line, Tag
from handbook.pages.parts.phrases import joined, table
from handbook.pages.words import capital, keyless, lower
from handbook.tables import table as published

AT_THE_PIPE = 1.0
"""Inches: a riser no longer than this is no riser, and not worth a word."""


def reach_blocks(house: House, cleanout: str, *, brief: bool = False) -> tuple[Block, ...]:
    """Return the table of what it reaches, and under it what is not sure or not recorded.

    `brief` for the book, whose part says once what downstream is.
    """
    answer, units = reach(house, cleanout), house.record.house.units
    rows = [
        (
            (Tag(step.stretch), f" {lower(house.items[step.stretch].name)}"),
            (step.direction if step.whole else f"{step.direction}, in part",),
            (cable_words(step.near, step.far, units),),
            (", ".join(step.through),),
            (advice([step], units),),
        )
        for step in answer.reached
    ]
    head = ("Reaches", "Direction", "Cable in", "Through", "Which cable fits")
    where = () if brief or not answer.reached else downstream(house)
    remarks = (*where, *_remarks(house, answer))
    return (
        *table("What a cable reaches from here", head, rows, (3.84, 1.2, 1.16, 1.48, 3.36)),
        *((Bullets(remarks),) if remarks else ()),
    )


def downstream(house: House) -> tuple[Line, ...]:
    """Say which way downstream is; nothing where no discharge is recorded."""
    end = house.drains.discharge
    name = lower(house.items[end].name) if end else ""
    return ((f"Downstream is with the flow, toward the {name}.",),) if end else ()


def _remarks(house: House, answer: Reach) -> Iterator[Line]:
    if stands := standing_words(house, answer.cleanout):
        yield (f"{capital(stands)}.",)
    why: dict[tuple[str, str], list[Line]] = {}
    for each in answer.doubtful:
        why.setdefault((each.direction, each.why), []).append((Tag(each.stretch),))
    for (direction, said), stretches in why.items():
        yield (f"{capital(direction)}, perhaps ", *joined(stretches), f": {said}.")
    for each in answer.doubtful:
        flaps = met_aside(house, each)
        if flaps:
            stray = f"{capital(stray_words(each, house.record.house.units))}. "
            at = [("At ", Tag(valve), f": {said}.") for valve, said in flaps.items()]
            yield (stray, *joined(at, " "))
    valves = dict.fromkeys(valve for step in answer.reached for valve in step.valves)
    for valve in valves:
        yield ("On the way, at ", Tag(valve), f": {at_flap(house, valve)}.")
    if house.drains.cleanouts[answer.cleanout].kind == "two-way":
        reading = published("drain_diagnosis").values["two_way"]
        said = "; ".join(reading[sign] for sign in ("standing", "empty", "low_water"))
        yield (f"What it shows the plumber: {said}.",)
    if answer.riser.exact and answer.riser.exact > AT_THE_PIPE:
        riser = say_length(Length(answer.riser.exact), house.record.house.units)
        yield (f"Cable counts from the opening, {riser} above the pipe.",)
    stretches_reached = [step.stretch for step in answer.reached]
    holes = line_holes(house.drains, stretches_reached)
    for said in (*answer.assumed, *answer.missing, *holes):
        yield (keyless(said),)
