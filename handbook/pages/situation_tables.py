"""The tables that follow a guide on its page, each computed from the record for one situation."""

from handbook.answers.isolate import isolate
from handbook.house.house import House
from handbook.measures import Temperature, say_temperature
from handbook.pages.content import Block, Line, Para, Table, Tag
from handbook.pages.valves import first, stops_all, tags
from handbook.pages.words import bare, ending, listed, lower
from handbook.record.grammar.common import each, given
from handbook.record.grammar.safeguards import Pan, Sensor
from handbook.record.knowing import Absent
from handbook.tables import table

NOT_RECORDED: Line = ("not recorded",)


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
    close = stops_all(house, [_in_pan(house, thing) for thing in things])
    return tags(house, close) or ("no water valve stops it",)


def _in_pan(house: House, thing: str) -> str:
    entry = house.items[thing].entry
    return entry.under if isinstance(entry, Pan) and entry.under else thing


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
    return tags(house, rung.close), ("; ".join(places),)


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
