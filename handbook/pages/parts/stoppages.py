"""For the plumber: what backs up together, what that means, and where the cable goes in."""

from handbook.answers.draining.cable_fit import jetting
from handbook.answers.draining.cable_words import cable_words
from handbook.answers.draining.common_signs import common_signs, lowest_rises
from handbook.answers.draining.stoppage_said import entries
from handbook.answers.draining.tries import Try
from handbook.answers.reach import Unreached, part_words, unreached
from handbook.answers.stoppage import Stoppage
from handbook.house.house import House
from handbook.measures import Units
from handbook.pages.content import Block, Bullets, Line, Para, Tag
from handbook.pages.drain_groups import blocked, comes_up, group_words, rises
from handbook.pages.parts.phrases import joined, table
from handbook.pages.words import capital, lower
from handbook.tables import table as published


def stoppage_blocks(house: House) -> tuple[Block, ...]:
    """Return the tables of signs and of what no cleanout reaches; none without recorded drains."""
    answers = [a for a in common_signs(house) if any(not _own(house, leg) for leg in a.stretches)]
    rows = [_row(house, answer) for answer in answers]
    if not rows:
        return ()
    if rising := lowest_rises(house):
        sign, there = rises(house, rising)
        _, legs, _, cable = _row(house, rising)
        rows.insert(0, (sign, legs, there, cable))
    head = ("Back up, all others clear", "Can be blocked", "Comes up first at", "Cable")
    return (
        *table("Signs and stoppages", head, rows, (2.6, 2.7, 2.2, 4.7)),
        Para(("One alone that is not listed: its own trap and arm.",)),
        *_missed(house),
        Bullets(tuple(_rules(house))),
    )


def _own(house: House, leg: str) -> bool:
    return house.drains.legs[leg].own


def _row(house: House, answer: Stoppage) -> tuple[Line, ...]:
    units = house.record.house.units
    tries = [_try(each, units) for each in answer.cleanouts if each.fits]
    return (
        (capital(group_words(house, answer.backs_up)),),
        blocked(house, answer),
        comes_up(house, answer),
        joined(tries, "; ") or (_instead(house, answer),),
    )


def _instead(house: House, answer: Stoppage) -> str:
    """Where a cable goes in when no cleanout reaches what is blocked."""
    stretches = [leg for leg in answer.stretches if not _own(house, leg)]
    ways = [f"{lower(house.items[at].name)}, {how}" for at, how in entries(house, stretches[0])]
    return "no cleanout surely reaches it" + (f"; in at {' or '.join(ways)}" if ways else "")


def _try(each: Try, units: Units) -> Line:
    way = "down" if each.direction == "downstream" else "up"
    sizes = ", ".join(each.through)
    flap: Line = (" (flap of ", *joined([(Tag(it),) for it in each.valves]), " out first)")
    said = f" {way}, {cable_words(each.near, each.far, units)}, {sizes}"
    return (Tag(each.id), said, *(flap if each.valves else ()))


def _missed(house: House) -> tuple[Block, ...]:
    gaps = [_gap(house, gap) for gap in unreached(house)]
    if not gaps:
        return (Para(("A cable from a cleanout reaches every stretch.",)),)
    said = joined(gaps, "; ")
    return (Para(("No cable from a cleanout surely reaches: ", *said, ".")),)


def _gap(house: House, gap: Unreached) -> Line:
    part = part_words(gap, house.record.house.units)
    return (Tag(gap.stretch), f" ({part})") if part else (Tag(gap.stretch),)


def _rules(house: House) -> list[Line]:
    """What a plumber holds to here, and how a two-way cleanout is read."""
    diagnosis = published("drain_diagnosis")
    opening, reading = diagnosis.values["opening"], diagnosis.values["two_way"]
    lines: list[Line] = [(f"{capital(opening[rule])}.",) for rule in ("never", "first", "ease")]
    if any(it.kind == "backwater valve" for on in house.drains.equipment.values() for it in on):
        lines.append((f"{diagnosis.values['flap']}.",))
    both = [(Tag(c.id),) for c in house.drains.cleanouts.values() if c.kind == "two-way"]
    if both:
        said = f": {reading['standing']}; {reading['empty']}; {reading['low_water']}."
        lines.append(("Two-way cleanout ", *joined(both), said))
    lines.append((f"Instead of a cable {jetting(house.record.house.units)}.",))
    cables, jets = published("drain_cables").cited, published("drain_jetting").cited
    lines.append((f"Sources: {diagnosis.cited}; cables: {cables}; jetters: {jets}.",))
    return lines
