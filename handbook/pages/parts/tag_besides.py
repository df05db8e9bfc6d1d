"""What the tag of an alarm or a heater says besides its one action: where the valves are, how the
heater is put to rest and left alone, where the main is, whom to call."""

from handbook.answers.heating.at_rest import at_breaker
from handbook.answers.heating.relief import keep_away
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.calls import numbers
from handbook.pages.content import plain
from handbook.pages.heater_values import relief_told
from handbook.pages.parts.tersely import action, within_reach
from handbook.pages.valves import dry_heaters, whole_house
from handbook.pages.watched import Watched, warned_of, watched, wet_heaters
from handbook.pages.whereabouts import whereabouts
from handbook.pages.words import listed, lower
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.safeguards import Pan, Sensor
from handbook.record.knowing import Absent


def besides(house: House, item: Item) -> tuple[str, ...]:
    """Return what a stranger with the tag alone needs besides, the most needed first: where the
    valves are, the heater, the main, the plumber."""
    known = _wetting(house, item)
    if not known.wet:
        return ()
    main = _main(house, item, known)
    more = [*_relief(house, known), main] if known.drains else _heaters(house, known)
    return tuple(filter(None, (_where(house, item, known), *(more or [main]), _plumber(house))))


def spare(house: House, item: Item) -> tuple[str, ...]:
    """Return what helps beyond that: what follows the main, and the owner's number."""
    known = _wetting(house, item)
    if not known.wet:
        return ()
    after = "" if _heaters(house, known) and not known.drains else _after_main(house, known)
    return tuple(filter(None, (after, _owner(house))))


def _wetting(house: House, item: Item) -> Watched:
    """What may have wetted an alarm or a heater's floor; nothing for any other thing."""
    if isinstance(item.entry, (Sensor, Pan)):
        return warned_of(house, item.id)
    return watched(house, (item.id,) if isinstance(item.entry, Heater) else ())


def _where(house: House, item: Item, known: Watched) -> str:
    """Where the valves are that an alarm's action names: `Where: in the white wall box.`"""
    close, opened = within_reach(house, known)
    where = lower(whereabouts(house, item.place, close + opened))
    return f"Where: {where}." if close else ""


def _heaters(house: House, known: Watched) -> list[str]:
    """For heaters: when to close nothing, and how each is put to rest once its water is off."""
    heaters = wet_heaters(house, known)
    said = []
    if heaters and _off(heaters):
        said.append(f"Then its breaker off{_breaker(house, heaters[0])}, dry hands.")
    return [*said, *_relief(house, known)]


def _breaker(house: House, heater: Heater) -> str:
    """Which breaker it is, and in which room the panel: ` (14, lower hall)`; empty if unknown."""
    number = (given(heater.breaker) or "").partition(",")[0]
    electrical = house.record.electrical
    panel = electrical.panel.place if electrical and electrical.panel else None
    known = ", ".join(filter(None, (number, house.places.room_name(panel))))
    return f" ({known})" if known else ""


def _relief(house: House, known: Watched) -> list[str]:
    """At which heaters nothing is closed, what else is where one sprays, and when to leave."""
    heaters = wet_heaters(house, known)
    if not heaters:
        return []
    told = [relief_told(it) for it in heaters if not isinstance(it.relief, Absent)]
    made = f" ({told[0].partition(';')[0]})" if told and told[0] else ""
    which = _breaker(house, heaters[0]) if known.drains else ""  # else it stands before this
    breaker = f"heater's breaker off{which}" if which else "breaker off"
    close = f"{keep_away().partition(', ')[2]}, {breaker}" if _off(heaters) else "close nothing"
    alone = f"Relief pipe{made} alone: {close}." if told else ""
    runs_on = known.mains[:1] if not known.drains else ()  # there the main comes first anyway
    main = f"Spray, or a leak that runs on: {runs_on[0]}." if runs_on else ""
    leave = f"Steam: leave; {plain(numbers(contact(house, 'emergency')))}."
    return [" ".join(filter(None, (alone, main, leave)))]


def _off(heaters: list[Heater]) -> bool:
    return all(map(at_breaker, heaters))


def _main(house: House, item: Item, known: Watched) -> str:
    """Where the main is, for who cannot see what leaks: the first words of its spot in this room,
    or its room."""
    if not known.mains:
        return ""
    main = known.mains[0]
    room = house.places.room_and_level(house.items[main].place)
    here = room and room == house.places.room_and_level(item.place)
    spot = lower(whereabouts(house, item.place, (main,))).partition(", ")[0] if here else room
    if f"close {main}" in action(house, item):
        return f"{main}: {spot}." if spot else ""
    return f"In doubt: {main}{f', {spot}' if spot else ''}."


def _after_main(house: House, known: Watched) -> str:
    """What follows the main: the breaker of a heater that would stand without water."""
    breakers = {it.id: at_breaker(it) for it in each(house.record.heaters)}
    for rung in whole_house(house)[0][:1]:
        dry = dry_heaters(house, rung)
        if dry and known.mains[:1] == rung.close and all(breakers[it] for it in dry):
            first = next(it for it in each(house.record.heaters) if it.id == dry[0])
            off = f"heater off at its breaker{_breaker(house, first)}"
            return f"Once {listed(rung.close)} is shut: {off}."
    return ""


def _plumber(house: House) -> str:
    return f"Plumber: {plain(numbers(contact(house, 'licensed plumber')))}."


def _owner(house: House) -> str:
    """The owner's number, for a guest or a tenant who finds the water; nothing without one."""
    owner = contact(house, "owner")
    return f"Owner: {plain(numbers(owner))}." if owner.phone else ""
