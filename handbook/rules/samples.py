"""How what to record next is written, and where in the record it goes.

A sample can be added as it stands: its ids are free, and it names only rooms and things that the
record has. Where the record has too little for any, none is shown.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from handbook.record import shapes
from handbook.record.entry import Entry
from handbook.record.fitting import known
from handbook.record.grammar.common import each
from handbook.record.grammar.places import OUTSIDE, Door, Level, Stair
from handbook.record.grammar.record import Record
from handbook.record.grammar.water import Valve, Water
from handbook.record.ids import STREET
from handbook.record.problems import Mark
from handbook.record.pruning import pruned, spread
from handbook.record.starting import TO_WRITE
from handbook.rules import facts
from handbook.rules.rule import Fact


@dataclass(frozen=True)
class Added:
    """Lines to add, and `under` what; empty where they stand by themselves."""

    lines: tuple[str, ...]
    under: str = ""


WHERE = f"{TO_WRITE}: where it is)"
"""Stands for words that nobody but who has seen it can write; a rule finds them until then."""

Sample = tuple[Added, ...]
"""All that has to be added for one fact; nothing where the record has too little for it yet."""


def sample(fact: Fact, record: Record) -> Sample:
    """Show how a fact is written: the first key that it names, like "`drains: cleanouts`"."""
    if fact in _OWN:
        return _OWN[fact](record)
    path = re.search("`([a-z_: ]+)`", fact.says)
    return _generic(record, path[1].split(": ")) if path else ()


def _generic(record: Record, path: Sequence[str]) -> Sample:
    model: type[Entry] = Record
    for key in path[:-1]:
        field = shapes.field_of(model, key)
        if field is None or not shapes.entries(field):
            return ()
        model = shapes.entries(field)[0]
    field = shapes.field_of(model, path[-1])
    if field is None:
        return ()
    if _fact(record, path) is not None:
        return ()  # it is there, and lacks something that it says itself
    kinds = shapes.entries(field)
    if not kinds or not kinds[0].written:
        return _placed(record, path, shapes.example(path[-1], field).partition(": ")[2])
    keys = pruned(kinds[0].written, kinds[0], known(record))
    return _placed(record, path, f"{{{keys}}}", shapes.is_list(field)) if keys else ()


def _placed(record: Record, path: Sequence[str], value: str, in_list: bool = False) -> Sample:
    """Leave off the keys that stand in the record already, and say where they stand."""
    value = re.sub(r"\bwhere: [^,{}']+", f"where: '{WHERE}'", value)
    there = next(n for n in range(len(path), -1, -1) if not n or record.key_stands(*path[:n]))
    is_unknown = there > 0 and _fact(record, path[:there]) is None
    if is_unknown:
        under, there = _named("in place of", record, path[:there], " unknown"), there - 1
    else:
        under = _named("under", record, path[:there]) if there else ""
    if braces := record.braces(*path[:there]):
        of = f"`{': '.join(path[:there])}:`" if there else "the whole record"
        inside = f"inside the {_BRACES[there == len(path)]} of {of}"
        under = under if is_unknown else f"{inside} (line {braces.line}), parted by a comma"
    return (Added(_written(path[there:], value, in_list, braces), under),)


_BRACES = {False: "braces", True: "brackets"}


def _written(
    keys: Sequence[str], value: str, in_list: bool, braces: Mark | None
) -> tuple[str, ...]:
    """Write as what stands there already: inside braces nothing can start a line of its own."""
    if braces:
        return (_in_one_line(keys, value, in_list),)
    return _below_each_other(keys, value, in_list)


def _in_one_line(keys: Sequence[str], value: str, in_list: bool) -> str:
    """Write keys and a value as they go between braces: `tees: [{id: GT1}]`."""
    if not keys:
        return value
    said = f"[{value}]" if in_list else value
    for key in reversed(keys[1:]):
        said = f"{{{key}: {said}}}"
    return f"{keys[0]}: {said}"


def _below_each_other(keys: Sequence[str], value: str, in_list: bool) -> tuple[str, ...]:
    above = [f"{'  ' * number}{key}:" for number, key in enumerate(keys)]
    pad = "  " * len(above)
    if in_list:
        return (*above, f"{pad}- {value}")
    if value.startswith("{"):
        return (*above, *(f"{pad}{line}" for line in spread(value)))
    return (*above[:-1], f"{above[-1]} {value}")


def _fact(record: Record, path: Sequence[str]) -> object:
    found: object = record
    for key in path:
        found = getattr(found, key, None)
    return found


def _named(said: str, record: Record, path: Sequence[str], value: str = "") -> str:
    mark = record.key_stands(*path)
    return f"{said} `{': '.join(path)}:{value}` (line {mark.line})" if mark else ""


def _valve(record: Record, keys: str) -> Sample:
    """A valve that hangs on the source itself: nothing of the record stands before it."""
    source = next((one.id for one in each((record.water or Water()).sources)), STREET)
    own = pruned(keys, Valve, known(record))
    return _placed(record, ("water", "valves"), f"{{{own}, from: {source}}}", in_list=True)


def _people(record: Record) -> Sample:
    """Both of those that are asked for."""
    emergency, plumber = 'role: emergency, phone: "911"', "role: licensed plumber, phone: 000-0000"
    if record.braces():
        return _placed(record, ("people",), f"[{{{emergency}}}, {{{plumber}}}]")
    (added,) = _placed(record, ("people",), f"{{{emergency}}}", in_list=True)
    return (Added((*added.lines, f"  - {{{plumber}}}"), added.under),)


def _main(record: Record) -> Sample:
    return _valve(record, "id: W1, name: Main shutoff, main: yes, kind: ball")


def _utility_valve(record: Record) -> Sample:
    """The utility's valve, and that the mains which nothing feeds yet hang on it."""
    name = pruned("id: U1", Valve, known(record)).removeprefix("id: ")
    keys = f"id: {name}, name: Valve at the street, utility: yes, kind: curb stop"
    added = _valve(record, f"{keys}, place: {{level: outside, where: in the box at the walk}}")
    mains = [v for v in each((record.water or Water()).valves) if v.main and v.from_ is None]
    return (*added, *(Added((f"from: {name}",), _at("the main", main)) for main in mains))


def _inside_main(record: Record) -> Sample:
    """The main that may be it: not named as the outside one, and not recorded outdoors."""
    supply = record.water or Water()
    mains = [v for v in each(supply.valves) if v.main and not v.utility]
    fit = [v.id for v in mains if v.id != supply.outside_main and not _is_outdoors(v)]
    return _placed(record, ("water", "inside_main"), fit[0] if fit else "none")


def _is_outdoors(valve: Valve) -> bool:
    return valve.place is not None and OUTSIDE in (valve.place.level, valve.place.room)


def _outside_main(record: Record) -> Sample:
    """None: a main that is recorded outdoors answers it by itself."""
    return _placed(record, ("water", "outside_main"), "none")


def _doors(record: Record) -> Sample:
    """Doors go under their level: each that has rooms to join and no doors."""
    bare = [v for v in each(record.levels) if v.doors is None and len(each(v.rooms)) > 1]
    return tuple(_door(level) for level in bare)


def _door(level: Level) -> Added:
    keys = pruned(Door.written, Door, {room.id: type(room) for room in each(level.rooms)})
    return Added(_written(["doors"], f"{{{keys}}}", True, level.braces()), _at("the level", level))


def _at(said: str, entry: Level | Valve) -> str:
    if entry.braces():
        return (
            f"inside the braces of {said} `{entry.id}` (line {entry.mark.line}), parted by a comma"
        )
    return f"under {said} `{entry.id}` (line {entry.mark.line})"


def _stairs(record: Record) -> Sample:
    """Stairs lead from a room of a level to one of the level above it."""
    rooms = [each(level.rooms)[0].id for level in each(record.levels) if each(level.rooms)]
    if len(rooms) < 2:
        return ()
    low, high, *_ = rooms
    written = f"id: stairs, foot: {{room: {low}}}, head: {{room: {high}}}, steps: 15"
    keys = pruned(written, Stair, known(record))
    return _placed(record, ("stairs",), f"{{{keys}}}", in_list=True)


_OWN: dict[Fact, Callable[[Record], Sample]] = {
    facts.PEOPLE: _people,
    facts.MAIN: _main,
    facts.UTILITY_VALVE: _utility_valve,
    facts.INSIDE_MAIN: _inside_main,
    facts.OUTSIDE_MAIN: _outside_main,
    facts.DOORS: _doors,
    facts.STAIRS: _stairs,
}
"""Facts whose sample depends on more of the record than what a field may hold."""
