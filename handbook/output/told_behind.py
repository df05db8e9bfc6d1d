"""What a room hides, as text for a terminal and as JSON for machines."""

import json
from collections.abc import Iterator, Mapping

from handbook.answers.behind import Behind, anywhere, either
from handbook.answers.finding.along_wall import along
from handbook.answers.finding.hidden_pipes import Piped
from handbook.answers.finding.which_wall import wall_at, wall_of
from handbook.house.house import House
from handbook.measures import Length, say_length


def as_json(house: House, answer: Behind) -> str:
    """Return `room`, `in_walls` (each with its `wall`, where the record tells, and the inches
    along it from its left corner, as one faces it, at which the pipe ends), `plates`,
    `in_floor_or_ceiling`, `insulation`, `photos`, and `anywhere`: pipes of which nobody knows
    which rooms they pass."""
    said = {
        "room": answer.room,
        "in_walls": [_pipe(pipe) | _wall(house, pipe, answer.room) for pipe in answer.in_walls],
        "in_floor_or_ceiling": [_pipe(pipe) for pipe in answer.in_floor_or_ceiling],
        "plates": [shield.plate for shield in answer.shields],
        "insulation": [insulation.what for insulation in answer.insulation],
        "photos": [photo.file for photo in answer.photos],
        "anywhere": [_pipe(pipe) for pipe in anywhere(house)],
    }
    return json.dumps(said, indent=2, ensure_ascii=False)


def _wall(house: House, pipe: Piped, room: str) -> dict[str, object]:
    wall = wall_of(house, pipe, room)
    inches = along(house, pipe, room, wall) if wall else None
    return {"wall": wall or None, "along_in": None if inches is None else round(inches, 1)}


def _pipe(pipe: Piped) -> dict[str, object]:
    run = pipe.run
    return {
        "to": pipe.end.removesuffix(".in"),
        "system": pipe.system,
        "size": str(run.size) if run and run.size else None,
        "material": getattr(run, "material", None),
        "way": pipe.way or None,
        "floor_or_wall_known": not either(pipe),
    }


def as_text(house: House, answer: Behind) -> str:
    """Return a line a pipe, plate and photo, and what may be behind any wall."""
    name = house.places.rooms[answer.room][0].name
    if not answer.anything:
        lines = [f"{name}: nothing is recorded behind its walls. It may be there all the same."]
    else:
        lines = [f"{name}: behind its walls, floor and ceiling"]
    walls = {pipe.end: _wall_words(house, pipe, answer.room) for pipe in answer.in_walls}
    lines += _listed(house, "In its walls", answer.in_walls, walls)
    lines += _listed(house, "In its floor or ceiling", answer.in_floor_or_ceiling)
    lines += [f"Plates: {shield.plate or 'not recorded'}" for shield in answer.shields]
    lines += [f"Insulation: {insulation.what}" for insulation in answer.insulation]
    lines += [f"Photo: {photo.file} ({photo.caption})" for photo in answer.photos]
    lines += _listed(house, "Which rooms these pass is not recorded", anywhere(house))
    return "\n".join(lines)


def _wall_words(house: House, pipe: Piped, room: str) -> str:
    sure = wall_of(house, pipe, room)
    wall = sure or wall_at(house, house.items[pipe.thing].place, room)
    inches = along(house, pipe, room, wall) if wall else None
    if inches is None:
        return sure
    far = say_length(Length(round(inches)), house.record.house.units)
    return f"{wall}, ends {far} from its left corner as you face it"


def _listed(
    house: House, title: str, pipes: tuple[Piped, ...], walls: Mapping[str, str] | None = None
) -> Iterator[str]:
    if pipes:
        yield f"{title}:"
    for pipe in pipes:
        size = f", {pipe.run.size}" if pipe.run and pipe.run.size else ""
        way = f", {pipe.way}" if pipe.way else ""
        known = (walls or {}).get(pipe.end)
        wall = f", {known}" if known else ""
        unsure = ", floor or wall not recorded" if either(pipe) else ""
        yield f"  {_named(house, pipe)}{size}{wall}{way}{unsure}"


def _named(house: House, pipe: Piped) -> str:
    """Say which pipe: a stretch and a vent are pipes themselves, a fixture's pipe has a side."""
    called = house.called(pipe.thing)
    if pipe.system == "drain":
        own = house.items[pipe.thing].system == "drain"
        return f"drain: {called}" if own else f"drain from {called}"
    side = pipe.end.rpartition(".")[2]
    kind = f"{side} water" if side in ("cold", "hot") else pipe.system
    return f"{kind} pipe to {called}"
