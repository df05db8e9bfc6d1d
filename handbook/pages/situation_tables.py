"""The tables that follow a guide on its page, each computed from the record for one situation."""

from handbook.answers.isolate import isolate
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.measures import Temperature, say_temperature
from handbook.pages.calls import call
from handbook.pages.content import Block, Bullets, Go, Line, Para, Strong, Table, Tag, plain
from handbook.pages.heater_first import LEAKS
from handbook.pages.how_turned import how_they_turn
from handbook.pages.valves import first, no_step, tags
from handbook.pages.watched import warned_of
from handbook.pages.whereabouts import named_in, whereabouts
from handbook.pages.words import bare, lower, situation
from handbook.record.grammar.common import each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.safeguards import Pan, Sensor
from handbook.record.knowing import Absent
from handbook.tables import table

NOT_RECORDED: Line = ("not recorded",)


def leak_alarms(house: House) -> tuple[Block, ...]:
    """Each sensor and each pan, and what to close for what it watches."""
    sensors = [_alarm(house, s.id) for s in _sensors(house)]
    pans = [_alarm(house, pan.id) for pan in _pans(house)]
    made: list[Block] = []
    if sensors:
        head = ("Alarm", "Where", "If the water comes from")
        made.append(Table("Leak alarms: what to close", head, tuple(sensors), (3, 4, 8)))
    if pans:
        head = ("Pan", "Where", "If there is water in it")
        made.append(Table("Pans: what to close", head, tuple(pans), (3, 4, 8)))
    return (*_how(house), *made)


def alarm_numbers(house: House) -> tuple[Bullets, ...]:
    """The alarms by number, each leading to its own page on a phone."""
    lines = tuple((Tag(s.id, house.items[s.id].name),) for s in _sensors(house))
    return (Bullets(lines),) if lines else ()


def _sensors(house: House) -> tuple[Sensor, ...]:
    guards = house.record.safeguards
    return each(guards.sensors if guards else None)


def _pans(house: House) -> tuple[Pan, ...]:
    guards = house.record.safeguards
    return each(guards.pans if guards else None)


def _alarm(house: House, alarm: str) -> tuple[Line, ...]:
    item = house.items[alarm]
    known = warned_of(house, alarm)
    cells: list[Line] = [_backs_up(house, drain) for drain in known.drains]
    cells += [_stops(house, thing) for thing in known.wet + known.beside]
    if known.cooling:
        who = call(contact(house, "heating contractor"))
        cells.append(("the cooling: turn it off. ", *who))
    said: Line = ()
    for cell in cells:
        said += ("; ", *cell) if said else cell
    where = (bare(house.where(alarm) or "not recorded"),)
    return ((Tag(alarm, item.name),), where, said or NOT_RECORDED)


def _backs_up(house: House, drain: str) -> Line:
    go = Go(situation("backup"), "A drain backs up")
    return (f"{lower(house.items[drain].name)}: stay out. See ", go)


def _stops(house: House, thing: str) -> Line:
    """A thing with the valves that stop it and where they are: `basin: W9 (left below)`."""
    item = house.items[thing]
    answer = isolate(house, thing)
    rung = first(answer)
    if rung is None:
        return (f"{lower(item.name)}: ", *no_step(house, answer))
    opened: Line = (", open ", *tags(house, rung.open)) if rung.open else ()
    where = whereabouts(house, item.place, rung.close + rung.open)
    first_see: Line = ("see ", LEAKS, ", then ") if isinstance(item.entry, Heater) else ()
    close: Line = (*first_see, "close ", *tags(house, rung.close), *opened)
    return (f"{lower(item.name)}: ", *close, f" ({lower(where)})")


def _how(house: House) -> tuple[Block, ...]:
    """How the valves of these tables are turned, each way once."""
    known = [warned_of(house, alarm.id) for alarm in (*_sensors(house), *_pans(house))]
    things = [thing for each_alarm in known for thing in each_alarm.wet + each_alarm.beside]
    rungs = [first(isolate(house, thing)) for thing in things]
    said = how_they_turn(rung for rung in rungs if rung)
    # No heading, which would keep it with the tables and so off the sheet of the steps.
    return (Para((Strong("How the valves in these tables turn: "), *said)),) if said else ()


def outdoor_taps(house: House) -> tuple[Block, ...]:
    """What stands out in the cold, and what shuts it off."""
    taps = [f for f in each(house.record.fixtures) if f.kind == "hose bibb"]
    rows = [(_name(house, tap.id), _frost(tap.freeze_proof), *_off(house, tap.id)) for tap in taps]
    water = house.record.water
    if lawn := given(water.irrigation if water else None):
        winter: Line = (bare(lawn.winter or "not recorded"),)
        close, where = _off(house, lawn.id)
        beside = named_in(house, plain(winter))
        rows.append(
            (_name(house, lawn.id), winter, close, (*where, f"; {beside}" if beside else ""))
        )
    head = ("Out in the cold", "Against frost", "Close", "Where")
    return (Table("Outdoor taps", head, tuple(rows), (4, 4, 2, 5)),) if rows else ()


def _name(house: House, thing: str) -> Line:
    return (house.items[thing].name,)


def _frost(proof: bool | Absent | None) -> Line:
    if proof is None:
        return NOT_RECORDED
    return ("frost-proof, if its hose is off" if proof is True else "not frost-proof",)


def _off(house: House, thing: str) -> tuple[Line, Line]:
    answer = isolate(house, thing)
    rung = first(answer)
    valves = rung.close if rung else tuple(turn.id for turn in answer.kept_off)
    places = dict.fromkeys(bare(house.where(valve) or "not recorded") for valve in valves)
    close = tags(house, rung.close) if rung else no_step(house, answer)
    return close, ("; ".join(places),)


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
