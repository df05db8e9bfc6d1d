"""Spill, drain-down and shut-down as text for a terminal and as JSON for machines."""

import dataclasses
import json
from collections.abc import Iterable, Iterator

from handbook.answers.drain_down import DrainDown, Leaving, said_much, said_time
from handbook.answers.pan_flow import PanFlow
from handbook.answers.route import counted
from handbook.answers.shut_down import Do, ShutDown
from handbook.answers.spill import Spill
from handbook.measures import Flow, Units, Volume, say_flow, say_volume

BUT = "but for what stands in its tubes or hoses"


def as_json(answer: Spill | DrainDown | ShutDown | tuple[PanFlow, ...]) -> str:
    """Return the answer's own fields; gallons, gpm and seconds whatever the house's units."""
    if isinstance(answer, tuple):
        return json.dumps([dataclasses.asdict(pan) for pan in answer], indent=2)
    fields = dataclasses.asdict(answer)
    if isinstance(answer, DrainDown):
        fields |= {"gallons": answer.gallons, "at_most": answer.at_most}
    return json.dumps(fields, indent=2, ensure_ascii=False)


def spill_text(answer: Spill, units: Units) -> str:
    """Return what runs, and what is on the floor once each step has been reached."""
    if answer.gpm is None:
        return _with_notes([f"{answer.name}: what it spills cannot be told"], answer)
    lines = [f"{answer.name}: {say_flow(Flow(answer.gpm), units)} from {answer.at}"]
    for step in answer.steps:
        valves = " and ".join(step.close)
        if step.seconds is None or step.gallons is None:
            lines.append(f"  {valves}: the way there is not known")
            continue
        floor = say_volume(Volume(step.gallons), units)
        lines.append(f"  {valves} reached after {step.seconds} s: {floor} on the floor")
        if step.after.at_most:
            more = say_volume(Volume(step.after.gallons), units)
            most = say_volume(Volume(step.after.at_most), units)
            much = more if more == most else f"{more} to {most}"
            least = step.after.seconds
            lasts = f", for about {counted(least)} s or longer" if least else ""
            lines.append(f"    then still {much}, standing above{lasts}; the valve has not failed")
    if answer.automatic and answer.automatic_gallons is not None:
        caught = say_volume(Volume(answer.automatic_gallons), units)
        lines.append(f"  {answer.automatic} by itself: {caught} on the floor")
    return _with_notes(lines, answer)


def drain_text(answer: DrainDown, units: Units) -> str:
    """Return what to close, where to drain, how much and how long."""
    lines = [f"Before work at {answer.name}:"]
    where = ""
    if answer.stops:
        stops = " and ".join(answer.stops)
        lines.append(f"  on its faucet, valve or hose: close {stops}; nothing to drain, {BUT}")
        where = "on its stops, or on the pipe to them: "
    if answer.close:
        lines.append(f"  {where}close {' and '.join(answer.close)}")
        lines += [f"  open {each}" for each in answer.open]
        lines += [f"  {each}" for each in answer.heater]
        lines += [line for way in answer.leaving for line in _leaving(way, units)]
    if answer.tank:
        held = say_volume(Volume(answer.tank), units)
        lines.append(f"  its own {held} leave by its drain valve; how fast is not known")
    return _with_notes(lines, answer)


def _leaving(way: Leaving, units: Units) -> Iterator[str]:
    """Say what leaves by one way: how much, where, how long, and where air comes in."""
    known, most = (said_much(much, units) for much in (way.gallons, way.at_most))
    side = f"{' and '.join(way.sides)}: " if way.sides else ""
    if not way.at_most:
        yield f"  {side}nothing is known to stand above it"
        return
    yield f"  {side}{known} above it" + (f", at most {most}" if most != known else "")
    lasts = f", {said_time(way.seconds)} or longer" if way.seconds else ""
    yield f"    drain at {way.low or 'the work itself: nothing lower is joined to it'}{lasts}"
    if way.high:
        yield f"    let air in at {way.high}"


def shut_down_text(answer: ShutDown, units: Units) -> str:
    """Return the order down, and the order back."""
    lines = ["To drain the house against a freeze:", *_numbered(answer.down)]
    if answer.gallons:
        lines.append(f"  ({say_volume(Volume(answer.gallons), units)} leave by the lowest tap)")
    lines += ["", "To bring it back:", *_numbered(answer.back)]
    return _with_notes(lines, answer)


def _numbered(steps: Iterable[Do]) -> list[str]:
    return [
        f"  {number}. {f'{step.thing}: ' if step.thing else ''}{step.do}"
        for number, step in enumerate(steps, 1)
    ]


def _with_notes(lines: list[str], answer: Spill | DrainDown | ShutDown) -> str:
    lines += [f"Assumed: {each}" for each in answer.assumed]
    lines += [f"Not known: {each}" for each in answer.missing]
    return "\n".join(lines)
