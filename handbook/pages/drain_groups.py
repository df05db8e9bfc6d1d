"""Drains said the way people see them: `all of the hall bath`, not a list of its fixtures."""

from collections.abc import Collection

from handbook.answers.draining.blocked import holders, lowest_held
from handbook.answers.draining.cable_fit import advice
from handbook.answers.draining.cable_way import past_reach
from handbook.answers.draining.cable_words import cable_words, stray_words
from handbook.answers.draining.common_signs import Together
from handbook.answers.draining.fixture_entries import FixtureEntry, closet_auger
from handbook.answers.draining.tries import Try
from handbook.answers.stoppage import Stoppage
from handbook.house.drains import ARM
from handbook.house.house import House
from handbook.measures import Units
from handbook.pages.content import Line, Span, Tag
from handbook.pages.words import listed, lower

EVERY = "all of them"
NOT_RECORDED = "not recorded"
NO_ONE = "no one stretch explains it"
ELSE_UNKNOWN = ". Others not known"
ALL_OF = (("level", "all on the {}"), ("room", "all of the {}"))
PLACES = (("level", "the {}"), ("room", "the {}"))


def group_words(house: House, fixtures: Collection[str]) -> str:
    """Return some fixtures in words, the largest place first: levels, rooms, single ones."""
    drained = list(house.drains.rims)
    if len(drained) > 1 and set(fixtures) == set(drained):
        return EVERY
    return "; ".join(_groups(house, fixtures, ALL_OF))


def _groups(
    house: House, fixtures: Collection[str], named: tuple[tuple[str, str], ...]
) -> tuple[str, ...]:
    """Fixtures by whole levels and rooms, each named in these words; then the single ones."""
    drained = list(house.drains.rims)
    said, left = [], [fixture for fixture in drained if fixture in fixtures]
    for name, words in named:
        place_of = {fixture: _place(house, fixture, name) for fixture in drained}
        for place in dict.fromkeys(place_of[fixture] for fixture in left):
            members = [fixture for fixture in drained if place_of[fixture] == place]
            if place and len(members) > 1 and set(members) <= set(left):
                said.append(words.format(place))
                left = [fixture for fixture in left if fixture not in members]
    return (*said, *_by_room(house, left))


def _place(house: House, fixture: str, what: str) -> str | None:
    place = house.items[fixture].place
    if what == "level":
        return house.places.level_name(place) if len(house.places.levels) > 1 else None
    return house.places.room_name(place)


def _by_room(house: House, fixtures: list[str]) -> list[str]:
    """Several of one room together, the room said once: `toilet, tub (hall bath)`."""
    rooms: dict[str | None, list[str]] = {}
    for fixture in fixtures:
        rooms.setdefault(_place(house, fixture, "room"), []).append(fixture)
    said = []
    for room, here in rooms.items():
        called = [lower(house.items[fixture].name) for fixture in here]
        if room and len(here) > 1:
            called = [name.removesuffix(f", {room}") for name in called]
            said.append(f"{', '.join(called)} ({room})")
        else:
            said += called
    return said


def names(house: House, things: Collection[str]) -> str:
    """Return things by their names, as they stand inside a sentence."""
    return "; ".join(lower(house.items[thing].name) for thing in things)


def comes_up(house: House, answer: Stoppage) -> Line:
    """Return where waste shows first, and where if a valve that holds it back fails."""
    found = answer.shows
    if len(found.candidates) > 1 and set(found.candidates) == set(answer.backs_up):
        return ("any of these",)
    first = listed([lower(house.items[each].name) for each in found.candidates], "or")
    said: Line = (first or NOT_RECORDED,)
    for valve, kept in found.held.items():
        if low := lowest_held(house.drains, kept):
            said += (f"; {lower(house.items[low].name)} if ", *by_name(house, valve))
            said += (" fails",)
    return said


def rises(house: House, answer: Stoppage) -> tuple[Line, Line]:
    """Return the sign that the lowest opening fills when others run, and where that comes up."""
    low, valves = answer.backs_up[0], dict[str, None]()
    for leg in answer.stretches:
        valves |= dict.fromkeys(holders(house.drains, low, leg))
    there: Line = ("at that one",)
    for valve in valves:
        there += ("; ", *by_name(house, valve), " fails then")
    return (f"{house.items[low].name}: rises when another level drains",), there


def on_stacks(house: House, found: Together) -> Line:
    """Return the sign that something on each of two stacks backs up, each side by its stacks."""
    sides: list[tuple[Span, ...]] = []
    for stacks in found.sides:
        tags = [(" or ", Tag(stack, lower(house.items[stack].name))) for stack in stacks]
        sides.append(("some on ", *[span for tag in tags for span in tag][1:]))
    return _two_of(sides)


def on_sides(house: House, found: Together) -> Line:
    """Return the same for an occupant, each side by the places that drain through it."""
    tree = house.drains
    sides: list[tuple[Span, ...]] = []
    for stacks in found.sides:
        through = [f for f in tree.rims if any(stack in tree.downhill(f) for stack in stacks)]
        sides.append((f"some of: {'; '.join(_groups(house, through, PLACES))}",))
    return _two_of(sides)


def _two_of(sides: list[tuple[Span, ...]]) -> Line:
    """Return two sides, or any two of more, as one sign."""
    ahead, between = ((), ". With ") if len(sides) == 2 else (("two of these: ",), ". And ")
    return (*ahead, *[span for side in sides for span in (between, *side)][1:], ELSE_UNKNOWN)


def flap_first(valves: Collection[str]) -> Line:
    """Return what is done at the backwater valves on a cable's way, before it goes in."""
    if not valves:
        return ()
    tags = (span for valve in valves for span in (" and ", Tag(valve)))
    return (" (first, once no waste stands above its lid: open ", *tuple(tags)[1:], ", flap out)")


def strays(each: Try, units: Units) -> str:
    """Return to which flaps a cable may stray on its way; empty where to none."""
    said = "; ".join(stray_words(met, units) for met in each.strays)
    return f" ({said})" if said else ""


def two_ways(answer: Stoppage) -> tuple[Line, ...]:
    """Return what each two-way cleanout tells apart here."""
    found: list[Line] = []
    for each in answer.two_way:
        full, empty = (" or ".join(legs) for legs in (each.standing, each.empty))
        said = f" stands full when its plug is eased: {full}; if it is empty: {empty}"
        found.append(("if ", Tag(each.id), said))
    return tuple(found)


def no_cleanout(house: House, answer: Stoppage) -> tuple[Line, ...]:
    """Return which stretches no fitting cable from a cleanout gets to, and where one goes in."""
    missed = _missed(house, answer)
    if not missed:
        return ()
    said = f"no cable from a cleanout surely reaches {' or '.join(missed)}"
    return ((said,), *in_at_fixtures(house, answer))


def in_at_fixtures(house: House, answer: Stoppage) -> tuple[Line, ...]:
    """Return at which fixtures a cable goes into stretches that none from a cleanout gets to."""
    missed = set(_missed(house, answer))
    ways = [each.within for each in answer.at_fixtures if missed & set(each.reaches)]
    alike: dict[str, list[str]] = {}
    for each in ways:
        alike.setdefault(_in_at(house, each), []).append(lower(house.items[each.id].name))
    return tuple((f"in at {' or '.join(at)}{how}",) for how, at in alike.items())


def _missed(house: House, answer: Stoppage) -> list[str]:
    left = past_reach(answer.stretches, answer.cleanouts)
    return [leg for leg in left if not house.drains.legs[leg].own]


def _in_at(house: House, each: FixtureEntry) -> str:
    """How a cable goes in at a fixture, how far, through what, and which cable."""
    units = house.record.house.units
    auger = f" ({closet_auger().said} first)" if each.auger_first else ""
    far = f"{cable_words(each.near, each.far, units)} from {each.counted_from}"
    return f"{auger}, {each.how}: {far}, {', '.join(each.through)}, {advice(each.steps, units)}"


def by_name(house: House, thing: str) -> Line:
    """Return a thing for an occupant: its name, then its tag for the plumber."""
    return (f"{lower(house.items[thing].name)} (", Tag(thing), ")")


def blocked_by_name(house: House, answer: Stoppage) -> Line:
    """Return what can be blocked for an occupant: names first, each with its tag."""
    said: Line = ()
    for leg in answer.stretches:
        said += ("; ",) if said else ()
        said += (own_words(house, leg),) if house.drains.legs[leg].own else by_name(house, leg)
    return said or (NO_ONE,)


def blocked(house: House, answer: Stoppage) -> Line:
    """Return what can be blocked: stretches by tag and name, a fixture's own as its trap."""
    said: Line = ()
    for leg in answer.stretches:
        said += ("; ",) if said else ()
        own = house.drains.legs[leg].own
        said += (own_words(house, leg) if own else Tag(leg, lower(house.items[leg].name)),)
    return said or (NO_ONE,)


def own_words(house: House, leg: str) -> str:
    """A fixture's own part of the way out: its trap, as a rule."""
    kind = house.drains.legs[leg].kind
    return f"the {'trap' if kind == ARM else kind} of: {lower(house.items[leg].name)}"
