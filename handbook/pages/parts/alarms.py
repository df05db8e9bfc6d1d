"""What to do where a leak sensor sounds or water stands in a pan: its own page's steps.

Wet first, dry after: what is watched with the valves within reach, then the main, then whom to
call; then what a sensor needs that sounds without any water.
"""

from collections.abc import Iterator
from typing import Literal

from handbook.answers.has import has
from handbook.answers.isolate import isolate
from handbook.answers.isolating.rungs import Rung
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.house.items import Item
from handbook.pages.calls import call
from handbook.pages.content import Block, Go, Line, Para, Step, Steps, SubHead, Tag
from handbook.pages.parts.phrases import NOT_RECORDED
from handbook.pages.parts.valve import handle_of
from handbook.pages.valves import first, manner
from handbook.pages.watched import Watched, warned_of
from handbook.pages.words import bare, capital, lower, sentences, situation
from handbook.record.grammar.common import given
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.safeguards import Sensor

BACKUP: Line = (
    "Stay out of it and run no water. See ",
    Go(situation("backup"), "A drain backs up"),
)
LOOK = Step(
    (
        "Look from the door. Water near outlets, cords or machines: stay out. See ",
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
    if known.only_cooling:
        return
    yield from _relief(house, known)
    rested: set[str] = set()
    for name in (*known.wet, *known.beside):
        when = (f"If it comes from the {lower(house.items[name].name)}:",)
        rung = first(isolate(house, name))
        yield from _turns(house, rung, when)
        for said in dict.fromkeys(rung.heater if rung else ()):
            if said not in rested:
                rested.add(said)
                heater, _, rest = said.partition(": ")
                hands = "use dry hands, on a dry floor" if "breaker" in rest else ""
                yield Step((f"Then make {heater} safe.",), (sentences(rest, hands),))
    for place, main in enumerate(known.mains):
        when = ("If you do not see where it comes from, and the way is dry:",)
        if place:
            when = (f"If {known.mains[0]} itself leaks:",)
        yield _turn(house, main, "close", when)


def _relief(house: House, known: Watched) -> Iterator[Step]:
    """What is not a leak of the heater's: its relief pipe's drip, at which nothing is closed."""
    heater = any(isinstance(house.items[name].entry, Heater) for name in known.wet)
    if heater and has(house)["relief valve"] != "no":
        page = Go(situation("relief-drips"), "The heater's relief pipe drips")
        when = ("If only the heater's relief pipe drips:",)
        yield Step(("Keep away, and close nothing. See ", page, "."), None, when)


def _turns(house: House, rung: Rung | None, when: Line) -> Iterator[Step]:
    condition: Line | None = when
    for valve in (*rung.close, *rung.open) if rung else ():
        yield _turn(house, valve, "close" if rung and valve in rung.close else "open", condition)
        condition = None


def _turn(house: House, valve: str, way: Literal["close", "open"], when: Line | None) -> Step:
    item = house.items[valve]
    handle = handle_of(item)
    tool = given(handle.tool) if handle else None
    where = f"where: {house.where(valve) or NOT_RECORDED}"
    note = sentences(where, f"take along: {tool}" if tool else "", manner(house, valve, way))
    return Step((f"{capital(way)} ", Tag(valve, item.name), "."), (note,), when)


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
    return (SubHead("If all is dry"), Para((said, " Look again in an hour.")))
