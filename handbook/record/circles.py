"""Lines that run in a circle: nothing feeds them, or what is in them never leaves."""

from collections.abc import Iterator

from handbook.record import ids
from handbook.record.entry import Entry
from handbook.record.grammar import drains, gas, water
from handbook.record.grammar.common import Fed, each, given
from handbook.record.grammar.record import Record
from handbook.record.problems import Problem

Leads = dict[str, tuple[Entry, str, tuple[str, ...]]]
"""For each thing: its entry, the field that leads on, and the ids that it leads to."""


def _water_feeds(record: Record) -> Leads:
    feeds: Leads = {}
    for entry in ids.entries(record):
        if isinstance(entry, Fed):
            upstream: tuple[str, ...] = (entry.from_,) if entry.from_ else ()
            if isinstance(entry, water.Tee):
                upstream += tuple(feed.from_ for feed in each(entry.feeds))
                if entry.may_say("feeds") or entry.may_say("from_"):
                    upstream = ()  # one more way, which may end
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


def check_circles(record: Record, lost: set[str]) -> Iterator[Problem]:
    """Yield a problem for each circle; an id that is `lost` is not known to lead anywhere."""
    yield from _circles(_water_feeds(record), lost, "from", "so nothing feeds it")
    yield from _circles(_gas_feeds(record), lost, "from", "so nothing feeds it")
    yield from _circles(_drain_falls(record), lost, "to", "so it never leaves the house")
    yield from _circles(_vents_joined(record), lost, "to", "so it never reaches the open air")


def _circles(leads: Leads, lost: set[str], word: str, why: str) -> Iterator[Problem]:
    """Report things from which every way on leads back into a circle.

    A thing is right when one of its ways ends: at a source, outside this table, or at a hole. So
    is one whose id is `lost`: it is given twice, and which of the two is meant is not known.
    """
    twice = {name.casefold() for name in lost}
    right = {name for name in leads if name.casefold() in twice}
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
