"""The ladder of `isolate`: the nearest valves, then what to do if they fail.

As numbered steps for somebody who stands there with a phone; as a table for the printed book.
"""

from collections.abc import Iterator

from handbook.answers.has import has
from handbook.answers.isolate import Isolation
from handbook.answers.isolating.rungs import Rung, Turn
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.pages.calls import call, numbers
from handbook.pages.content import Block, Go, Line, Para, Step, Steps, SubHead, Tag
from handbook.pages.parts.phrases import NOT_RECORDED, joined, lost, sentence, table
from handbook.pages.words import lower, sentences
from handbook.record.grammar.common import each
from handbook.record.grammar.water import Water

STILL = ("If it will not turn, or water still runs:",)


def ladder(house: House, answer: Isolation, before: tuple[Step, ...] = ()) -> tuple[Block, ...]:
    """Return the steps that stop a thing, those `before` any valve first, ending with whom to
    call; assumptions are said below."""
    blocks: list[Block] = []
    if answer.already_off:
        blocks.append(Para(("No water reaches it as the valves stand now.",)))
        blocks += [Steps(before)] if before else []
    else:
        if not answer.ladder:
            blocks.append(Para(("No shutoff that stops it is recorded.",)))
        blocks.append(Steps((*before, *_steps(house, answer), *_calls(house, answer))))
    return (*blocks, *(Para(line) for line in _below(house, answer)))


def _below(house: House, answer: Isolation) -> Iterator[Line]:
    """What the steps count on, which of them were left out, and what was assumed."""
    if answer.counts_on:
        names = [(Tag(thing),) for thing in answer.counts_on]
        does, which = ("lets", "it") if len(names) == 1 else ("let", "one of them")
        failed = f"if water still runs, {which} may have failed."
        yield ("This counts on ", *joined(names), f", which {does} no water back: {failed}")
    if answer.between:
        told = [_closed(rung) for rung in answer.between]
        yield ("For the plumber, steps in between: ", *joined(told), ".")
    if answer.assumed:
        yield (f"Taken for granted here: {' '.join(answer.assumed)}",)


def _closed(rung: Rung) -> Line:
    """The valves of a step, `W16 with W17`."""
    said: Line = ()
    for valve in (*rung.close, *rung.open):
        said += (" with ",) if said else ()
        said += ("open ", Tag(valve)) if valve in rung.open else (Tag(valve),)
    return said


def _nearer(answer: Isolation) -> Iterator[Step]:
    """What a screwdriver reaches sooner, after the step that needs none."""
    if rung := answer.with_tool:
        tools = " and ".join(rung.tools)
        places = "; ".join(dict.fromkeys(turn.where or NOT_RECORDED for turn in rung.turns))
        note = sentences(places, rung.turns[0].do)
        when = (f"To close less, with a {tools}:",)
        yield Step(("Close ", *_closed(rung), " instead."), (note,), when)


def _steps(house: House, answer: Isolation) -> Iterator[Step]:
    told: set[str] = set()
    for number, rung in enumerate(answer.shown):
        condition = STILL if number else None
        if rung.utility:
            yield _utility(house, rung, condition)
            continue
        heater = [said for said in rung.heater if said not in told]
        for turn in rung.turns:
            after = heater if turn == rung.turns[-1] else None
            yield _turn(rung, turn, condition, after)
            condition = None
        if not number:
            yield from _nearer(answer)
        told.update(rung.heater)


def _turn(rung: Rung, turn: Turn, condition: Line | None, heater: list[str] | None) -> Step:
    """One valve. `heater`: what the water heater then needs, at the last valve of its rung."""
    verb = "Open " if turn.id in rung.open else "Close "
    note = [f"Where: {turn.where or NOT_RECORDED}", f"needs {turn.tool}" if turn.tool else ""]
    note += [turn.limit or "" if condition is None else ""]
    said = " ".join(sentences(words) for words in note)
    if heater is not None:
        said += " " + sentence("Also off then: " + (lost(rung.also_off_said) or "nothing else"))
        said += "".join(f" Then, for {sentences(words)}" for words in heater)
    return Step((verb, Tag(turn.id, turn.name), f": {turn.do}."), (said.strip(),), condition)


def _utility(house: House, rung: Rung, condition: Line | None) -> Step:
    """The utility turns its own valve; whoever stands there only needs to know which it is."""
    valve = rung.turns[0]
    note = f"It is theirs; where: {valve.where or NOT_RECORDED}."
    do = (*call(contact(house, "water utility")), "; they close ", Tag(valve.id, valve.name), ".")
    return Step(do, (note,), condition)


def _calls(house: House, answer: Isolation) -> Iterator[Step]:
    """The water company where no valve of theirs is recorded; then, in any case, the plumber."""
    on_main = has(house)["public water"] != "no"
    if on_main and not any(rung.utility for rung in answer.shown):
        do = (*call(contact(house, "water utility")), "; they can close the street.")
        still = STILL if answer.ladder else None
        supply = house.record.water or Water()
        theirs = any(valve.utility for valve in each(supply.valves))
        yield Step(do, None if theirs else ("No valve of the utility is recorded.",), still)
    yield Step((*call(contact(house, "licensed plumber")), "."), ("Call even if it has stopped.",))


def ladder_table(house: House, answer: Isolation, caption: str) -> tuple[Block, ...]:
    """Return the same ladder as a table, a valve a row.

    Each valve's own page says how it turns, and the part's first page what the heater needs.
    """
    if answer.already_off or not answer.ladder:
        return (SubHead(caption), *ladder(house, answer))
    rows = [
        row for number, rung in enumerate(answer.shown, 1) for row in _rows(house, number, rung)
    ]
    below: list[Line] = []
    if not any(rung.utility for rung in answer.shown):
        below.append(("Once it has stopped: ", *call(contact(house, "licensed plumber")), "."))
    below += _below(house, answer)
    head = ("Tag", "In this order", "Where", "Also off then")
    made = table(
        f"{caption}: the next if one will not turn, or water still runs",
        head,
        rows,
        _WIDTHS,
        tagged=True,
    )
    return (*made, *(Para(line) for line in below))


_WIDTHS = (1, 4.53, 2.31, 3.16)


def _rows(house: House, number: int, rung: Rung) -> Iterator[tuple[Line, ...]]:
    also = (lost(rung.also_off_said) or "nothing else",)
    for turn in rung.turns:
        verb = "open" if turn.id in rung.open else "close"
        item = house.items[turn.id]
        do: Line = (f"{number}. {verb} {lower(turn.name)}",)
        if rung.utility:
            theirs = contact(house, "water utility")
            whom: Line = numbers(theirs) if theirs.phone else ("the water company",)
            do = (f"{number}. theirs: call ", *whom)
        room = house.places.room_name(item.place) or turn.where or NOT_RECORDED
        owner = house.items.get(item.owner or "")
        own_page = owner is None or owner.system != "fixture"
        place: Line = (Go(turn.id, room),) if own_page else (turn.where or room,)
        yield (Tag(turn.id),), do, place, also
