"""Does a well-formed record make sense: ids that exist, once each, and lines that lead somewhere.

Two passes, as `reading` runs them: `check_ids`, and `check_sense` only where the ids are right,
so that one slip is not reported ten times. Each takes the record and yields problems.
"""

from collections.abc import Iterator

from handbook.record import ids
from handbook.record.entry import Entry
from handbook.record.figures import check_figures
from handbook.record.grammar import drains, gas, places, water
from handbook.record.grammar.common import Fed, each, given
from handbook.record.grammar.record import Record
from handbook.record.problems import Problem, nearest
from handbook.record.ways import check_ways

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
    "Pan": "a pan",
    "Fixture": "a fixture",
    "Level": "a level",
    "Room": "a room",
    "Thing": "a thing with an id",
    "Photo": "a photo",
}


def check_ids(record: Record) -> Iterator[Problem]:
    """Yield a problem for each id given twice and each reference that leads nowhere."""
    yield from _twice(record)
    things = {name: entry for name, entry, is_place in ids.declared(record) if not is_place}
    rooms = {name: entry for name, entry, is_place in ids.declared(record) if is_place}
    for pointer in ids.pointers(record):
        if not ids.always_there(pointer):
            yield from _astray(pointer, rooms if pointer.at_place else things)


def _twice(record: Record) -> Iterator[Problem]:
    """Places and things share one set of ids, so that a command's word is never two things."""
    first: dict[str, Entry] = {}
    for name, entry, _ in ids.declared(record):
        key = name.casefold()
        if (why := ids.TAKEN.get(key)) and not (
            key == ids.STREET and isinstance(entry, water.Source)
        ):
            yield Problem(entry.mark_of("id"), f"the id `{name}` is taken: {why}", "choose another")
        if key in first:
            other = first[key]
            yield Problem(
                entry.mark_of("id"),
                f"the id `{name}` is given twice",
                f"it stands first at line {other.mark_of('id').line}, "
                f"as the id of {_said(other)}; here it is that of {_said(entry)}: choose another",
            )
        first.setdefault(key, entry)


def _said(entry: Entry) -> str:
    """Say what kind of thing an entry is, as far as there is a word for it."""
    return _SAID.get(type(entry).__name__, "a thing")


def _astray(pointer: ids.Pointer, known: dict[str, Entry]) -> Iterator[Problem]:
    mark = pointer.entry.mark_of(pointer.field)
    found = known.get(pointer.ref)
    wanted = _list(pointer.kinds)
    if found is None:
        fit = [name for name, entry in known.items() if isinstance(entry, pointer.kinds)]
        near = nearest(pointer.ref, fit)
        hint = f"did you mean `{near}`?" if near else f"this must be the id of {wanted}"
        yield Problem(mark, f"nothing in this record has the id `{pointer.ref}`", hint)
    elif not isinstance(found, pointer.kinds):
        yield Problem(
            mark,
            f"`{pointer.ref}` is {_SAID.get(type(found).__name__, 'something else')}",
            f"this must be the id of {wanted}",
        )


def _list(kinds: ids.Kinds) -> str:
    words = [_SAID.get(kind.__name__, kind.__name__.lower()) for kind in kinds]
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " or " + words[-1]


def check_sense(record: Record) -> Iterator[Problem]:
    """Yield a problem for each line that runs in a circle or place that contradicts itself."""
    yield from _circles(_water_feeds(record), "from", "so nothing feeds it")
    yield from _circles(_gas_feeds(record), "from", "so nothing feeds it")
    yield from _circles(_drain_falls(record), "to", "so it never leaves the house")
    yield from _circles(_vents_joined(record), "to", "so it never reaches the open air")
    yield from _vents_end_once(record)
    yield from _rooms_on_levels(record)
    yield from _outlines(record)
    yield from check_ways(record)
    yield from _mains(record)
    yield from check_figures(record)


Leads = dict[str, tuple[Entry, str, tuple[str, ...]]]
"""For each thing: its entry, the field that leads on, and the ids that it leads to."""


def _water_feeds(record: Record) -> Leads:
    feeds: Leads = {}
    for entry in ids.entries(record):
        if isinstance(entry, Fed):
            upstream: tuple[str, ...] = (entry.from_,) if entry.from_ else ()
            if isinstance(entry, water.Tee):
                upstream += tuple(feed.from_ for feed in each(entry.feeds))
            feeds[entry.id] = (entry, "from_", upstream)
    for heater in each(record.heaters):
        upstream = (heater.cold.from_,) if heater.cold and heater.cold.from_ else ()
        feeds[heater.id] = (heater, "cold", upstream)
    return feeds


def _gas_feeds(record: Record) -> Leads:
    return {
        entry.id: (entry, "from_", (entry.from_,) if entry.from_ else ())
        for entry in ids.entries(record)
        if isinstance(entry, gas.GasFed)
    }


def _drain_falls(record: Record) -> Leads:
    falls: Leads = {
        entry.id: (entry, "to", (entry.to,) if entry.to else ())
        for entry in ids.entries(record)
        if isinstance(entry, drains.Stretch)
    }
    for fixture in each(record.fixtures):
        if (drain := given(fixture.drain)) and drain.to:
            falls[fixture.id] = (drain, "to", (drain.to,))
    return falls


def _vents_joined(record: Record) -> Leads:
    return {
        vent.id: (vent, "to", (vent.to,) if vent.to else ())
        for vent in each((record.drains or drains.Drains()).vents)
    }


def _vents_end_once(record: Record) -> Iterator[Problem]:
    """Report a vent that joins another one and leaves the house by itself as well."""
    for vent in each((record.drains or drains.Drains()).vents):
        if vent.to and vent.ends:
            yield Problem(
                vent.mark_of("ends"),
                f"{vent.id} joins {vent.to} (`to`), so it does not end here",
                "leave out `ends`, or `to` if it goes on by itself",
            )


def _circles(leads: Leads, word: str, why: str) -> Iterator[Problem]:
    """Report things from which every way on leads back into a circle.

    A thing is right when one of its ways ends: at a source, outside this table, or at a hole.
    """
    right: set[str] = set()
    while True:
        more = {
            name
            for name, (_, _, onward) in leads.items()
            if name not in right
            and (not onward or any(n not in leads or n in right for n in onward))
        }
        if not more:
            break
        right |= more
    for name in leads:
        if name not in right and name == min(_ring(name, leads)):
            entry, field, _ = leads[name]
            ring = " -> ".join((*_ring(name, leads), name))
            yield Problem(
                entry.mark_of(field),
                f"following `{word}` from `{name}` leads in a circle, {why}",
                f"the circle is {ring}",
            )


def _ring(name: str, leads: Leads) -> tuple[str, ...]:
    """Return the ids met from `name` on until one repeats; the ring when `name` is in it."""
    met: list[str] = []
    while name not in met:
        met.append(name)
        name = leads[name][2][0]
    return tuple(met[met.index(name) :])


def _rooms_on_levels(record: Record) -> Iterator[Problem]:
    level_of = {room.id: level.id for level in each(record.levels) for room in each(level.rooms)}
    for entry in ids.entries(record):
        place = getattr(entry, "place", None)
        if place is None or not place.level or not place.room or place.room == places.OUTSIDE:
            continue
        if level_of[place.room] != place.level:
            yield Problem(
                place.mark_of("room"),
                f"the room `{place.room}` is on the level `{level_of[place.room]}`, "
                f"not on `{place.level}`",
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


def _mains(record: Record) -> Iterator[Problem]:
    supply = record.water or water.Water()
    valves = {valve.id: valve for valve in each(supply.valves)}
    for field in ("inside_main", "outside_main"):
        named = valves.get(getattr(supply, field))
        if named is not None and not named.main:
            yield Problem(
                supply.mark_of(field),
                f"`{named.id}` is not a main shutoff: its entry does not say `main: yes`",
                f"add `main: yes` to `{named.id}` (line {named.mark.line}), or name another valve",
            )
