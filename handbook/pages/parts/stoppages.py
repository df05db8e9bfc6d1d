"""For the plumber: what backs up together, what that means, and where the cable goes in."""

from collections.abc import Iterator

from handbook.answers.draining.at_flaps import at_flap
from handbook.answers.draining.cable_fit import jetting
from handbook.answers.draining.cable_words import auger_words, cable_words
from handbook.answers.draining.common_signs import (
    common_signs,
    lowest_rises,
    stacks_together,
)
from handbook.answers.draining.tries import SPACE_UNKNOWN, Try
from handbook.answers.reach import Unreached, part_words, unreached
from handbook.answers.stoppage import Stoppage
from handbook.house.drains import BACKWATER, EJECTOR
from handbook.house.house import House
from handbook.measures import Units
from handbook.pages.content import Block, Bullets, Line, Para, Tag
from handbook.pages.drain_groups import (
    blocked,
    comes_up,
    flap_first,
    group_words,
    no_cleanout,
    on_stacks,
    rises,
    strays,
    two_ways,
)
from handbook.pages.parts.one_sign_table import one_sign_blocks
from handbook.pages.parts.phrases import joined, table
from handbook.pages.words import capital, lower
from handbook.tables import table as published


def stoppage_blocks(house: House) -> tuple[Block, ...]:
    """Return the tables of signs and of what no cleanout reaches; none without recorded drains."""
    answers = [a for a in common_signs(house) if any(not _own(house, leg) for leg in a.stretches)]
    if not answers:
        return ()
    rows = list(_rows(house, answers))
    head = ("Back up, all others clear", "Can be blocked", "Shows first at", "Cable")
    return (
        Bullets(tuple(_how_to_read(house))),
        *table("Signs and stoppages", head, rows, (2.4, 2.5, 1.9, 5.4)),
        Para(("One alone that is not listed: its own trap and arm.",)),
        *one_sign_blocks(house),
        *_missed(house),
        Bullets(tuple(_rules(house, answers))),
    )


def _rows(house: House, answers: list[Stoppage]) -> Iterator[tuple[Line, ...]]:
    """Yield the lowest opening that rises, then each place alone, stacks where they meet."""
    if rising := lowest_rises(house):
        sign, there = rises(house, rising)
        _, legs, _, cable = _row(house, rising)
        below = any(answer.stretches == rising.stretches for answer in answers)
        yield sign, legs, there, ("as below where the same can be blocked",) if below else cable
    stacks = {found.answer.stretches: found for found in stacks_together(house)}
    for answer in answers:
        sign, *rest = _row(house, answer)
        for legs in (legs for legs in stacks if legs[0] == answer.stretches[0]):
            if legs == answer.stretches:
                sign = (*sign, "; or ", *on_stacks(house, stacks[legs]))
            else:
                row = _row(house, stacks[legs].answer)
                yield _begun(on_stacks(house, stacks[legs])), *row[1:]
        yield sign, *rest


def _begun(line: Line) -> Line:
    """Return a line whose first words begin it."""
    first, *rest = line
    return (capital(first) if isinstance(first, str) else first, *rest)


def _own(house: House, leg: str) -> bool:
    return house.drains.legs[leg].own


def _row(house: House, answer: Stoppage) -> tuple[Line, ...]:
    units = house.record.house.units
    stretches = [leg for leg in answer.stretches if not _own(house, leg)]
    tries = [
        _try(each.within, stretches, units) for each in answer.cleanouts if each.fits is not False
    ]
    return (
        (capital(group_words(house, answer.backs_up)),),
        blocked(house, answer),
        comes_up(house, answer),
        joined([*tries, *two_ways(answer), *no_cleanout(house, answer)], ";\n"),
    )


def _try(each: Try, stretches: list[str], units: Units) -> Line:
    """A cleanout, the way, which of these stretches it gets to if not all, the cable, the sizes."""
    way = "down" if each.direction == "downstream" else "up"
    whole = {step.stretch for step in each.steps if step.whole}
    only = [leg if leg in whole else f"part of {leg}" for leg in each.reaches]
    to = f" to {' and '.join(only)}" if only != stretches else ""
    said = f" {way}{to}, {cable_words(each.near, each.far, units)}, {', '.join(each.through)}"
    space = "" if each.space_known else f" ({SPACE_UNKNOWN})"
    return (Tag(each.id), said + space + strays(each, units), *flap_first(each.valves))


def _how_to_read(house: House) -> Iterator[Line]:
    """What the columns mean: the ways, the lengths, the order; and how the stretches run."""
    end = house.drains.discharge
    toward = f", toward the {lower(house.items[end].name)}" if end else ""
    yield (
        f"Down: with the flow{toward}. Up: against the flow. Cable is counted from the "
        "cleanout's opening to the near and to the far end of what can be blocked; then the pipe "
        "sizes on the way. Which cable fits stands on the cleanout's own page.",
    )
    first = published("drain_diagnosis").values["opening"]["first"]
    yield (
        f"Cleanouts stand in the order to try them: {first}; of these the nearest. Each only as "
        "far as one cable takes all sizes on the way.",
    )
    yield (f"Which runs into which: {'; '.join(_chains(house))}.",)


def _chains(house: House) -> Iterator[str]:
    """Yield each way down by its stretches, up to where it joins one that was told before."""
    tree, told = house.drains, set[str]()
    stretches = [leg for leg in tree.legs if not tree.legs[leg].own]
    heads = [leg for leg in stretches if all(tree.legs[up].own for up in tree.above[leg])]
    for head in heads:
        way = tree.downhill(head)
        new = [leg for leg in way if leg not in told]
        told.update(new)
        yield " > ".join(way[: len(new) + 1])


def _missed(house: House) -> tuple[Block, ...]:
    gaps = [_gap(house, gap) for gap in unreached(house)]
    if not gaps:
        return (Para(("A cable from a cleanout reaches every stretch.",)),)
    said = joined(gaps, "; ")
    return (Para(("No cable from a cleanout surely reaches: ", *said, ".")),)


def _gap(house: House, gap: Unreached) -> Line:
    part = part_words(gap, house.record.house.units)
    return (Tag(gap.stretch), f" ({part})") if part else (Tag(gap.stretch),)


def _rules(house: House, answers: list[Stoppage]) -> list[Line]:
    """What a plumber holds to here, and how a two-way cleanout is read."""
    diagnosis = published("drain_diagnosis")
    opening, reading = diagnosis.values["opening"], diagnosis.values["two_way"]
    lines: list[Line] = [(f"{capital(opening[rule])}.",) for rule in ("never", "ease")]
    lines += _at_a_fixture(house, answers)
    stand = [it for on in house.drains.equipment.values() for it in on]
    for valve in (it.id for it in stand if it.kind == BACKWATER):
        lines.append(("Backwater valve ", Tag(valve), f": {at_flap(house, valve)}."))
    for pump in (it.id for it in stand if it.kind == EJECTOR):
        lines.append(("Sewage ejector ", Tag(pump), f": {diagnosis.values['check']}."))
    both = [(Tag(c.id),) for c in house.drains.cleanouts.values() if c.kind == "two-way"]
    if both:
        said = f": {reading['standing']}; {reading['empty']}; {reading['low_water']}."
        lines.append(("Two-way cleanout ", *joined(both), said))
    lines.append((f"Instead of a cable {jetting(house.record.house.units)}.",))
    cables, jets = published("drain_cables").cited, published("drain_jetting").cited
    at_fixtures = published("cable_entries").cited
    said = f"{diagnosis.cited}; cables: {cables}; at fixtures: {at_fixtures}; jetters: {jets}."
    lines.append((f"Sources: {said}",))
    return lines


def _at_a_fixture(house: House, answers: list[Stoppage]) -> Iterator[Line]:
    """Yield what comes before a cable goes in at a fixture, where one does in these answers."""
    entries = [entry for answer in answers for entry in answer.at_fixtures]
    if entries:
        said = f"At a fixture, {published('cable_entries').values['before']}."
        augers = any(entry.auger_first for entry in entries)
        more = f" {capital(auger_words(house.record.house.units))}." if augers else ""
        yield (said + more,)
