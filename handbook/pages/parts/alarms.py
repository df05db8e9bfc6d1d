"""What to do where a leak sensor sounds or water stands in a pan: its own page's steps.

Wet first, dry after: the main for who does not see what leaks, then a step for each source that
can be seen, then whom to call; then what a sensor needs that sounds without any water. Every step
that is not for everybody opens with its "If", and holds all that belongs to it.
"""

from collections.abc import Iterator

from handbook.answers.isolate import isolate
from handbook.answers.isolating.rungs import Rung
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.calls import call
from handbook.pages.content import Block, Go, Line, Para, Step, Steps, SubHead, Tag
from handbook.pages.heater_first import if_it_sprays, leave_it, relief_drips
from handbook.pages.how_turned import how_they_turn
from handbook.pages.parts.phrases import NOT_RECORDED
from handbook.pages.parts.valve import handle_of
from handbook.pages.valves import first, manner, whole_house
from handbook.pages.watched import Watched, warned_of, wet_heaters
from handbook.pages.whereabouts import whereabouts
from handbook.pages.words import bare, listed, lower, sentences, situation
from handbook.record.grammar.common import given
from handbook.record.grammar.safeguards import Sensor

BACKUP: Line = (
    "Stay out of it and run no water. See ",
    Go(situation("backup"), "A drain backs up"),
)
LOOK = Step(
    (
        "Look from the door. Water near outlets, lamps, cords or the breaker panel: stay out. See ",
        Go(situation("water-and-power"), "Water near outlets or the breaker panel"),
        ".",
    )
)
COOLING: Line = ("Turn the cooling off at its thermostat. No water valve stops it.",)


def alarm_steps(house: House, item: Item) -> tuple[Block, ...]:
    """Return the steps for a sensor or a pan."""
    known = warned_of(house, item.id)
    wet = (LOOK, *_drains(house, known), *_wet(house, known), *_cooling(house, known))
    steps = (*wet, *_shut_by_itself(item), *_calls(house, known))
    return (SubHead("If there is water"), Steps(steps), *_if_dry(item))


def _drains(house: House, known: Watched) -> Iterator[Step]:
    for name in known.drains:
        when = (f"If it comes up from the {lower(house.items[name].name)}:",)
        yield Step((*BACKUP, "."), None, when)


def _wet(house: House, known: Watched) -> Iterator[Step]:
    """The main for who does not see the source; then a step a source, with all its closings."""
    if known.only_cooling:
        return
    yield from _relief(house, known)
    told: set[str] = set()
    sources = _sources(house, known)
    for place, main in enumerate(known.mains):
        same = [] if place else [one for rung, one in sources if _alone(rung, main)]
        when = f"If {known.mains[0]} itself leaks:" if place else _unseen(house, same)
        rung = next((one for one in whole_house(house)[0] if _alone(one, main)), None)
        yield _turn(house, main, (when,), _heaters(rung, told))
    for rung, things in sources:
        if not any(_alone(rung, main) for main in known.mains[:1]):
            when = f"If you see that it comes from the {_either(house, things)}:"
            yield _stop(house, rung, (when,), told)


def _alone(rung: Rung, main: str) -> bool:
    return rung.close == (main,) and not rung.open


def _either(house: House, things: list[str]) -> str:
    return listed((lower(house.items[name].name) for name in things), "or the")


def _unseen(house: House, same: list[list[str]]) -> str:
    """Who closes the main: whoever does not see the source, or sees one that only it stops."""
    also = f" or it comes from the {_either(house, same[0])}," if same else ""
    return f"If you do not see where it comes from,{also} and the way is dry:"


def _sources(house: House, known: Watched) -> list[tuple[Rung, list[str]]]:
    """What stops each source, those alike together; a main that leaks has its own step already."""
    alike: dict[tuple[tuple[str, ...], tuple[str, ...]], tuple[Rung, list[str]]] = {}
    for name in (*known.wet, *known.beside):
        rung = first(isolate(house, name))
        if rung and name not in known.mains:
            alike.setdefault((rung.close, rung.open), (rung, []))[1].append(name)
    return list(alike.values())


def _relief(house: House, known: Watched) -> Iterator[Step]:
    """What comes before any valve at a heater: when to leave, its relief pipe's drip, a spray."""
    heaters = [heater.id for heater in wet_heaters(house, known)]
    if heaters:
        yield leave_it(house)
        yield from relief_drips(house, "the heater's")
    for name in heaters:
        yield from if_it_sprays(house, name, first(isolate(house, name)))


def _stop(house: House, rung: Rung, when: Line, told: set[str]) -> Step:
    """All valves of a source in one step, and what its heater needs after them."""
    after = _heaters(rung, told)
    if len(rung.turns) == 1 and not rung.utility:
        return _turn(house, rung.turns[0].id, when, after)
    do: Line = ("Close ", *_named(house, rung.close))
    if rung.open:
        do += (", then open ", *_named(house, rung.open))
    if rung.utility:
        theirs = call(contact(house, "water utility"))
        do = (*theirs, "; they close ", *_named(house, rung.close))
    where = f"Where: {lower(whereabouts(house, None, rung.close + rung.open))}. "
    return Step((*do, "."), (where, *how_they_turn((rung,)), *after), when)


def _named(house: House, valves: tuple[str, ...]) -> Line:
    said = [(", ", Tag(valve, house.items[valve].name)) for valve in valves]
    return tuple(part for pair in said for part in pair)[1:]


def _heaters(rung: Rung | None, told: set[str]) -> Line:
    """What each heater needs once its water is off; in full where it is said first."""
    said: Line = ()
    for words in dict.fromkeys(rung.heater if rung else ()):
        heater = words.partition(": ")[0]
        said += (f" Then make {heater} safe, as above." if words in told else _safe(words),)
        told.add(words)
    return said


def _safe(said: str) -> str:
    heater, _, rest = said.partition(": ")
    hands = "use dry hands, on a dry floor" if "breaker" in rest else ""
    return f" Then make {heater} safe. {sentences(rest, hands)}"


def _turn(house: House, valve: str, when: Line, after: Line = ()) -> Step:
    item = house.items[valve]
    handle = handle_of(item)
    tool = given(handle.tool) if handle else None
    where = f"where: {house.where(valve) or NOT_RECORDED}"
    note = sentences(where, f"take along: {tool}" if tool else "", manner(house, valve, "close"))
    return Step(("Close ", Tag(valve, item.name), "."), (note, *after), when)


def _cooling(house: House, known: Watched) -> Iterator[Step]:
    if known.cooling:
        when = None if known.only_cooling else ("If it drips from the cooling:",)
        yield Step(COOLING, None, when)
        yield Step((*call(contact(house, "heating contractor")), "."))


def _shut_by_itself(item: Item) -> Iterator[Step]:
    closes = given(item.entry.closes) if isinstance(item.entry, Sensor) else None
    if closes:
        yield Step(
            ("Leave ", Tag(closes), " shut if it has closed by itself."),
            ("Open it again only once it is mended: ", Go(situation("back-on"), "how"), "."),
        )


def _calls(house: House, known: Watched) -> Iterator[Step]:
    if not known.only_cooling:
        yield Step((*call(contact(house, "licensed plumber")), "."), ("Call even if it stopped.",))
    owner = contact(house, "owner")
    if owner.phone:
        yield Step((*call(owner), "."), None, ("If this is not your house:",))


def _if_dry(item: Item) -> tuple[Block, ...]:
    """What a sensor wants that sounds with no water about; a pan wants nothing."""
    if not isinstance(item.entry, Sensor):
        return ()
    cell = given(item.entry.battery)
    kind = bare(cell.kind) if cell and cell.kind else ""
    fresh = f"Put in fresh batteries: {kind}." if kind else "Put in fresh batteries."
    said = f"Dry it. {fresh} A short beep now and then most often means a weak battery."
    return (SubHead("If all is dry, in the cabinets too"), Para((said, " Look again in an hour.")))
