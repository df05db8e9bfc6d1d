"""Stoppage as text for a terminal and as JSON for machines."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict

from handbook.answers.draining.at_flaps import at_flap
from handbook.answers.draining.blocked import Overflow
from handbook.answers.draining.cable_fit import advice
from handbook.answers.draining.cable_walk import Reached
from handbook.answers.draining.cable_way import CableWay
from handbook.answers.draining.cable_words import auger_words, cable_words
from handbook.answers.draining.fixture_entries import FixtureEntry, closet_auger
from handbook.answers.draining.standing_waste import standing_words
from handbook.answers.draining.stoppage_said import leg_name
from handbook.answers.draining.tries import SPACE_UNKNOWN, Try
from handbook.answers.stoppage import Stoppage
from handbook.house.house import House
from handbook.output.told_reach import aside, can_stand, opened_below, sentence_of, stray_lines
from handbook.tables import table

SHOWN = 4
"""How many cleanouts are told in the text; the others are in the JSON."""


def stoppage_json(house: House, answer: Stoppage) -> str:
    """Return the whole answer; `cable_ft` is `[near, far]` in feet, null where not recorded.

    `overflows_first` is where it runs over first, at a rim; `shows_first` where it is seen first,
    at a drain's opening. `at_fixtures` has, like `cleanouts`, where a cable goes in at a fixture
    for what no fitting cable from a cleanout gets to: `how`, from where it is `counted_from`, and
    the `closet_auger` that comes before it, or null.
    """
    said = {
        "backs_up": answer.backs_up,
        "clear": answer.clear,
        "stretches": answer.stretches,
        "overflows_first": answer.overflows_first,
        "overflow_candidates": answer.overflow.candidates,
        "shows_first": answer.shows.first,
        "shows_candidates": answer.shows.candidates,
        "do_not_use": answer.do_not_use,
        "may_use": answer.may_use,
        "cleanouts": [_try(house, each, answer.stretches) for each in answer.cleanouts],
        "at_fixtures": [_entry(house, each) for each in answer.at_fixtures],
        "two_way": [
            {"id": each.id, "standing": each.standing, "empty": each.empty}
            for each in answer.two_way
        ],
        "call": answer.call,
        "also_call": answer.also_call,
        "beyond": answer.beyond,
        "tells_more": answer.tells_more,
        "apart": answer.apart,
        "said": answer.said,
        "assumed": answer.assumed,
        "missing": answer.missing,
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def _try(house: House, each: Try, stretches: Sequence[str]) -> dict[str, object]:
    return _way(house, each) | {
        "outdoors": each.outdoors,
        "strays": [aside(met) for met in each.strays],
        "lets_waste_out": each.lets_out,
        "can_stand_above": can_stand(house, each.id, stretches),
        "space_known": each.space_known,
        "lid_lets_waste_out": each.floods,
    }


def _entry(house: House, each: FixtureEntry) -> dict[str, object]:
    auger = asdict(closet_auger()) if each.auger_first else None
    return _way(house, each) | {
        "how": each.how,
        "counted_from": each.counted_from,
        "closet_auger": auger,
    }


def _way(house: House, each: CableWay) -> dict[str, object]:
    return {
        "id": each.id,
        "direction": each.direction,
        "cable_ft": list(each.cable_ft),
        "through": each.through,
        "reaches": each.reaches,
        "valves": each.valves,
        "cable": advice(each.steps, house.record.house.units),
    }


def stoppage_text(house: House, answer: Stoppage) -> str:
    """Return the answer in plain words, the warning first."""
    opening = table("drain_diagnosis").values["opening"]
    lines = [sentence_of(opening["never"]), ""]
    names = [leg_name(house, leg) for leg in answer.stretches]
    lines.append("Can be blocked: " + ("; ".join(names) or "no one stretch explains it"))
    lines += [f"   {each}" for each in answer.said]
    lines.append("Shows first at: " + _lowest(house, answer.shows, "drain openings"))
    lines.append("Runs over first at: " + _lowest(house, answer.overflow, "rims"))
    lines.append("Do not use: " + (_names(house, answer.do_not_use) or "nothing"))
    lines.append("May be used: " + (_names(house, answer.may_use) or "nothing"))
    lines += ["", *_who(answer)]
    if answer.cleanouts:
        lines += ["", "For the plumber, in this order:", f"   {opening['ease']}"]
    for number, each in enumerate(answer.cleanouts[:SHOWN], 1):
        lines += _told(house, number, each, answer.stretches)
    if len(answer.cleanouts) > SHOWN:
        lines.append(f"({len(answer.cleanouts) - SHOWN} more: --json)")
    lines += _at_fixtures(house, answer.at_fixtures)
    for two in answer.two_way:
        lines.append(f"If {two.id} stands full when its plug is eased: {', '.join(two.standing)}.")
        lines.append(f"If {two.id} is empty: {', '.join(two.empty)}.")
    if answer.tells_more:
        lines.append(f"It would tell more to know of: {_names(house, answer.tells_more)}")
    lines += [f"Assumed: {each}" for each in answer.assumed]
    return "\n".join([*lines, *(f"Not known: {each}" for each in answer.missing)])


def _lowest(house: House, found: Overflow, what: str) -> str:
    if found.first and len(found.candidates) > 1:
        return _names(house, found.candidates) + f" ({what} of one height)"
    if found.first:
        return house.called(found.first)
    one_of = _names(house, found.candidates)
    return f"one of {one_of}; which is not recorded" if one_of else "not recorded"


def _who(answer: Stoppage) -> list[str]:
    if answer.call == "plunger":
        return ["Try a plunger. If it stays slow, call a licensed plumber."]
    also = f"; also the {answer.also_call[0]}" if answer.also_call else ""
    return [f"Call a licensed plumber{also}."]


def _told(house: House, number: int, each: Try, stretches: Sequence[str]) -> list[str]:
    units = house.record.house.units
    lines = [
        f"{number}. {house.called(each.id)}, {each.direction}: "
        f"{cable_words(each.near, each.far, units)} of cable from its opening, through "
        f"{', '.join(each.through)}",
        f"   reaches {', '.join(map(_reached, each.steps))}; {advice(each.steps, units)}",
        f"   where: {house.where(each.id) or 'not recorded'}",
    ]
    if not each.space_known:
        lines.append(f"   {SPACE_UNKNOWN}")
    lines += [f"   first at {valve}: {at_flap(house, valve, stretches)}" for valve in each.valves]
    for met in each.strays:
        lines += stray_lines(house, met, stretches)
    if each.lets_out and (stands := standing_words(house, each.id, stretches)):
        lines.append(f"   {opened_below(stands)}")
    return lines


def _at_fixtures(house: House, entries: Sequence[FixtureEntry]) -> list[str]:
    if not entries:
        return []
    units = house.record.house.units
    before = table("cable_entries").values["before"]
    lines = ["", f"For the plumber, at a fixture, for what no cleanout serves; {before}:"]
    for each in entries:
        lines.append(f"{house.called(each.id)}:")
        lines += [f"   first {auger_words(units)}; then"] if each.auger_first else []
        lines += [
            f"   {each.how}, downstream: {cable_words(each.near, each.far, units)} of cable from "
            f"{each.counted_from}, through {', '.join(each.through)}",
            f"   reaches {', '.join(map(_reached, each.steps))}; {advice(each.steps, units)}",
        ]
        lines += [f"   first at {valve}: {at_flap(house, valve)}" for valve in each.valves]
    return lines


def _reached(step: Reached) -> str:
    return step.stretch if step.whole else f"{step.stretch} (in part)"


def _names(house: House, things: Iterable[str]) -> str:
    return "; ".join(house.called(thing) for thing in things)
