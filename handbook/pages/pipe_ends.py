"""How to tell a relief pipe from the other pipes that end over the same drain.

What a stranger can see of each: what it is made of, how wide it is, how high it ends and which way
it comes. A fact that is not recorded is said to be missing; what sets the relief pipe apart is told
only where the record has that fact of every one of them.
"""

from collections.abc import Callable
from dataclasses import dataclass

from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.measures import say_length
from handbook.pages.calls import call
from handbook.pages.content import Block, Go, Line, Para, Table, Tag
from handbook.pages.words import bare, lower, situation
from handbook.record.grammar.common import Ending, each, given
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.safeguards import Pan, Safeguards
from handbook.tables import table

NORMAL: Line = ("That is normal: it is water out of the air.",)
SCALDS: Line = ("Keep away, it can scald. Do what this page says.",)


@dataclass(frozen=True)
class PipeEnd:
    """The end of a pipe, what it comes from and what its dripping means."""

    of: Line
    end: Ending
    means: Line


def pipe_ends(house: House) -> tuple[Block, ...]:
    """A table for each heater whose relief pipe ends where others do; nothing for one alone."""
    made: list[Block] = []
    for heater in each(house.record.heaters):
        others = beside(house, heater)
        end = _relief_end(heater)
        if end and others:
            made += _told(house, PipeEnd(("Relief pipe of ", Tag(heater.id)), end, SCALDS), others)
    return tuple(made)


def beside(house: House, heater: Heater) -> tuple[PipeEnd, ...]:
    """The pipes of pans and of cooling coils that end over the same thing as its relief pipe."""
    end = _relief_end(heater)
    over = end.drain if end else None
    return tuple(other for other in _others(house) if over and other.end.drain == over)


def made_of(end: Ending) -> str:
    """What a pipe is made of, in plain words; empty where it is not recorded."""
    material = end.by.material if end.by else None
    return str(table("plain_names").values.get(material, material or ""))


def _relief_end(heater: Heater) -> Ending | None:
    relief = given(heater.relief)
    return given(relief.discharge) if relief else None


def _others(house: House) -> list[PipeEnd]:
    guards = house.record.safeguards or Safeguards()
    # Common practice, no source: a coil's second drain runs once the first is blocked.
    blocked: Line = ("The first one may be blocked. ", *call(contact(house, "heating contractor")))
    found = [
        (("Drain of pan ", Tag(pan.id)), given(pan.drain), _leaks(house, pan))
        for pan in each(guards.pans)
    ]
    for coil in each(guards.condensate):
        found.append((("Cooling drain ", Tag(coil.id)), given(coil.primary), NORMAL))
        found.append((("Second drain of ", Tag(coil.id)), given(coil.secondary), blocked))
    return [PipeEnd(of, end, means) for of, end, means in found if end]


def _leaks(house: House, pan: Pan) -> Line:
    if pan.under and isinstance(house.items[pan.under].entry, Heater):
        return ("The heater leaks. See ", Go(situation("heater-leaks"), "The water heater leaks"))
    return ("What stands in the pan leaks. See ", Tag(pan.id))


def _told(house: House, relief: PipeEnd, others: tuple[PipeEnd, ...]) -> list[Block]:
    rows = tuple(_row(house, it) for it in (relief, *others))
    over = lower(house.items[relief.end.drain or ""].name)
    caption = f"Pipes that end at the {over}: which one drips?"
    head = ("Pipe", "Made of", "How it comes, and its end", "If it drips")
    apart = _apart(relief, others)
    return [*((Para((apart,)),) if apart else ()), Table(caption, head, rows, (3, 2, 4, 4))]


def _row(house: House, it: PipeEnd) -> tuple[Line, ...]:
    missing = "not recorded"
    size = it.end.by.size.text if it.end.by and it.end.by.size else ""
    pipe = ", ".join(filter(None, (made_of(it.end), size))) or missing
    above = given(it.end.above)
    high = f"ends {say_length(above, house.record.house.units)} above it" if above else ""
    way = "; ".join(filter(None, (bare(it.end.where or ""), high))) or missing
    return it.of, (pipe,), (way,), it.means


def _apart(relief: PipeEnd, others: tuple[PipeEnd, ...]) -> str:
    """What the relief pipe alone has; empty where nothing recorded sets it apart."""
    said = []
    if _alone(relief, others, made_of):
        said.append(f"is the only one of {made_of(relief.end)}")
    heights = [given(it.end.above) for it in (relief, *others)]
    known = [height.inches for height in heights if height]
    if len(known) == len(heights) and known[0] > max(known[1:]):
        said.append("ends the highest")
    return f"The relief pipe {' and '.join(said)}." if said else ""


def _alone(relief: PipeEnd, others: tuple[PipeEnd, ...], fact: Callable[[Ending], str]) -> bool:
    theirs = [fact(it.end) for it in others]
    return bool(fact(relief.end)) and all(theirs) and fact(relief.end) not in theirs
