"""What one fixture gets: at rest, alone, beside what was asked to run, and at peak demand.

Where what its water comes through is not recorded it has no figures, and says what it needs.
"""

from collections.abc import Iterator, Sequence

from handbook.answers.flowing.asked import Asked
from handbook.answers.flowing.demand import Way
from handbook.answers.flowing.flow_case import CAUTIOUS, KIND, starts_behind
from handbook.answers.flowing.flow_results import FixtureFlow, Rating
from handbook.answers.flowing.outlets import giving
from handbook.answers.flowing.peak import element_of
from handbook.answers.flowing.readings import NOTHING, Reading, joined
from handbook.answers.flowing.speed_limits import SpeedLimit, speed_limit
from handbook.house.hydraulics import Device, Hydraulics, Stretch, Tap
from handbook.house.losses import velocity
from handbook.house.naming import end_name


def fixture_flow(asked: Asked, owner: str) -> FixtureFlow:
    """Return a fixture's part of the answer."""
    item, gives, taps = asked.house.items[owner], giving(asked.house, owner), asked.taps(owner)
    needs = tuple(dict.fromkeys(need for tap in taps for need in _needs(asked, tap)))
    return FixtureFlow(
        owner,
        item.name,
        item.kind,
        taps[0].height,
        gives.need_psi if gives else None,
        gives.gpm if gives else None,
        Rating(gives.gpm, gives.psi) if gives and gives.rated else None,
        None if needs else asked.solutions.static(taps),
        NOTHING if needs else _reading(asked, taps, ()),
        NOTHING if needs else _reading(asked, taps, asked.running),
        NOTHING if needs else joined(_at_peak(asked, tap) for tap in taps),
        {} if needs else _sides(asked, taps),
        *((None, None) if needs or gives is None else _own_speed(asked, taps)),
        needs,
    )


def _needs(asked: Asked, tap: Tap) -> Iterator[str]:
    """Yield what has to be recorded before this supply's pressure can be told."""
    hydraulics = asked.hydraulics
    if hydraulics.gauge is None:
        yield "the static pressure (`water: static_pressure`)"
    way = asked.ways.get(tap.id)
    if way is None:
        name = end_name(asked.house.items, tap.id)
        yield f"a way for water to {name}: as the valves stand none reaches it"
        return
    behind = starts_behind(hydraulics)
    for name in way.links:
        element = element_of(hydraulics, name)
        if isinstance(element, Stretch):
            yield from () if behind and _ahead(hydraulics, name, way) else element.needs
        elif not isinstance(element, Device) and element.set_psi is None and not behind:
            yield f"the setting of {element.id} (`set_to`)"
    if behind and not any(name in hydraulics.regulators for name in way.links):
        yield "the static pressure ahead of the reducing valve"


def _ahead(hydraulics: Hydraulics, name: str, way: Way) -> bool:
    """Whether a link stands ahead of a reducing valve on this way."""
    return any(n in hydraulics.regulators for n in way.links[way.links.index(name) :])


def _reading(asked: Asked, taps: Sequence[Tap], others: Sequence[str]) -> Reading:
    return joined(asked.solutions.reading(tap, others) for tap in taps)


def _sides(asked: Asked, taps: Sequence[Tap]) -> dict[str, Reading]:
    return {
        tap.id.removeprefix(f"{tap.owner}."): asked.solutions.reading(tap, asked.running)
        for tap in taps
    }


def _at_peak(asked: Asked, tap: Tap) -> Reading:
    cautious, kind = (
        asked.peak.running(tap, asked.ways[tap.id], case) for case in (CAUTIOUS, KIND)
    )
    if cautious is None or kind is None:
        return NOTHING
    return Reading(cautious.psi, cautious.gpm, kind.psi, kind.gpm)


def _own_speed(asked: Asked, taps: Sequence[Tap]) -> tuple[float | None, SpeedLimit | None]:
    """Return the greatest speed in the pipes that end at a fixture, alone; and its limit.

    One that is over its limit goes before a faster one that is not.
    """
    flows = asked.solutions.opened((taps[0].owner,), CAUTIOUS).flows
    found = [
        (velocity(flows.get(tap.id, 0.0), stretch.bores[0]), speed_limit(asked.house, stretch))
        for tap in taps
        if (stretch := asked.hydraulics.stretches.get(tap.id)) and stretch.bores
    ]
    return max(found, key=_worse, default=(None, None))


def _worse(found: tuple[float, SpeedLimit | None]) -> tuple[bool, float]:
    speed, limit = found
    return bool(limit and limit.exceeded(speed)), speed
