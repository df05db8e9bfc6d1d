"""Each tagged thing in one line, and the one action at it: what its tag says."""

from collections.abc import Iterable

from handbook.answers.has import has
from handbook.answers.isolate import isolate
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.calls import call
from handbook.pages.content import Line, Tag, plain
from handbook.pages.parts import equipment
from handbook.pages.parts.drain_equipment import reach
from handbook.pages.parts.hot_water import ends_over
from handbook.pages.parts.phrases import NOT_RECORDED, all_called, called, said
from handbook.pages.parts.say import Say
from handbook.pages.parts.valve import (
    gas_stopped,
    handle_of,
    how_to_close,
    how_to_open,
    is_utilitys,
    stops_sentence,
)
from handbook.pages.watched import Watched, warned_of, watched, wet_heaters
from handbook.pages.words import listed, lower, sentences
from handbook.record.grammar.drains import Cleanout, DrainEquipment
from handbook.record.grammar.gas import GasMeter, GasOutlet, Regulator
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.places import OUTSIDE
from handbook.record.grammar.safeguards import Condensate, Pan, Sensor

MOST_VALVES = 2
"""More valves than this are not listed on a tag: whoever reads it has to act, not to study."""

GAS_LEFT_ALONE = "Leave it alone. If you smell gas, leave at once and call from outside."


GAS_FIRST = "Smell gas? Leave at once; do not go near it."


def one_line(house: House, item: Item) -> Line:
    """Return what the thing stops, reaches, watches, catches or is for."""
    entry = item.entry
    if handle_of(item):
        return (stops_sentence(house, item),)
    match entry:
        case Cleanout() | DrainEquipment():
            return (*reach(house, item), ".")
        case Sensor():
            watches = _here(house, item, entry.watches)
            return ("Watches: ", *watches, ".", *_beside(house, item))
        case Pan():
            return (
                "Under: ",
                *called(house, entry.under),
                ". Drains to: ",
                *ends_over(house, entry.drain),
                ".",
                *_beside(house, item),
            )
        case Condensate():
            return (
                f"Drains: {said(entry.serves)}. Ends at: ",
                *ends_over(house, entry.primary),
                ".",
            )
        case Heater():
            setting = Say.of(house).temperature(entry.setting)
            return (f"{said(entry.kind).capitalize()}, {said(entry.fuel)}, set to {setting}.",)
        case GasOutlet():
            return (f"Stubbed for: {said(entry.meant_for)}.",)
        case GasMeter() | Regulator():
            return (f"Feeds {gas_stopped(house, item.id) or NOT_RECORDED}.",)
    return (sentences(equipment.does(item)),)


def action(house: House, item: Item) -> str:
    """Return the one thing to do, or to leave, at it."""
    if handle_of(item):
        return _valve(house, item)
    match item.entry:
        case Cleanout():
            return "For the plumber. Do not open it, above all while a drain is backed up."
        case DrainEquipment():
            return "For the plumber. Leave it closed."
        case Sensor():
            return _stop("If wet", house, warned_of(house, item.id))
        case Pan():
            return _stop("If there is water in it", house, warned_of(house, item.id))
        case Condensate():
            return "Keep the end of its pipe clear. It may drip: that is normal."
        case GasOutlet():
            return "Only a licensed plumber opens it."
        case GasMeter() | Regulator():
            return GAS_LEFT_ALONE
    return _stop("If it leaks", house, watched(house, (item.id,)))


def _beside(house: House, item: Item) -> Line:
    """What else of an alarm's room may have wetted it."""
    beside = warned_of(house, item.id).beside
    return (" Near it: ", *_here(house, item, beside), ".") if beside else ()


def _here(house: House, item: Item, things: Iterable[str] | None) -> Line:
    """Several things, named; of those in the tag's own room, where tags hang, the tag alone, and
    the room is not said again."""
    room = house.places.room_name(item.place)
    said: Line = ()
    for span in all_called(house, things):
        if isinstance(span, Tag) and room == house.places.room_name(house.items[span.id].place):
            said += (Tag(span.id),)
        else:
            said += (span.replace(f", {room}", "") if isinstance(span, str) else span,)
    return said


def _valve(house: House, item: Item) -> str:
    handle = handle_of(item)
    close, open_ = sentences(how_to_close(house, item)), sentences(how_to_open(house, item))
    if is_utilitys(house, item):
        return close
    if handle and handle.stands == "closed":
        return f"Open it: {open_}"
    if item.system == "gas":
        return f"{GAS_FIRST} Only if told to: {close} Leave it closed."
    return f"Close it: {close}"


def _stop(when: str, house: House, known: Watched) -> str:
    """Return the nearest valves for things that may leak: `If it leaks: close W20.`"""
    if known.only_cooling:
        return f"{when}: turn the cooling off and {plain(_heating(house))}."
    nearest = _nearest(house, known)
    heater = wet_heaters(house, known)
    if known.drains:  # two cases already: a third, for who sees the source, is on its page
        else_ = "if not, nor a relief pipe" if heater else "if not"
        nearest = f"stay out if from the drain; {else_}, {nearest.partition('; ')[0]}"
    elif heater:
        when += ", no spray or steam"
    return f"{when}: {nearest}."


def _heating(house: House) -> Line:
    said = call(contact(house, "heating contractor"))
    return (lower(plain(said[:1])), *said[1:])


def _nearest(house: House, known: Watched) -> str:
    answers = [isolate(house, thing) for thing in known.wet]
    ahead = any(not answer.ladder and not answer.already_off for answer in answers)
    if ahead or any(rung.utility for answer in answers for rung in answer.shown[:1]):
        return _ahead(house)
    close, opened = within_reach(house, known)
    then = f", open {listed(opened)}" if opened else ""
    if not close:
        return _in_doubt(house, known.mains)
    unsure = any(it.assumed for it in answers) and known.mains[:1] not in ((), close)
    unsure = unsure and not wet_heaters(house, known)  # whose tag says so itself
    return f"close {listed(close)}{then}" + (f"; if it runs on, {known.mains[0]}" if unsure else "")


def within_reach(house: House, known: Watched) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The valves to close and to open for all that may leak; none where they are too many."""
    first = [rung for thing in known.wet for rung in isolate(house, thing).shown[:1]]
    close = dict.fromkeys(valve for rung in first for valve in rung.close)
    opened = dict.fromkeys(valve for rung in first for valve in rung.open)
    if len(close) > MOST_VALVES or any(rung.utility for rung in first):
        return (), ()
    return tuple(close), tuple(opened)


def _ahead(house: House) -> str:
    """Whom to call where no valve of the house stands before what leaks."""
    on_main = has(house)["public water"] != "no"
    return f"call the {'water utility' if on_main else 'plumber'}"


def _in_doubt(house: House, mains: tuple[str, ...]) -> str:
    """Return the main to close; where it may itself leak, the next one, and in which room."""
    if len(mains) > 1:
        place = house.items[mains[1]].place
        out = house.places.level_id(place) == OUTSIDE
        room = "outdoors" if out else house.places.room_and_level(place)
        there = f", {room}" if room else ""
        return f"close {mains[0]}; if {mains[0]} itself leaks, close {mains[1]}{there}"
    if not mains:
        return "find what leaks and close what stops it"
    return f"close {mains[0]}; if you see what leaks, close only what stops it"
