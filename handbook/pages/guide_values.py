"""What the guides are filled with: this house's numbers, valves, heaters and alarms.

All guides of a house are filled with the same values, computed once. A fact that is not recorded
is an empty text, or says so; nothing is made up here.
"""

from collections.abc import Sequence
from typing import get_args

from handbook.answers.draining.in_use import machines
from handbook.answers.from_stairs import from_stairs
from handbook.answers.has import burners, has
from handbook.answers.heating.relief import keep_away
from handbook.answers.isolate import isolate
from handbook.answers.whom import Contact, contact
from handbook.house.house import House
from handbook.house.items import Item
from handbook.measures import Temperature, say_temperature
from handbook.pages import by_room, situation_tables, valves, which_drains
from handbook.pages.calls import call
from handbook.pages.content import Go, Line, Page, Tag, Value
from handbook.pages.cover import address
from handbook.pages.first_aid import how_toilet_stops_turn, toilet_stops, toilet_valve
from handbook.pages.heater_values import breaker_panel, heaters
from handbook.pages.levels import lowest_drains, tap
from handbook.pages.parts.spills import still_running
from handbook.pages.through_pages import any_case_in_doubt, through_pages
from handbook.pages.trip_values import trip_values
from handbook.pages.words import bare, lower, sentences
from handbook.record.grammar.common import each, given
from handbook.record.grammar.people import Role
from handbook.tables import table


def guide_values(house: House) -> dict[str, Value]:
    """Return what every guide of this house may print, test and loop over."""
    inside, utility = valves.whole_house(house)
    cleanouts = [item.id for item in house.items.values() if item.kind == "cleanout"]
    shutoffs = tuple(valves.to_close(house, rung) for rung in inside)
    return {
        "call": {role: _call(contact(house, role)) for role in get_args(Role)},
        "has": has(house),
        "address": ", ".join(address(house)),
        "keep_away": keep_away(),
        "main": shutoffs[0] if shutoffs else (),
        "from_stairs": from_stairs(house, inside[0].close[-1]) if inside else "",
        "other_mains": shutoffs[1:],
        "outdoor_mains": tuple(
            valves.to_close(house, rung) for rung in inside[1:] if valves.outdoors(house, rung)
        ),
        "no_main": valves.no_main(house),
        "toilet_stops": toilet_stops(house),
        "toilet_valve": toilet_valve(house),
        "how_toilet_stops_turn": how_toilet_stops_turn(house),
        "utility_valve": valves.to_close(house, utility[0]) if utility else (),
        "still_runs": still_running(house),
        "reopen": valves.to_reopen(house, inside[0]) if inside else (),
        "heaters": heaters(house, [heater.id for heater in each(house.record.heaters)]),
        "dry_heaters": heaters(house, valves.dry_heaters(house, inside[0]) if inside else ()),
        "panel": breaker_panel(house),
        "level_pages": _links(by_room.level_pages(house)),
        "hot_main": _hot_main(house),
        "in_doubt": any_case_in_doubt(house),
        "ceilings": _links(through_pages(house, "ceiling")),
        "walls": _links(through_pages(house, "wall")),
        "low_tap": _named_place(house, tap(house, lowest=True)),
        "high_tap": _named_place(house, tap(house, lowest=False)),
        "lowest_drains": _row(lowest_drains(house)),
        "which_drains": which_drains.link(house),
        "machines": _row(list(machines(house))),
        "burners": _row([house.items[name] for name in burners(house)]),
        "gas_meter": _gas_meter(house),
        "cleanouts": valves.tags(house, cleanouts),
        "automatic": _automatic(house),
        "alarm_numbers": situation_tables.alarm_numbers(house),
        **trip_values(house, inside[0] if inside else None),
        "safe_setting": _temperature(house, _fact("scald_setting", "temperature_f")),
        "keep_warm": _temperature(house, _fact("frost_keep_warm", "temperature_f")),
        "flush_minutes": _fact("back_flush", "minutes"),
    }


def _links(pages: Sequence[Page]) -> Line:
    """Links to pages in a row, each by what its title says after the colon: `upper, main, lower`
    where each is a level's."""
    names = [page.title.partition(": ")[2] for page in pages]
    if all(name.endswith(" level") for name in names):
        names = [name.removesuffix(" level") for name in names]
    said: Line = ()
    for page, name in zip(pages, names, strict=True):
        said += (", " if said else "", Go(page.id, name))
    return said


def _hot_main(house: House) -> tuple[Value, ...]:
    """What stops every hot tap: the nearest step of a heater that alone heats them."""
    for heater in each(house.record.heaters):
        rung = valves.first(isolate(house, heater.id))
        if valves.stops_all_hot(house, rung):
            return valves.to_close(house, rung)
    return ()


def _call(contact: Contact) -> Value:
    return {
        "known": contact.phone is not None,
        "do": call(contact),
        "called": contact.called,
        "missing": contact.missing,
    }


def _fact(name: str, figure: str) -> int:
    value: int = table("emergency_facts").values[name][figure]
    return value


def _temperature(house: House, fahrenheit: float) -> str:
    return say_temperature(Temperature(fahrenheit), house.record.house.units)


def _row(items: Sequence[Item]) -> Line:
    """Things in a row, a tagged one by its tag, the last after "and"; empty for none."""
    said: Line = ()
    for place, item in enumerate(items):
        joint = "" if not place else " and " if place == len(items) - 1 else ", "
        said += (joint, Tag(item.id, item.name) if item.tagged else lower(item.name))
    return said


def _named_place(house: House, item: Item | None) -> Value:
    if item is None:
        return {}
    return {"name": lower(item.name), "where": bare(house.places.say(item.place) or "")}


def _gas_meter(house: House) -> Value:
    system = given(house.record.gas)
    if system is None or system.meter is None:
        return {}
    kind = system.meter.kind or "meter"
    where = house.places.say(system.meter.place)
    return {"kind": f"gas {kind}", "tag": (Tag(system.meter.id),), "where": bare(where or "")}


def _automatic(house: House) -> tuple[Value, ...]:
    """Shutoffs that close by themselves."""
    water = house.record.water
    found = [v for v in each(water.valves if water else None) if v.kind == "automatic shutoff"]
    return tuple(
        {
            "tag": (Tag(v.id, house.items[v.id].name),),
            "where": bare(house.where(v.id) or "not recorded"),
            "open": sentences(valves.manner(house, v.id, "open")),
            "note": " ".join((v.note or "").split()),
        }
        for v in found
    )
