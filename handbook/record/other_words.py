"""What people call things, beside what the record calls them: for hints only.

A record takes one word for each thing, so that it can be searched and counted; whoever writes
`toilet` is told where that belongs. Common practice, no source.
"""

from collections.abc import Iterable

WORDS = {
    "water closet": "toilet, wc, commode",
    "lavatory": "sink, basin, wash basin, bathroom sink, vanity, lav",
    "kitchen sink": "sink",
    "bar sink": "sink, prep sink",
    "laundry tub": "sink, utility sink, slop sink, laundry sink",
    "bathtub": "tub, bath, soaking tub",
    "tub and shower": "tub, tub/shower, tub shower, shower tub, tub-shower combo",
    "shower": "shower stall",
    "laundry box": "washer, washing machine, clothes washer, washer box, laundry",
    "ice maker": "refrigerator, fridge, icemaker",
    "hose bibb": "hose bib, spigot, sillcock, outside faucet, hydrant",
    "range": "stove, cooktop, oven",
    "fireplace": "gas logs, log set",
    "grill": "barbecue, bbq",
    "furnace": "heat, hvac",
    "ball": "ball valve, lever, quarter turn, quarter-turn",
    "gate": "gate valve, wheel, handwheel",
    "curb stop": "curb valve, street valve, meter valve",
    "globe": "globe valve",
    "butterfly": "butterfly valve",
    "angle stop": "angle, angle valve, stop, supply stop",
    "straight stop": "straight, stop",
    "gas cock": "gas valve, gas shutoff, cock",
    "storage": "tank, tank heater, gas, electric",
    "tankless": "instantaneous, on demand, on-demand",
    "natural gas": "gas, ng",
    "propane": "gas, lp, lpg, lp gas",
    "electric": "electricity, power",
    "pressure-reducing valve": "prv, regulator, pressure regulator, reducer, reducing valve",
    "backflow preventer": "backflow, rpz, double check, vacuum breaker",
    "public main": "city, street, city water, town",
    "public sewer": "city, sewer, street, city sewer, town",
    "septic tank": "septic",
    "building drain": "main, main drain, house drain",
    "building sewer": "sewer, lateral, house sewer",
    "licensed plumber": "plumber",
    "emergency": "911, fire department, police",
    "water utility": "water company, water, city water",
    "gas utility": "gas company, gas",
    "electric utility": "power company, electric company, power",
    "sewer utility": "sewer company, sewer",
    "builder": "contractor, general contractor, gc, superintendent",
    "heating contractor": "hvac, hvac contractor",
    "tested": "turned it, turned, tried, operated, checked",
    "walked": "seen, saw it, looked, visual, inspected",
    "drawing": "plan, plans, blueprint",
    "black steel": "black iron, black pipe, iron, steel",
    "copper L": "copper, type l",
    "copper M": "copper, type m",
    "copper K": "copper, type k",
    "works": "good, ok, okay, fine, yes, holds",
    "stuck": "frozen, seized, stiff, will not turn",
    "leaks": "drips, dripping, weeps",
    "US": "imperial, english, inches, us customary",
    "metric": "si",
}
"""For each word of the record, what else it is called."""

KEYS = {
    "from": "feed, feeds, fed by, fed from, source, supply, supplied by, upstream",
    "to": "drains to, goes to, into, downstream",
    "by": "pipe, pipe size, run, line, length, material, size",
    "kind": "type, sort, what",
    "name": "title, label, description",
    "place": "location, position",
    "where": "location, position",
    "along": "at, distance, position",
    "between": "rooms, joins, from, to",
    "foot": "bottom, from, lower",
    "head": "top, to, upper",
    "cold": "water, cold water, supply, feed, feeds, fed by",
    "hot": "hot water",
    "drain": "waste, drainage",
    "input": "btu, btuh, btus, load, rating, demand",
    "capacity": "gallons, size, volume, rating",
    "setting": "set to, temperature, temp, setpoint",
    "set_to": "setting, set, pressure",
    "static_pressure": "pressure, static, water pressure",
    "equipment": "regulator, prv, pressure regulator, reducing valve, backflow",
    "valves": "valve, shutoff, shutoffs, main, main shutoff",
    "inside_main": "main, main shutoff, shutoff",
    "stop": "valve, shutoff",
    "shutoff": "valve, stop, cock",
    "outline": "size, corners, dimensions, shape",
    "elevation": "height, floor height",
    "at": "point, xy, coordinates",
    "watches": "under, at, location",
    "seen": "checked, inspected, verified, tested",
    "on": "date, when, day",
    "phone": "number, telephone, tel, cell, mobile",
    "note": "comment, comments, remark, remarks, notes",
    "levels": "floors, storeys, stories, level",
    "people": "contacts, phones, numbers",
    "fixtures": "appliances, plumbing",
}
"""For each key of the record, what else people write."""


def word_for(said: str, words: Iterable[str]) -> list[str]:
    """Return those of `words` that are the record's for what somebody called it."""
    return _for(said, words, WORDS)


def key_for(said: str, keys: Iterable[str]) -> list[str]:
    """Return those of `keys` that are the record's for what somebody wrote."""
    return _for(said, keys, KEYS)


def _for(said: str, choices: Iterable[str], names: dict[str, str]) -> list[str]:
    plain = _plain(said)
    return [
        choice
        for choice in choices
        if plain in [_plain(name) for name in names.get(choice, "").split(", ")]
    ]


def _plain(word: str) -> str:
    words = word.strip().lower().replace("_", " ").replace("-", " ")
    return " ".join(words.split())
