"""All that a page says about one valve: what it stops, where, how it is turned, if it fails."""

from collections.abc import Iterator
from typing import Any, Literal

from handbook.answers.isolate import isolate
from handbook.answers.isolating.handling import handling
from handbook.answers.serves import gas_served, passes_all_gas, stops
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.calls import call
from handbook.pages.content import Block, Facts, Go, Line, Note, Page, Para, Strong, SubHead
from handbook.pages.first_aid import first_aid
from handbook.pages.parts.ladders import ladder, ladder_table
from handbook.pages.parts.own import note_of, photo_links, photos_of
from handbook.pages.parts.phrases import (
    NOT_RECORDED,
    Rows,
    called,
    established,
    lost,
    sentence,
    told,
    where,
)
from handbook.pages.words import lower, plainly, sentences, situation
from handbook.record.grammar.common import Handle, given
from handbook.record.grammar.water import Softener
from handbook.record.grammar.water import Valve as LineValve
from handbook.tables import table

WATER_VALVES = ("shutoff", "stop")
GAS_VALVE = "gas valve"
GAS_OPENS = "never yourself: a licensed plumber or the gas utility opens it, and relights"

GAS_WHEN = "Only if the fire department, the gas company or a licensed plumber tells you to."
LEFT_CLOSED = "once closed, leave it closed: only a licensed plumber or the gas utility opens it"

_CONDITIONS = {
    "works": "works",
    "stuck": "is stuck",
    "does not hold": "does not hold",
    "leaks": "leaks",
}


def handle_of(item: Item) -> Handle | None:
    """Return what makes a thing a valve, or None for what is not one."""
    return item.entry if isinstance(item.entry, Handle) else None


def valves(house: House) -> tuple[Item, ...]:
    """Return every valve of the house, water and gas, as the record has them."""
    return tuple(item for item in house.items.values() if handle_of(item))


def is_utilitys(house: House, item: Item) -> bool:
    """Whether the valve belongs to a utility: it says so, or it stands at the gas meter."""
    at_meter = bool(item.owner and house.items[item.owner].kind.startswith("gas meter"))
    return bool(getattr(item.entry, "utility", False)) or at_meter


def what_it_stops(house: House, item: Item) -> str:
    """Return what closing the valve alone shuts off, in words, without a full stop."""
    handle = handle_of(item)
    if item.system == "gas":
        return gas_stopped(house, item.id) or _nothing(house, item)
    if handle and handle.stands == "closed":
        return _kept_closed(house, item)
    if handle and handle.condition in {"stuck", "does not hold"}:
        return f"nothing as it is: it {_CONDITIONS[handle.condition]}"
    stopped = stops(house, item.id)
    if not stopped.supplies and isinstance(item.entry, LineValve) and item.entry.main:
        return "all water in the house"
    return lost(stopped.said) or _nothing(house, item)


def _kept_closed(house: House, item: Item) -> str:
    """Return what a valve is for that stands closed in ordinary use."""
    owner = house.items.get(item.owner or "")
    softener = owner.entry if owner else None
    bypass = given(softener.bypass) if isinstance(softener, Softener) else None
    if bypass and bypass.across and bypass.across.id == item.id and owner:
        return f"nothing: it is kept closed; open, it sends the water round the {lower(owner.name)}"
    return "nothing as it stands: it is kept closed"


def gas_stopped(house: House, thing: str) -> str | None:
    """Return what gas passes a thing, `all gas in the house` where it is all; None for none.

    All gas passes the meter and a main valve. What burns gas, with its line not recorded, may hang
    on any other: then what is recorded there is the least.
    """
    if passes_all_gas(house, thing):
        return "all gas in the house"
    fed, tree = gas_served(house, thing), house.gas
    gas = given(house.record.gas)
    meter = gas.meter if gas else None
    whole = tree.listed and not tree.unclear
    if whole and meter and len(fed) > 1 and fed == gas_served(house, meter.id):
        return "all gas in the house"
    names = lost(it.name for it in fed)
    return f"gas to{'' if whole else ' at least'}: {names}" if fed else None


def _nothing(house: House, item: Item) -> str:
    owner = house.items.get(item.owner or "")
    return f"what passes the {lower(owner.name)}" if owner else NOT_RECORDED


def stops_sentence(house: House, item: Item) -> str:
    """Return what a valve stops as a sentence."""
    stopped = what_it_stops(house, item)
    if stopped == NOT_RECORDED:
        return f"What it stops is {NOT_RECORDED}."
    return sentence(f"Stops {stopped}")


def how_to_close(house: House, item: Item) -> str:
    """Return how the valve is closed, from the record or from its kind; without a full stop."""
    handle = handle_of(item)
    if is_utilitys(house, item):
        return f"the {item.system} utility closes it"
    return _turning(handle, "close")


def how_to_open(house: House, item: Item) -> str:
    """Return how the valve is opened again; a gas valve never by an occupant."""
    if item.system == "gas":
        return GAS_OPENS
    if is_utilitys(house, item):
        return "the water utility opens it"
    return _turning(handle_of(item), "open")


def _turning(handle: Handle | None, way: Literal["close", "open"]) -> str:
    return (handle and handling(handle, way)) or f"how it turns is {NOT_RECORDED}"


def _manner(item: Item) -> dict[str, Any]:
    handle = handle_of(item)
    manner: dict[str, Any] = table("valves").values.get(handle.kind if handle else None, {})
    return manner


def kind_of(item: Item) -> str:
    """Return a valve's kind as printed: `lever valve (ball)`, or that it is not recorded."""
    handle = handle_of(item)
    kind = plainly(handle.kind) if handle and handle.kind else f"kind {NOT_RECORDED}"
    return f"gas: {kind}" if item.system == "gas" and "gas" not in kind else kind


def stands(item: Item) -> str:
    """Return how a valve stands in ordinary use, and its condition where that matters."""
    handle = handle_of(item)
    if handle is None:
        return NOT_RECORDED
    bad = handle.condition not in (None, "works")
    return f"{handle.stands}; {_CONDITIONS[handle.condition or 'works']}" if bad else handle.stands


def valve_page(house: House, item: Item, *, brief: bool = False) -> Page:
    """Return the page of one valve; `brief`: as the book has it, short."""
    stops_said = stops_sentence(house, item)
    gas = item.system == "gas"
    blocks = (
        Para((Strong(stops_said),)),
        *((_gas_line() if brief else _gas_caution(house)) if gas else ()),
        *(() if brief else _first_aid(house, item)),
        *_laid_out(tuple(_facts(house, item, brief)), brief),
        *(() if brief else photos_of(house, item.id)),
        *_heater(house, item, brief),
        *_failing(house, item, brief),
        *note_of(item),
    )
    return Page(item.id, item.name, blocks, (stops_said,), tag=item.id)


def _first_aid(house: House, item: Item) -> tuple[Block, ...]:
    """What to do before the valve of such a fixture is turned."""
    owner = house.items.get(item.owner or "")
    known = first_aid((owner.kind,) if owner else ())
    return tuple(Para((do,)) for _, do in known)


def _laid_out(rows: Rows, brief: bool) -> tuple[Block, ...]:
    """Return the facts as a table; in the book as lines, so that two valves stand on a sheet."""
    if not brief:
        return (Facts(rows),)
    return tuple(Para((Strong(f"{label}: "), *said)) for label, said in rows)


def _facts(house: House, item: Item, brief: bool) -> Iterator[tuple[str, Line]]:
    handle = handle_of(item)
    if item.system == "gas" and not is_utilitys(house, item):
        yield "When", (GAS_WHEN,)
    yield "Close it", (sentences(how_to_close(house, item)),)
    if not brief:
        yield "Open it", (sentences(how_to_open(house, item)), *_back_on(item))
        limit = LEFT_CLOSED if item.system == "gas" else _manner(item).get("limit")
        if limit:
            yield "Take care", (sentences(limit),)
    photos = photo_links(house, item.id) if brief else ()
    yield "Where", (told(where(house, item.id)), *((" ", *photos) if photos else ()))
    if handle and not is_utilitys(house, item) and (tool := given(handle.tool)):
        yield "Needs", (sentences(tool),)
    if item.owner:
        yield "Belongs to", called(house, item.owner)
    kind = f"{kind_of(item)}, usually {stands(item)}"
    seen = f"checked: {established(getattr(item.entry, 'seen', None))}"
    yield "Kind", (sentences(kind, seen),)


def _back_on(item: Item) -> Line:
    """Where the whole house's water is turned on again, in which order."""
    entry = item.entry
    if not isinstance(entry, LineValve) or entry.utility:
        return ()
    if not entry.main and entry.kind != "automatic shutoff":
        return ()
    return (" First see ", Go(situation("back-on"), "Turn the water back on"), ".")


def _heater(house: House, item: Item, brief: bool) -> tuple[Block, ...]:
    """Return what the heater needs; in the book the part's first page says it for all valves."""
    if brief or item.kind not in WATER_VALVES:
        return ()
    lines = tuple((sentences(said),) for said in stops(house, item.id).heater)
    return (Note("notice", (("The water heater then gets no water.",), *lines)),) if lines else ()


def _failing(house: House, item: Item, brief: bool) -> tuple[Block, ...]:
    if item.kind not in WATER_VALVES or item.id not in house.water.bodies:
        return ()
    answer, title = isolate(house, item.id), "If it fails or leaks"
    if brief:
        return ladder_table(house, answer, title)
    return (SubHead(title), *ladder(house, answer))


def _gas_line() -> tuple[Block, ...]:
    words = "If you smell gas, do not go to this valve: leave, and call from outside."
    return (Para((words, f" {sentences(LEFT_CLOSED)}")),)


def _gas_caution(house: House) -> tuple[Block, ...]:
    leave: Line = ("If you smell gas, do not go to this valve. Leave at once with everyone.",)
    return (
        Note(
            "danger",
            (
                leave,
                ("From a safe place: ", *call(contact(house, "emergency")), "."),
                ("Then: ", *call(contact(house, "gas utility")), "."),
                ("Never turn gas back on, and never relight anything.",),
            ),
        ),
    )
