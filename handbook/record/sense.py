"""Does a well-formed record make sense: ids that exist, once each, and lines that lead somewhere.

Two passes, as `reading` runs them: `check_ids`, and `check_sense` on what is left without the ids
that are wrong, so that one slip is not reported ten times. Each takes the record and yields
problems. What the file says and could not be read (`lost`) is neither there nor missing: nothing is
reported that may only follow from it.
"""

from collections.abc import Iterator

from handbook.record import ids
from handbook.record.circles import check_circles
from handbook.record.entry import Entry
from handbook.record.figures import check_figures
from handbook.record.fitting import free
from handbook.record.grammar import drains, places, water
from handbook.record.grammar.common import Stop, each
from handbook.record.grammar.record import Record
from handbook.record.marks import Tree
from handbook.record.mending import ids_in, texts
from handbook.record.naming import id_meant, plain
from handbook.record.problems import Problem, nearest
from handbook.record.ways import check_ways, levels

_SAID = {
    "Source": "a water source",
    "Meter": "the meter",
    "Valve": "a valve",
    "Tee": "a tee",
    "Manifold": "a manifold",
    "Equipment": "equipment in the line",
    "Softener": "a softener",
    "Recirculation": "the recirculation pump",
    "Heater": "a water heater",
    "Stop": "a stop",
    "Stretch": "a stretch of drain",
    "Discharge": "the discharge",
    "GasMeter": "the gas meter",
    "Regulator": "a regulator",
    "GasTee": "a gas tee",
    "GasValve": "a gas valve",
    "GasOutlet": "a gas outlet",
    "Appliance": "an appliance",
    "Cleanout": "a cleanout",
    "Vent": "a vent",
    "Sensor": "a leak sensor",
    "Pan": "a pan",
    "Panel": "the breaker panel",
    "Fixture": "a fixture",
    "Level": "a level",
    "Room": "a room",
    "Thing": "a thing with an id",
    "Photo": "a photo",
}


Known = dict[str, list[Entry]]
"""What has an id, by its id: more than one only where that is a slip of its own."""


def check_ids(record: Record) -> Iterator[Problem]:
    """Yield a problem for each id given twice and each reference that leads nowhere."""
    yield from _twice(record)
    things, rooms = Known(), Known()
    for name, entry, is_place in ids.declared(record):
        (rooms if is_place else things).setdefault(name, []).append(entry)
    words, given_there = _lost_words(record), _lost_ids(record)
    gas = ids.gas_stops(record)
    for pointer in ids.pointers(record):
        if not ids.always_there(pointer) and pointer.ref.casefold() not in words:
            yield from _astray(pointer, rooms if pointer.at_place else things, given_there)
            yield from _of_another_system(pointer, things.get(pointer.ref, []), gas)


def _lost(record: Record) -> Iterator[Tree]:
    return (node for entry in ids.entries(record) for _, node in entry.lost)


def _lost_words(record: Record) -> set[str]:
    """Return every word of what could not be read: any of them may be an id that is given there."""
    return {word.casefold() for node in _lost(record) for word in texts(node)}


def _lost_ids(record: Record) -> set[str]:
    return {name for node in _lost(record) for name in ids_in(node)}


def _twice(record: Record) -> Iterator[Problem]:
    """Places and things share one set of ids, so that a command's word is never two things."""
    first: dict[str, Entry] = {}
    taken = {name.casefold() for name, _, _ in ids.declared(record)} | set(ids.TAKEN)
    for name, entry, _ in ids.declared(record):
        key = name.casefold()
        if (why := ids.TAKEN.get(key)) and not (
            key == ids.STREET and isinstance(entry, water.Source)
        ):
            yield Problem(entry.mark_of("id"), f"the id `{name}` is taken: {why}", "choose another")
        if key in first:
            yield _given_twice(name, entry, first[key], taken)
        first.setdefault(key, entry)


def _given_twice(name: str, entry: Entry, other: Entry, taken: set[str]) -> Problem:
    """A tag that is hung twice, or two that whoever reads one aloud cannot tell apart."""
    mark, line = entry.mark_of("id"), other.mark_of("id").line
    new = f"choose another, like `{free(name, taken)}`"
    known = getattr(other, "id", name)
    if known == name:
        hint = f"it stands first at line {line}, as the id of {_said(other)}; "
        hint += f"here it is that of {_said(entry)}: {new}"
        return Problem(mark, f"the id `{name}` is given twice", hint)
    hint = (
        f"`{known}` stands at line {line}, as the id of {_said(other)}; read aloud they are one: "
    )
    message = f"the ids `{known}` and `{name}` differ in capitals alone"
    return Problem(mark, message, f"{hint}{new}")


def _said(entry: Entry) -> str:
    """Say what kind of thing an entry is, as far as there is a word for it."""
    return _SAID.get(type(entry).__name__, "a thing")


def _astray(pointer: ids.Pointer, known: Known, lost: set[str]) -> Iterator[Problem]:
    mark = pointer.entry.mark_of(pointer.field)
    found = known.get(pointer.ref, [])
    wanted = _list(pointer.kinds)
    if not found:
        fit = [n for n, there in known.items() if any(isinstance(t, pointer.kinds) for t in there)]
        there = {name: next(t for t in known[name] if isinstance(t, pointer.kinds)) for name in fit}
        kinds = {name: type(entry) for name, entry in there.items()}
        meant = id_meant(pointer.ref, pointer.kinds, kinds, _names(there))
        near = meant or nearest(pointer.ref, lost)
        if water.Source in pointer.kinds:
            wanted += f"; the utility's main is `{ids.STREET}`"
        hint = f"did you mean `{near}`?" if near else f"this must be the id of {wanted}"
        yield Problem(mark, f"nothing in this record has the id `{pointer.ref}`", hint)
    elif not any(isinstance(each, pointer.kinds) for each in found):
        said = _SAID.get(type(found[-1]).__name__, "something else")
        yield Problem(mark, f"`{pointer.ref}` is {said}", f"this must be the id of {wanted}")


def _names(there: dict[str, Entry]) -> dict[str, str]:
    named = ((own, getattr(entry, "name", None)) for own, entry in there.items())
    return {plain(name): own for own, name in named if isinstance(name, str)}


def _of_another_system(
    pointer: ids.Pointer, found: list[Entry], gas: set[str]
) -> Iterator[Problem]:
    """A gas pipe from a water stop, or the other way round: both are stops."""
    stops = bool(found) and all(isinstance(entry, Stop) for entry in found)
    system = "gas" if pointer.ref in gas else "water"
    if stops and pointer.system not in ("", system):
        said = "a gas shutoff" if system == "gas" else "a stop for water"
        hint = f"this must be the id of {_list(pointer.kinds)}, for {pointer.system}"
        yield Problem(pointer.entry.mark_of(pointer.field), f"`{pointer.ref}` is {said}", hint)


def _list(kinds: ids.Kinds) -> str:
    words = [_SAID.get(kind.__name__, kind.__name__.lower()) for kind in kinds]
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " or " + words[-1]


def check_sense(record: Record) -> Iterator[Problem]:
    """Yield a problem for each line that runs in a circle or place that contradicts itself."""
    lost = _lost_ids(record)
    yield from check_circles(record, lost)
    yield from _vents_end_once(record)
    yield from _rooms_on_levels(record, lost)
    yield from _outlines(record)
    yield from check_ways(record, lost)
    yield from _mains(record, lost)
    yield from check_figures(record)


def _vents_end_once(record: Record) -> Iterator[Problem]:
    """Report a vent that joins another one and leaves the house by itself as well."""
    for vent in each((record.drains or drains.Drains()).vents):
        if vent.to and vent.ends:
            yield Problem(
                vent.mark_of("ends"),
                f"{vent.id} joins {vent.to} (`to`), so it does not end here",
                "leave out `ends`, or `to` if it goes on by itself",
            )


def _rooms_on_levels(record: Record, lost: set[str]) -> Iterator[Problem]:
    level_of = levels(record, lost)
    for entry in ids.entries(record):
        place = getattr(entry, "place", None)
        if place is None or not place.level or not place.room or place.room == places.OUTSIDE:
            continue
        there = level_of.get(place.room)
        if there is not None and there.id != place.level:
            yield Problem(
                place.mark_of("room"),
                f"the room `{place.room}` is on the level `{there.id}`, not on `{place.level}`",
                "give the right level, or leave it out: the room says it",
            )


def _outlines(record: Record) -> Iterator[Problem]:
    for level in each(record.levels):
        for room in each(level.rooms):
            if room.outline is not None and len(set(room.outline)) < 3:
                yield Problem(
                    room.mark_of("outline"),
                    f"the outline of `{room.id}` has fewer than three corners",
                    "list the corners in order round the room: [[0 ft, 0 ft], [12 ft, 0 ft], ...]",
                )


def _mains(record: Record, lost: set[str]) -> Iterator[Problem]:
    supply = record.water or water.Water()
    valves = {valve.id: valve for valve in each(supply.valves) if valve.id not in lost}
    for field in ("inside_main", "outside_main"):
        named = valves.get(getattr(supply, field))
        if named is not None and not named.main and not named.may_say("main"):
            yield Problem(
                supply.mark_of(field),
                f"`{named.id}` is not a main shutoff: its entry does not say `main: yes`",
                f"add `main: yes` to `{named.id}` (line {named.mark.line}), or name another valve",
            )
