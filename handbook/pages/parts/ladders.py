"""The ladder of `isolate` as numbered steps: the nearest valves, then what to do if they fail."""

from collections.abc import Iterator

from handbook.answers.has import has
from handbook.answers.isolate import Isolation, Rung, Turn
from handbook.answers.whom import contact
from handbook.house.house import House
from handbook.pages.calls import call
from handbook.pages.content import Block, Line, Para, Step, Steps, Tag
from handbook.pages.parts.phrases import NOT_RECORDED, lost
from handbook.pages.words import sentences

STILL = ("If water still runs:",)


def ladder(house: House, answer: Isolation) -> tuple[Block, ...]:
    """Return the steps that stop a thing, ending with whom to call; assumptions are said below."""
    blocks: list[Block] = []
    if answer.already_off:
        blocks.append(Para(("No water reaches it as the valves stand now.",)))
    else:
        if not answer.ladder:
            blocks.append(Para(("No shutoff that stops it is recorded.",)))
        blocks.append(Steps((*_steps(house, answer), _last(house, answer))))
    if answer.assumed:
        blocks.append(Para((f"Taken for granted here: {' '.join(answer.assumed)}",)))
    return tuple(blocks)


def _steps(house: House, answer: Isolation) -> Iterator[Step]:
    for number, rung in enumerate(answer.shown):
        condition = STILL if number else None
        if rung.utility:
            yield _utility(house, rung, condition)
            continue
        for turn in rung.turns:
            yield _turn(rung, turn, condition, last=turn == rung.turns[-1])
            condition = None
        for said in rung.heater:
            yield Step((sentences(said),))


def _turn(rung: Rung, turn: Turn, condition: Line | None, last: bool) -> Step:
    verb = "Open " if turn.id in rung.open else "Close "
    note = [f"Where: {turn.where or NOT_RECORDED}", f"needs {turn.tool}" if turn.tool else ""]
    note += [turn.limit or ""]
    if last:
        note.append("Also off then: " + (lost(rung.also_off_said) or "nothing else"))
    said = " ".join(sentences(words) for words in note)
    return Step((verb, Tag(turn.id, turn.name), f": {turn.do}."), (said.strip(),), condition)


def _utility(house: House, rung: Rung, condition: Line | None) -> Step:
    """The utility turns its own valve; whoever stands there only needs to know which it is."""
    valve = rung.turns[0]
    note = f"It is theirs; where: {valve.where or NOT_RECORDED}."
    do = (*call(contact(house, "water utility")), "; they close ", Tag(valve.id, valve.name), ".")
    return Step(do, (note,), condition)


def _last(house: House, answer: Isolation) -> Step:
    still = STILL if answer.ladder else None
    on_main = has(house)["public water"] != "no"
    if any(rung.utility for rung in answer.shown) or not on_main:
        return Step((*call(contact(house, "licensed plumber")), "."), None, still)
    do = (*call(contact(house, "water utility")), "; they can close the street.")
    return Step(do, ("No valve of the utility is recorded.",), still)
