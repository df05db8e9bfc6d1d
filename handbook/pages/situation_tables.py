"""The tables that follow a guide on its page, each computed from the record for one situation."""

from handbook.answers.isolate import isolate
from handbook.house.house import House
from handbook.measures import Temperature, say_temperature
from handbook.pages import by_room
from handbook.pages.content import Block, Line, Para, SubHead, Table, Tag
from handbook.pages.valves import first, tags, whole_house
from handbook.pages.words import bare, ending, listed, lower
from handbook.record.grammar.common import each, given
from handbook.record.grammar.drains import Cleanout
from handbook.record.grammar.safeguards import Pan, Sensor
from handbook.record.knowing import Absent
from handbook.tables import table

NOT_RECORDED: Line = ("not recorded",)


def room_by_room(house: House) -> tuple[Block, ...]:
    """One valve for each thing, for those who see what leaks; and the main if it does not hold."""
    rooms = by_room.tables(house)
    if not rooms:
        return ()
    main = whole_house(house)[0][:1]
    last = [
        Para(("If it does not hold, close ", *tags(house, rung.close, sides=False), "."))
        for rung in main
    ]
    return (
        SubHead("If you see what leaks"),
        Para(("Close only what is on its line. The rest of the house keeps its water.",)),
        *rooms,
        *last,
    )


def cleanouts(house: House) -> tuple[Block, ...]:
    """Where the cleanouts are, for the plumber who has been called."""
    drains = house.record.drains
    rows = [_cleanout(house, cleanout) for cleanout in each(drains.cleanouts if drains else None)]
    head = ("Cleanout", "Where", "To get at it")
    return (Table("Cleanouts, for the plumber", head, tuple(rows), (3, 5, 4)),) if rows else ()


def _cleanout(house: House, cleanout: Cleanout) -> tuple[Line, ...]:
    said = [text for text in (cleanout.access, cleanout.cover) if text]
    return (
        (Tag(cleanout.id, house.items[cleanout.id].name),),
        (bare(house.where(cleanout.id) or "not recorded"),),
        ("; ".join(bare(text) for text in said) or "not recorded",),
    )


def leak_alarms(house: House) -> tuple[Block, ...]:
    """Each sensor and each pan with what it watches and what stops that."""
    guards = house.record.safeguards
    sensors = [_sensor(house, sensor) for sensor in each(guards.sensors if guards else None)]
    pans = [_pan(house, pan) for pan in each(guards.pans if guards else None)]
    made = []
    if sensors:
        head = ("Alarm", "Where", "It watches", "Close")
        made.append(Table("Leak alarms", head, tuple(sensors), (3, 4, 4, 3)))
    if pans:
        head = ("Pan", "Under", "Drains to", "Close")
        made.append(Table("Pans", head, tuple(pans), (3, 4, 4, 3)))
    return tuple(made)


def _sensor(house: House, sensor: Sensor) -> tuple[Line, ...]:
    watched = sensor.watches or ()
    return (
        (Tag(sensor.id, house.items[sensor.id].name),),
        (bare(house.where(sensor.id) or "not recorded"),),
        (listed(lower(house.items[thing].name) for thing in watched) or "not recorded",),
        _stops(house, watched) if watched else NOT_RECORDED,
    )


def _pan(house: House, pan: Pan) -> tuple[Line, ...]:
    return (
        (Tag(pan.id, house.items[pan.id].name),),
        (lower(house.items[pan.under].name) if pan.under else "not recorded",),
        (ending(house, pan.drain),),
        _stops(house, (pan.under,)) if pan.under else NOT_RECORDED,
    )


def _stops(house: House, things: tuple[str, ...]) -> Line:
    """The valves that stop all of these things; a pan stands for what stands in it."""
    close: list[str] = []
    for thing in things:
        entry = house.items[thing].entry
        wet = entry.under if isinstance(entry, Pan) and entry.under else thing
        rung = first(isolate(house, wet)) if wet in house.water.bodies else None
        close += [valve for valve in (rung.close if rung else ()) if valve not in close]
    return tags(house, close, sides=False) or ("no water valve stops it",)


def outdoor_taps(house: House) -> tuple[Block, ...]:
    """What stands out in the cold, and what shuts it off."""
    taps = [f for f in each(house.record.fixtures) if f.kind == "hose bibb"]
    rows = [(_name(house, tap.id), _frost(tap.freeze_proof), *_off(house, tap.id)) for tap in taps]
    water = house.record.water
    if lawn := given(water.irrigation if water else None):
        winter: Line = (bare(lawn.winter or "not recorded"),)
        rows.append((_name(house, lawn.id), winter, *_off(house, lawn.id)))
    head = ("Out in the cold", "Against frost", "Close", "Where")
    return (Table("Outdoor taps", head, tuple(rows), (4, 4, 2, 5)),) if rows else ()


def _name(house: House, thing: str) -> Line:
    return (house.items[thing].name,)


def _frost(proof: bool | Absent | None) -> Line:
    if proof is None:
        return NOT_RECORDED
    return ("frost-proof, if its hose is off" if proof is True else "not frost-proof",)


def _off(house: House, thing: str) -> tuple[Line, Line]:
    rung = first(isolate(house, thing))
    if rung is None:
        return (("no shutoff is recorded",), ("",))
    places = dict.fromkeys(bare(house.where(valve) or "not recorded") for valve in rung.close)
    return tags(house, rung.close, sides=False), ("; ".join(places),)


def burns(house: House) -> tuple[Block, ...]:
    """How fast hot water burns, so that nobody takes a hot tap lightly."""
    known, units = table("scald"), house.record.house.units
    coolest = table("emergency_facts").values["scald_setting"]["temperature_f"]
    rows = tuple(
        ((say_temperature(Temperature(fahrenheit), units),), (_time(seconds),))
        for fahrenheit, seconds in known.values
        if fahrenheit >= coolest
    )
    head = ("Water", "It blisters an adult's skin in")
    source = Para((f"A child's skin burns sooner. Source: {known.cited}.",))
    return (Table("How fast hot water burns", head, rows, (2, 5)), source)


def _time(seconds: int) -> str:
    minutes, rest = divmod(seconds, 60)
    return f"{seconds} seconds" if rest or not minutes else f"{minutes} minutes"
